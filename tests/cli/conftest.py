"""A folder with a small checklist and an inspection of it, and a way to run commands there."""

from __future__ import annotations

import io
import json
from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import pytest

from tailblock.cli.app import main
from tailblock.knowledge.loader import load

if TYPE_CHECKING:
    from pathlib import Path

    from tailblock.knowledge.checklist import Checklist

SMALL = """\
tailblock: 1
id: small
title: A small checklist
version: 1.0.0
parts: [{id: bridge, name: Bridge}, {id: neck, name: Neck}]
traits:
  - {id: bracing, ask: "Which bracing?", how: Look through the soundhole.,
     texts: {ladder: bars straight across},
     values: [x, ladder, unknown], shares: {x: 0.85, ladder: 0.15}}
  - {id: bridge, ask: "Which bridge?", values: [pin, pinless], default: pin}
  - {id: body-join, ask: "At which fret does the body begin?", values: ["12", "14"]}
setups:
  states: {strings: ["off", slack, at-pitch]}
stages:
  - {id: arrival, name: Arrival, budget: 8 min, opening: [bridge-light, bridge-creak]}
  - {id: first-stringing, name: First stringing, budget: 20 min}
faults:
  - {id: bridge-lifting, part: bridge, name: Bridge lifting, plain: The bridge is coming off.,
     alone: seldom, harm: serious, pace: months, under_tension: danger, sources: [memory]}
  - {id: pin-holes-worn, part: bridge, name: Worn pin holes, plain: The pin holes are worn.,
     alone: seldom, harm: serious, pace: years, under_tension: fine, sources: [memory],
     applies_when: {bridge: pin}, no_remedy: Nobody minds.,
     caused_by: [{fault: bridge-lifting, strength: often}]}
  - {id: neck-bow, part: neck, name: Neck bowed, plain: The neck is bent., alone: sometimes,
     harm: playability, pace: years, under_tension: watch, no_remedy: Played in., sources: [memory]}
checks:
  - id: bridge-light
    part: bridge
    title: Shine along the bridge edge
    ask: Does light show under the edge?
    how: Hold a lamp behind the bridge.
    tools: [lamp]
    minutes: 1
    choices:
      - {level: none, text: No gap}
      - {level: slight, text: At a corner}
      - {level: marked, text: A gap}
    shows: [{fault: bridge-lifting, at_least: {slight: usually, marked: often}}]
    otherwise: {slight: rarely, marked: very-rarely}
    trap: Glue in the corner shines too.
    look_alike: A shadow of the lamp.
    wait: a minute for the lamp
    sources: [memory]
  - {id: bridge-creak, part: bridge, title: Does it creak, ask: "Has it creaked?", how: Ask.,
     minutes: 1, asked: player, sources: [memory],
     choices: [{level: never, text: Never}, {level: once, text: Once or more}],
     shows: [{fault: bridge-lifting, at_least: {once: sometimes}}]}
  - id: bridge-feeler
    part: bridge
    title: Feel for an open seam
    ask: How far does the feeler go in?
    how: Slide it along the back edge.
    tools: [feeler gauge]
    minutes: 2
    setup: {strings: [slack, "off"]}
    measure:
      quantity: length
      unit: mm
      possible: {from: 0 mm, to: 30 mm}
      gauge: {resolution: 0.5 mm, repeatability: 0.5 mm}
      levels: [{level: shut, up_to: 0.5 mm}, {level: slight, up_to: 3 mm}, {level: open}]
    shows: [{fault: bridge-lifting, at_least: {slight: almost-always, open: often}}]
    otherwise: {slight: very-rarely, open: very-rarely}
    cautions: [string-tension]
    sources: [memory]
  - {id: pin-look, part: bridge, title: Look at the pin holes, ask: "Are they round?", how: Look.,
     minutes: 1, applies_when: {bridge: pin}, sources: [memory],
     choices: [{level: round, text: Round}, {level: worn, text: Worn}],
     shows: [{fault: pin-holes-worn, at_least: {worn: usually}}]}
  - id: relief
    part: neck
    title: Measure the relief
    ask: How large is the gap in the middle?
    how: Press the string at both ends.
    minutes: 2
    setup: {strings: at-pitch}
    measure:
      quantity: length
      unit: mm
      possible: {from: -2 mm, to: 5 mm}
      gauge: {resolution: 0.05 mm, repeatability: 0.05 mm}
      normal: {from: 0.1 mm, to: 0.3 mm}
      levels_low: [{level: low}]
      levels_high: [{level: high}]
    shows: [{fault: neck-bow, at_least_high: {high: usually}}]
    sources: [memory]
  - id: neck-sight
    part: neck
    title: Sight along the neck
    ask: How far is it bent?
    how: Look from the head.
    minutes: 1
    measure: &bend
      quantity: length
      unit: mm
      possible: {from: -2 mm, to: 5 mm}
      gauge: {resolution: 0.2 mm, repeatability: 0.2 mm}
      levels: [{level: little, up_to: 0.5 mm}, {level: much}]
    shows: [{fault: neck-bow, at_least: {much: sometimes}}]
    sources: [memory]
  - id: neck-change
    part: neck
    title: Bend between slack and pitch
    ask: How much does it move?
    derived: relief_change
    from:
      pitch: {check: neck-sight, setup: {strings: at-pitch}}
      slack: {check: neck-sight, setup: {strings: slack}}
    measure: *bend
    shows: [{fault: neck-bow, at_least: {much: sometimes}}]
    sources: [memory]
remedies:
  - {id: bridge-reglue, part: bridge, name: Reglue the bridge, plain: Glue it., reversible: true,
     fixes: [{fault: bridge-lifting, how_well: usually}], hours: {low: 2, likely: 3, high: 6},
     sources: [memory]}
cautions:
  - {id: string-tension, title: Strings under tension, hazard: tension, text: A string can whip.,
     controls: [Wear glasses.], sources: [memory]}
sources: [{id: memory, kind: memory, citation: From memory, seen: from-memory}]
"""

JOB = """\
tailblock: 1
job: "0012"
checklist: small
instrument: {description: a small guitar, traits: {bracing: x, bridge: pin, body-join: 14}}
visits:
  - stage: arrival
    date: 2021-03-02   # a cold day
    setup: {strings: slack}
    readings: []
"""


@dataclass(frozen=True)
class Ran:
    """What a command line came to."""

    code: int
    out: str
    err: str

    @property
    def data(self) -> dict[str, Any]:
        """Return its answer as plain data."""
        data: dict[str, Any] = json.loads(self.out)
        return data


Run = Callable[..., Ran]


@pytest.fixture
def shop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return a folder with a checklist and the file `job.yaml`, and stand in it."""
    folder = tmp_path / "checklists" / "small"
    folder.mkdir(parents=True)
    (folder / "checklist.yaml").write_text(SMALL, encoding="utf-8")
    (tmp_path / "job.yaml").write_text(JOB, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("TAILBLOCK_CHECKLISTS", raising=False)
    monkeypatch.delenv("NO_COLOR", raising=False)
    return tmp_path


@pytest.fixture
def run(shop: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Run:
    """Return a runner of command lines in the shop; `said` is what a person says, line by line."""

    def command(*words: str, said: str = "") -> Ran:
        monkeypatch.setattr("sys.stdin", io.StringIO(said))
        capsys.readouterr()
        code = main(words)
        out, err = capsys.readouterr()
        return Ran(code, out, err)

    return command


@pytest.fixture(scope="session")
def small(tmp_path_factory: pytest.TempPathFactory) -> Checklist:
    """Return the checklist of the shop."""
    folder = tmp_path_factory.mktemp("small")
    (folder / "checklist.yaml").write_text(SMALL, encoding="utf-8")
    loaded = load(folder)
    assert loaded.checklist is not None, "\n".join(map(str, loaded.problems))
    return loaded.checklist
