"""A checklist of one bridge and one neck, and a writer of vignettes for it."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

import pytest

from tailblock.knowledge.loader import load

if TYPE_CHECKING:
    from pathlib import Path

    from tailblock.knowledge.checklist import Checklist

CHECKLIST = """\
tailblock: 1
id: bench
title: A bridge and a neck
version: 1.0.0
parts: [{id: bridge, name: Bridge}, {id: neck, name: Neck}]
traits:
  - {id: bridge, ask: "Which bridge?", values: [pin, pinless], default: pin}
setups:
  states: {strings: ["off", slack, at-pitch]}
  moves: [{from: {strings: at-pitch}, to: {strings: slack}, minutes: 3},
    {from: {strings: slack}, to: {strings: at-pitch}, minutes: 8}]
stages: [{id: arrival, name: Arrival, budget: 12 min, opening: [smell]}]
faults:
  - {id: bridge-lifting, part: bridge, name: Bridge lifting, plain: It comes off., alone: sometimes,
     harm: serious, pace: months, under_tension: danger, sources: [memory]}
  - {id: neck-bow, part: neck, name: Neck bowed, plain: The neck is bent., alone: seldom,
     harm: playability, pace: years, under_tension: watch, sources: [memory]}
  - {id: ledge, part: bridge, name: Ledge by design, plain: It was made so., alone: seldom,
     harm: none, pace: stable, under_tension: fine, rivals: [bridge-lifting], no_remedy: None.,
     sources: [memory]}
  - {id: fall, part: neck, name: It fell, plain: It fell., kind: event, alone: seldom,
     harm: serious, pace: stable, under_tension: fine, sources: [memory]}
checks:
  - {id: smell, part: bridge, title: Smell, ask: "Does it smell?", how: Sniff., minutes: 1,
     choices: [{level: wood, text: Wood}, {level: sour, text: Sour}], sources: [memory],
     shows: [{fault: fall, at_least: {sour: rarely}}]}
  - {id: edge-look, part: bridge, title: Look at the edge, ask: "Is there light?", how: Look.,
     minutes: 1, choices: [{level: dark, text: Dark}, {level: light, text: Light}],
     shows: [{fault: bridge-lifting, at_least: {light: almost-always}}], sources: [memory]}
  - {id: ledge-look, part: bridge, title: Even all round, ask: "Is it even?", how: Look.,
     minutes: 1, choices: [{level: uneven, text: Uneven}, {level: even, text: Even}],
     shows: [{fault: ledge, at_least: {even: almost-always}}], otherwise: {even: very-rarely},
     sources: [memory]}
  - {id: edge-warm, part: bridge, title: Warm the edge, ask: "Does the glue give?", how: Warm it.,
     minutes: 1, risk: heat, choices: [{level: holds, text: It holds}, {level: gives, text: Gives}],
     shows: [{fault: bridge-lifting, at_least: {gives: almost-always}}], sources: [memory]}
  - {id: neck-load, part: neck, title: Load the neck, ask: "Does it give?", how: Press., minutes: 1,
     loads: true, choices: [{level: firm, text: Firm}, {level: gives, text: It gives}],
     shows: [{fault: neck-bow, at_least: {gives: usually}}], sources: [memory]}
  - id: relief
    part: neck
    title: Measure the relief
    ask: How large is the gap?
    how: Press the string at both ends.
    minutes: 2
    setup: {strings: at-pitch}
    measure:
      quantity: length
      unit: mm
      possible: {from: 0 mm, to: 5 mm}
      gauge: {resolution: 0.05 mm, repeatability: 0.05 mm}
      levels: [{level: small, up_to: 0.3 mm}, {level: large}]
    shows: [{fault: neck-bow, at_least: {large: almost-always}}]
    otherwise: {large: very-rarely}
    sources: [memory]
remedies:
  - {id: bridge-reglue, part: bridge, name: Reglue the bridge, plain: Glue it., reversible: true,
     fixes: [{fault: bridge-lifting, how_well: usually}], hours: {low: 2, likely: 3, high: 6},
     hazards: [heat], cautions: [hot], sources: [memory]}
  - {id: rod-adjust, part: neck, name: Set the rod, plain: Turn it., reversible: true,
     fixes: [{fault: neck-bow, how_well: usually}], hours: {low: 0.1, likely: 0.2, high: 0.5},
     sources: [memory]}
cautions:
  - {id: hot, title: Hot tools, hazard: heat, text: They burn., controls: [Gloves.],
     sources: [memory]}
sources: [{id: memory, kind: memory, citation: From memory, seen: from-memory}]
"""

VIGNETTE = """\
title: A bridge that lifts
written: bench
instrument: {scale_length: 648 mm, traits: {bridge: pin}}
setup: {strings: slack}
readings:
  - {check: edge-look, value: light}
expect:
  leads: [bridge-lifting]
  among_first_three: [bridge-lifting]
  never: [bring-to-pitch]
  next_among: [edge-warm, ledge-look]
why: Light under the edge of a bridge that is not a ledge.
"""

Write = Callable[..., "Path"]


@pytest.fixture(scope="session")
def bench(tmp_path_factory: pytest.TempPathFactory) -> Checklist:
    """Return the checklist of this folder's tests."""
    folder = tmp_path_factory.mktemp("shelf") / "bench"
    folder.mkdir()
    (folder / "checklist.yaml").write_text(CHECKLIST, encoding="utf-8")
    loaded = load(folder)
    assert loaded.checklist is not None, "\n".join(map(str, loaded.problems))
    return loaded.checklist


@pytest.fixture
def write(tmp_path: Path) -> Write:
    """Return a writer of vignettes: `VIGNETTE` with some text replaced."""

    def to_file(old: str = "", new: str = "", *, name: str = "case.yaml") -> Path:
        assert old in VIGNETTE
        path = tmp_path / name
        path.write_text(VIGNETTE.replace(old, new) if old else VIGNETTE, encoding="utf-8")
        return path

    return to_file
