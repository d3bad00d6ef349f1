"""From YAML to probabilities: a bridge and what moves it, against an enumeration made elsewhere.

The expected numbers are those of a separate program that enumerated all 65,536 states of this
network, straight from the words below; they are no published values, and the words are bench
judgement from memory.
"""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

import pytest

from tailblock.inference import Reasoner
from tailblock.network import Evidence, VisitSkeleton, compile_network

if TYPE_CHECKING:
    from collections.abc import Callable

    from tailblock.knowledge.checklist import Checklist


def fault(entry: str, alone: str, **causes: str | float) -> str:
    listed = ", ".join(
        f"{{fault: {cause.replace('_', '-')}, strength: {strength}}}"
        for cause, strength in causes.items()
    )
    return (
        f"  - {{id: {entry}, part: body, name: {entry}, plain: {entry}., alone: {alone}, "
        f"harm: serious, pace: months, under_tension: watch, sources: [m], "
        f"caused_by: [{listed}]}}\n"
    )


def symptom(entry: str, alone: str, **causes: str | float) -> str:
    listed = ", ".join(
        f"{{fault: {cause.replace('_', '-')}, strength: {strength}}}"
        for cause, strength in causes.items()
    )
    return (
        f"  - {{id: {entry}, part: body, name: {entry}, alone: {alone}, "
        f"sources: [m], caused_by: [{listed}]}}\n"
    )


def check(entry: str, levels: int, *shows: str) -> str:
    choices = ", ".join(f"{{level: l{level}, text: level {level}}}" for level in range(levels + 1))
    return (
        f"  - {{id: {entry}, part: body, title: {entry}, ask: What?, how: Look., minutes: 1, "
        f"sources: [m], choices: [{choices}], shows: [{', '.join(shows)}]}}\n"
    )


def link(kind: str, target: str, *words: str) -> str:
    chances = ", ".join(f"l{level}: {word}" for level, word in enumerate(words, 1))
    return f"{{{kind}: {target}, at_least: {{{chances}}}}}"


AA, U, O, S, Sd, R = "almost-always", "usually", "often", "sometimes", "seldom", "rarely"  # noqa: E741
BRIDGE = (
    "tailblock: 1\nid: bridge\ntitle: Round the bridge\nversion: 1.0.0\n"
    "parts: [{id: body, name: Body}]\n"
    "sources: [{id: m, kind: memory, citation: From memory, seen: from-memory}]\n"
    "faults:\n"
    + fault("heat-exposure", R)
    + fault("climate-dry", Sd)
    + fault("climate-wet", R)
    + fault("string-overload", R)
    + fault(
        "brace-loose-main",
        R,
        heat_exposure=O,
        climate_dry=Sd,
        climate_wet=Sd,
        string_overload=Sd,
    )
    + fault("plate-loose", R, heat_exposure=S, climate_wet=R)
    + fault("x-joint-loose", R, heat_exposure=Sd, climate_dry=R)
    + fault(
        "top-hump",
        R,
        brace_loose_main=U,
        plate_loose=S,
        string_overload=S,
        climate_wet=Sd,
        heat_exposure=Sd,
        x_joint_loose=S,
    )
    + fault("bridge-rotated", R, top_hump=O, brace_loose_main=S, plate_loose=Sd)
    + fault("bridge-warped", R, top_hump=S, climate_dry=Sd)
    + fault(
        "bridge-lifting",
        R,
        top_hump=S,
        bridge_rotated=Sd,
        bridge_warped=O,
        heat_exposure=O,
        climate_dry=Sd,
        climate_wet=Sd,
        string_overload=Sd,
    )
    + "symptoms:\n"
    + symptom("bridge-edge-gap", R, bridge_lifting=0.98, bridge_warped=S)
    + symptom("hump-behind-bridge", Sd, top_hump=AA, climate_wet=S)
    + symptom("bridge-lean", Sd, bridge_rotated=AA)
    + symptom("main-brace-gap", R, brace_loose_main=AA)
    + symptom("bridge-area-soft", R, brace_loose_main=U, plate_loose=O, x_joint_loose=O)
    + "checks:\n"
    + check("bridge-feeler", 3, link("symptom", "bridge-edge-gap", AA, U, S))
    + check(
        "brace-film",
        3,
        link("symptom", "main-brace-gap", AA, U, O),
        link("fault", "plate-loose", U, O),
    )
    + check(
        "tilt-change",
        2,
        link("symptom", "bridge-area-soft", AA, O),
        link("fault", "string-overload", S),
    )
    + check("bridge-tilt", 3, link("symptom", "bridge-lean", AA, O, S))
    + check(
        "bridge-move",
        2,
        link("fault", "bridge-lifting", U, O),
        link("fault", "brace-loose-main", Sd),
        link("fault", "plate-loose", S),
    )
    + "  - {id: belly-across, part: body, title: Belly, ask: How high?, how: Measure.,\n"
    "     minutes: 2, sources: [m],\n"
    "     measure: {quantity: length, unit: mm, possible: {from: -10 mm, to: 20 mm},\n"
    "     gauge: {resolution: 0.25 mm, repeatability: 0.3 mm},\n"
    "     normal: {from: -0.8 mm, to: 1.2 mm}, levels_low: [{level: lo1, down_to: -2 mm},\n"
    "     {level: lo2}], levels_high: [{level: hi1, up_to: 2.5 mm}, {level: hi2, up_to: 4.5 mm},\n"
    "     {level: hi3}]}, otherwise: {lo1: rarely, lo2: very-rarely},\n"
    "     shows: [{symptom: hump-behind-bridge, at_least_high: {hi1: almost-always, hi2: often,\n"
    "     hi3: sometimes}}, {fault: climate-dry, at_least_low: {lo1: often, lo2: sometimes}}]}\n"
)


def only(level: int, levels: int) -> tuple[float, ...]:
    return tuple(float(level == at) for at in range(levels + 1))


NORMAL, HIGH_2 = only(2, 5), only(4, 5)  # lo2 lo1 normal hi1 hi2 hi3
EXPECTED = {
    # readings: (chance of the readings, posteriors)
    "none": (
        {},
        1.0,
        {"top-hump": 0.108948, "bridge-lifting": 0.128418, "bridge-area-soft": 0.116584},
    ),
    "all quiet": (
        {
            "bridge-feeler": only(0, 3),
            "belly-across": NORMAL,
            "brace-film": only(0, 3),
            "tilt-change": only(0, 2),
        },
        0.39766527,
        {"brace-loose-main": 0.000294, "bridge-lifting": 0.004887, "climate-dry": 0.037056},
    ),
    "a lift with a hump": (
        {"bridge-feeler": only(2, 3), "belly-across": HIGH_2, "tilt-change": only(2, 2)},
        0.0033357505,
        {
            "heat-exposure": 0.324734,
            "brace-loose-main": 0.702436,
            "top-hump": 0.927667,
            "bridge-lifting": 0.900204,
            "main-brace-gap": 0.677295,
        },
    ),
    "a ledge": (
        {
            "bridge-feeler": only(1, 3),
            "bridge-move": only(0, 2),
            "belly-across": NORMAL,
            "bridge-tilt": only(1, 3),
        },
        0.0044736801,
        {"bridge-lifting": 0.040660, "bridge-edge-gap": 0.108828, "bridge-rotated": 0.123037},
    ),
}


@pytest.mark.parametrize("name", EXPECTED)
def test_from_words_to_probabilities(checklist: Callable[..., Checklist], name: str) -> None:
    read, chance, expected = EXPECTED[name]
    visits = [VisitSkeleton("arrival", date(2031, 3, 2))]
    compiled = compile_network(checklist(BRIDGE, "bridge"), {}, visits)
    soft = {}
    for entry, row in read.items():
        finding = compiled.finding_of(entry, 0)
        assert finding is not None
        soft[finding] = row
    reasoner = Reasoner(compiled.network, Evidence(soft))
    assert pytest.approx(chance, rel=1e-6) == 2.718281828459045**reasoner.log_evidence
    for entry, probability in expected.items():
        found = reasoner.beliefs.probability[compiled.node_of(entry)]
        assert found == pytest.approx(probability, abs=1e-6), entry


def test_one_network_serves_every_reading(checklist: Callable[..., Checklist]) -> None:
    bridge = checklist(BRIDGE, "bridge")
    first, second = (VisitSkeleton("bench", date(2026, 5, day)) for day in (1, 20))
    once = compile_network(bridge, {}, [first])
    assert compile_network(bridge, {}, [first]) is once
    assert compile_network(bridge, {}, [first, second]) is not once
    assert compile_network(bridge, {"top": "spruce"}, [first]) is not once
    assert compile_network(checklist(BRIDGE, "bridge"), {}, [first]) is not once  # read anew


def test_nothing_in_a_network_can_be_written_to(checklist: Callable[..., Checklist]) -> None:
    visits = [VisitSkeleton("bench", date(2026, 5, 1))]
    network = compile_network(checklist(BRIDGE, "bridge"), {}, visits).network
    sides = [side for finding in network.findings for side in (finding.low, finding.high)]
    arrays = [network.alone, *(a for side in sides for a in (side.cumulative, side.leak))]
    assert not any(array.flags.writeable for array in arrays)
