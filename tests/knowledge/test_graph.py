"""What a graph of a part or of a fault holds."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tailblock.knowledge.graph import (
    Arrow,
    Graph,
    NotInTheChecklist,
    graph_of_fault,
    graph_of_part,
)

if TYPE_CHECKING:
    from collections.abc import Callable

    from tailblock.knowledge.checklist import Checklist

HINGE = """\
tailblock: 1
id: hinge
title: Hinge
version: 1.0.0
parts: [{id: top, name: Top}, {id: bridge, name: Bridge}]
traits: [{id: bracing, ask: Which?, values: [x, ladder]}]
faults:
  - {id: heat, part: top, name: Heat, plain: P, kind: event, alone: seldom, harm: serious,
     pace: stable, under_tension: fine}
  - {id: brace, part: top, name: Brace, plain: P, alone: seldom, harm: serious, pace: years,
     under_tension: fine, caused_by: [{fault: heat, strength: often}]}
  - {id: hump, part: top, name: Hump, plain: P, alone: rarely, harm: serious, pace: years,
     under_tension: fine,
     caused_by: [{fault: brace, strength: usually, when: {bracing: ladder}}]}
  - {id: lifting, part: bridge, name: Lifting, plain: P, alone: rarely, harm: destructive,
     pace: years, under_tension: danger,
     caused_by: [{fault: hump, strength: sometimes}, {fault: heat, strength: seldom}]}
  - {id: torn, part: bridge, name: Torn, plain: P, alone: rarely, harm: none,
     pace: years, under_tension: fine, caused_by: [{fault: lifting, strength: often}]}
symptoms:
  - {id: gap, part: bridge, name: Gap, alone: rarely, caused_by: [{fault: lifting, strength: 0.98}]}
checks:
  - {id: lamp, part: bridge, title: Lamp, ask: A, how: H, minutes: 1,
     choices: [{level: shut, text: N}, {level: slight, text: S}, {level: open, text: Y}],
     shows: [{symptom: gap, at_least: {slight: usually, open: often}},
             {fault: hump, at_least: {slight: seldom}}]}
  - {id: c-creak, part: bridge, title: It creaks, ask: A, how: H, minutes: 0.5, asked: player,
     choices: [{level: "no", text: N}, {level: "yes", text: Y}],
     shows: [{fault: lifting, at_least: {"yes": sometimes}}]}
  - {id: knock, part: top, title: Knock, ask: A, how: H, minutes: 1,
     choices: [{level: "no", text: N}, {level: "yes", text: Y}],
     shows: [{fault: brace, at_least: {"yes": often}}]}
remedies:
  - {id: reglue, part: bridge, name: Reglue, plain: P, fixes: [{fault: lifting, how_well: usually}],
     hours: {low: 1, likely: 2.5, high: 3}, reversible: true}
  - {id: rebrace, part: top, name: Rebrace, plain: P, fixes: [{fault: brace, how_well: usually}],
     hours: {low: 1, likely: 2, high: 3}, reversible: true}
"""


@pytest.fixture
def hinge(checklist: Callable[..., Checklist]) -> Checklist:
    return checklist(HINGE, "hinge")


def said(graph: Graph) -> list[str]:
    return [f"{arrow.source} {arrow.word} {arrow.target}" for arrow in graph.arrows]


def test_a_fault_stands_between_its_causes_and_what_shows_it(hinge: Checklist) -> None:
    graph = graph_of_fault(hinge, "lifting")
    assert sorted(graph.boxes) == sorted(
        ["hump", "heat", "lifting", "torn", "gap", "lamp", "c-creak", "reglue"]
    )
    assert sorted(said(graph)) == sorted(
        [
            "hump sometimes lifting",
            "heat seldom lifting",
            "lifting often torn",
            "lifting almost-always gap",  # 0.98 is nearest to that word
            "gap usually lamp",  # at least the mildest sign
            "lifting sometimes c-creak",
            "reglue usually lifting",
        ]
    )
    assert [arrow.mends for arrow in graph.arrows if arrow.source == "reglue"] == [True]
    assert [box.id for box in graph.boxes.values() if box.main] == ["lifting"]


def test_what_one_wants_to_know_of_a_box_stands_in_it(hinge: Checklist) -> None:
    boxes = graph_of_fault(hinge, "lifting").boxes
    assert {id_: box.about for id_, box in boxes.items()} == {
        "heat": "event, serious, top",
        "hump": "fault, serious, top",
        "lifting": "fault, destructive",
        "torn": "fault, harmless, bridge",
        "gap": "symptom, bridge",
        "lamp": "check, 1 min",
        "c-creak": "complaint, 0.5 min",
        "reglue": "remedy, 2.5 h",
    }


def test_deeper_it_goes_further_back_along_the_causes(hinge: Checklist) -> None:
    assert "brace" not in graph_of_fault(hinge, "lifting", 1).boxes
    deeper = graph_of_fault(hinge, "lifting", 2)
    assert Arrow("brace", "hump", 0.8, "usually, if bracing ladder") in deeper.arrows
    assert "heat often brace" in said(deeper)
    assert "hump" not in graph_of_fault(hinge, "lifting", 0).boxes


def test_a_part_has_its_faults_and_symptoms_and_their_causes_elsewhere(hinge: Checklist) -> None:
    graph = graph_of_part(hinge, "bridge")
    assert {id_ for id_, box in graph.boxes.items() if box.main} == {"lifting", "torn", "gap"}
    assert graph.boxes.keys() - {"lifting", "torn", "gap"} == {"hump", "heat"}
    assert "lifting almost-always gap" in said(graph)


@pytest.mark.parametrize(
    ("kind", "given", "said"),
    [
        ("fault", "liftin", "there is no fault 'liftin' in hinge (did you mean `lifting`?)"),
        ("part", "brigde", "there is no part 'brigde' in hinge (did you mean `bridge`?)"),
        ("part", "zz", "there is no part 'zz' in hinge (there is top, bridge)"),
    ],
)  # fmt: skip
def test_an_unknown_name_gets_the_nearest_one(
    kind: str, given: str, said: str, hinge: Checklist
) -> None:
    graph_of = {"fault": graph_of_fault, "part": graph_of_part}[kind]
    with pytest.raises(NotInTheChecklist) as caught:
        graph_of(hinge, given)
    assert str(caught.value) == said
