"""What names an entry of a checklist, and in which way."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tailblock.knowledge.dependents import NoSuchEntry, dependents, kinds_of

if TYPE_CHECKING:
    from collections.abc import Callable

    from tailblock.knowledge.checklist import Checklist

BRIDGE = """\
tailblock: 1
id: small
title: One bridge
version: 1.0.0
parts: [{id: bridge, name: Bridge}]
traits: [{id: bridge, ask: Which bridge?, values: [pin, pinless]}]
setups: {states: {strings: ["off", slack, at-pitch]}}
stages: [{id: arrival, budget: 12 min, opening: [look]}]
faults:
  - {id: heated, part: bridge, name: Heated, plain: It was hot., kind: event, alone: seldom,
     harm: none, pace: stable, under_tension: fine, sources: [memory]}
  - {id: lifting, part: bridge, name: Lifting, plain: It comes off., alone: seldom, harm: serious,
     pace: months, under_tension: danger, caused_by: [{fault: heated, strength: often}],
     alone_when: [{when: {bridge: pin}, shift: 1}], sources: [memory]}
symptoms:
  - {id: gap, part: bridge, name: Gap, alone: rarely, sources: [memory],
     caused_by: [{fault: lifting, strength: almost-always}]}
checks:
  - {id: look, part: bridge, title: Look, ask: Light?, how: Look., minutes: 1, sources: [memory],
     choices: [{level: none, text: No}, {level: light, text: Yes}],
     shows: [{symptom: gap, at_least: {light: usually}}]}
  - {id: feel, part: bridge, title: Feel, ask: Paper?, how: Slide it., minutes: 1,
     sources: [memory], follows: {check: look, from: light},
     choices: [{level: none, text: No}, {level: in, text: Yes}],
     shows: [{symptom: gap, at_least: {in: usually}}]}
  - {id: press, part: bridge, title: Press, ask: Does it move?, how: Press., minutes: 1,
     sources: [memory], choices: [{level: firm, text: No}, {level: moves, text: Yes}],
     shows: [{fault: lifting, at_least: {moves: sometimes}}]}
remedies:
  - {id: reglue, part: bridge, name: Reglue, plain: Glue it., reversible: true, sources: [memory],
     fixes: [{fault: lifting, how_well: usually}], hours: {low: 1, likely: 2, high: 3},
     may_reveal: [{fault: heated, chance: seldom}], watch: {check: feel, after: 6 months}}
sources: [{id: memory, kind: memory, citation: From memory, seen: from-memory}]
"""


@pytest.mark.parametrize(
    ("kind", "entry", "named"),
    [
        (
            "fault",
            "lifting",
            [
                ("shows as the symptom", "symptom", "gap"),
                ("shown by", "check", "press"),
                ("mended by", "remedy", "reglue"),
                ("shown through gap by", "check", "look"),
                ("shown through gap by", "check", "feel"),
            ],
        ),
        (
            "fault",
            "heated",
            [("brings about", "fault", "lifting"), ("may be revealed by", "remedy", "reglue")],
        ),
        ("symptom", "gap", [("shown by", "check", "look"), ("shown by", "check", "feel")]),
        ("check", "look", [
            ("followed by", "check", "feel"),
            ("in the opening of", "stage", "arrival"),
        ]),
        ("check", "feel", [("looked at again after", "remedy", "reglue")]),
        ("check", "press", []),
        ("remedy", "reglue", []),
        ("trait", "bridge", [("decides over", "fault", "lifting")]),
    ],
)  # fmt: skip
def test_what_names_an_entry(
    kind: str,
    entry: str,
    named: list[tuple[str, str, str]],
    checklist: Callable[..., Checklist],
) -> None:
    found = dependents(checklist(BRIDGE), kind, entry)
    assert sorted((each.how, each.kind, each.id) for each in found) == sorted(named)


def test_a_source_is_named_once_by_each_that_rests_on_it(
    checklist: Callable[..., Checklist],
) -> None:
    found = dependents(checklist(BRIDGE), "source", "memory")
    assert {each.how for each in found} == {"source of"}
    assert [each.id for each in found] == [
        "heated", "lifting", "gap", "look", "feel", "press", "reglue",
    ]  # fmt: skip


def test_an_id_may_be_a_part_and_a_trait(checklist: Callable[..., Checklist]) -> None:
    assert kinds_of(checklist(BRIDGE), "bridge") == ("part", "trait")


def test_an_id_that_is_not_there_is_refused_with_what_is_near(
    checklist: Callable[..., Checklist],
) -> None:
    with pytest.raises(NoSuchEntry, match=r"no entry 'liftin' in small \(did you mean `lifting`"):
        kinds_of(checklist(BRIDGE), "liftin")
