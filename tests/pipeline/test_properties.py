"""What holds of a whole examination, from the written file to the probabilities."""

from __future__ import annotations

import random
import re
from typing import TYPE_CHECKING

import numpy as np
import pytest

from tailblock.knowledge.library import Shelves
from tailblock.knowledge.ready import open_checklist
from tailblock.pipeline import Contradiction, examine, open_inspection

if TYPE_CHECKING:
    from pathlib import Path

    from tailblock.pipeline import Examined

CHECKLIST = """\
tailblock: 1
id: heads
title: Heads
version: 1.0.0
parts: [{id: head, name: Head}]
stages: [{id: arrival, budget: 20 min}]
sources: [{id: memory, kind: memory, citation: From memory, seen: from-memory}]
faults:
  - {id: fall, part: head, name: A fall, plain: It fell., alone: sometimes, harm: none,
     kind: event, pace: stable, under_tension: fine, sources: [memory]}
  - {id: crack, part: head, name: Crack, plain: A crack., alone: rarely, harm: serious,
     pace: stable, under_tension: danger, sources: [memory],
     caused_by: [{fault: fall, strength: often}]}
  - {id: chip, part: head, name: Chip, plain: A chip., alone: seldom, harm: cosmetic,
     pace: stable, under_tension: fine, sources: [memory],
     caused_by: [{fault: fall, strength: usually}]}
checks:
  - {id: story, part: head, title: Ask, ask: Did it fall?, how: Ask., minutes: 1, asked: player,
     choices: [{level: none, text: No}, {level: hit, text: Yes}], sources: [memory],
     shows: [{fault: fall, at_least: {hit: often}}]}
  - {id: lamp, part: head, title: Lamp, ask: A line?, how: Shine., minutes: 1, sources: [memory],
     choices: [{level: none, text: No}, {level: line, text: Yes}], otherwise: {line: 1.0e-300},
     shows: [{fault: crack, at_least: {line: usually}}]}
  - {id: knock, part: head, title: Knock, ask: A rattle?, how: Knock., minutes: 2,
     choices: [{level: none, text: No}, {level: dull, text: Dull}, {level: loose, text: Loose}],
     shows: [{fault: crack, at_least: {dull: often, loose: seldom}}], sources: [memory]}
  - {id: edge, part: head, title: Edge, ask: A nick?, how: Feel., minutes: 1, sources: [memory],
     choices: [{level: none, text: No}, {level: nick, text: Yes}],
     shows: [{fault: chip, at_least: {nick: usually}}]}
remedies:
  - {id: glue, part: head, name: Glue, plain: Glue it., reversible: false, sources: [memory],
     fixes: [{fault: crack, how_well: usually}, {fault: chip, how_well: often}],
     hours: {low: 1, likely: 1, high: 2}}
"""
INSPECTION = """\
tailblock: 1
job: "1"
checklist: heads
instrument: {description: one, traits: {}}
visits:
  - stage: arrival
    date: 2031-03-02
"""
READ = ["{check: story, value: hit}", "{check: knock, value: dull}", "{check: edge, value: none}"]


def examined(folder: Path, readings: list[str], more: str = "", text: str = CHECKLIST) -> Examined:
    home = folder / "checklists" / "heads"
    home.mkdir(parents=True, exist_ok=True)
    (home / "checklist.yaml").write_text(text, encoding="utf-8")
    file = folder / "one.yaml"
    listed = "".join(f"      - {reading}\n" for reading in readings)
    file.write_text(f"{INSPECTION}    readings:\n{listed}{more}", encoding="utf-8")
    return examine(*open_inspection(file, lambda id_: open_checklist(id_, Shelves(beside=folder))))


def believed(found: Examined) -> dict[str, float]:
    return {cause.id: cause.probability for cause in found.causes}


@pytest.mark.parametrize("seed", range(5))
def test_the_order_of_the_readings_in_the_file_does_not_matter(tmp_path: Path, seed: int) -> None:
    mixed = random.Random(seed).sample(READ, len(READ))
    found = believed(examined(tmp_path, mixed))
    assert found == pytest.approx(believed(examined(tmp_path, READ)), abs=1e-12)


@pytest.mark.parametrize("place", range(4))
def test_unknown_changes_nothing(tmp_path: Path, place: int) -> None:
    told = [*READ[:place], "{check: lamp, value: unknown}", *READ[place:]]
    assert believed(examined(tmp_path, told)) == believed(examined(tmp_path, READ))
    # nor does it take an answer back
    again = [*READ, "{check: knock, value: unknown}"]
    assert believed(examined(tmp_path, again)) == believed(examined(tmp_path, READ))


def test_other_names_in_another_order_change_nothing(tmp_path: Path) -> None:
    names = {"fall": "z-blow", "crack": "a-split", "chip": "m-nick", "knock": "b-rap",
             "edge": "y-rim", "story": "c-tale", "heads": "tops"}  # fmt: skip

    def renamed(text: str) -> str:
        word = re.compile(rf"\b({'|'.join(names)})\b(?=[,}}\]\n])")
        return word.sub(lambda found: names[found[1]], text).replace("tops", "heads")

    lines = renamed(CHECKLIST)
    first, rest = lines.split("checks:\n")
    checks, last = rest.split("remedies:\n")
    entries = re.findall(r"  - .*?(?=\n  - |\n\Z)", checks, re.DOTALL)
    assert len(entries) == 4
    turned = f"{first}checks:\n{chr(10).join(reversed(entries))}\nremedies:\n{last}"
    found = believed(examined(tmp_path, [renamed(f"{one}\n").strip() for one in READ], text=turned))
    as_before = {names[id_]: p for id_, p in believed(examined(tmp_path, READ)).items()}
    assert found == pytest.approx(as_before, abs=1e-12)


def test_a_contradiction_names_the_readings_that_make_it_and_no_other(tmp_path: Path) -> None:
    lamp = "{check: lamp, value: line}"
    seen = "    confirmed: [{fault: crack, present: false}, {fault: chip, present: true}]\n"
    with pytest.raises(Contradiction) as caught:
        examined(tmp_path, [*READ[:2], lamp], seen)
    assert caught.value.named == ("lamp on 2031-03-02", "crack confirmed as absent")
    assert "nan" not in str(caught.value).lower()
    assert str(caught.value).endswith(
        "one.yaml: lamp on 2031-03-02, crack confirmed as absent: these contradict each other, the "
        "checklist allows no instrument with all of them (look again, and retract the one that is "
        "wrong)"
    )
    without = examined(tmp_path, READ[:2], seen)
    assert np.isfinite(list(believed(without).values())).all()
