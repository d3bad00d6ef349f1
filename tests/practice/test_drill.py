"""Drills: what a choice cost and was worth, what is noted as unsafe, what the debrief judges."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest

from practice.test_self_consistency import TRAITS
from practice.test_self_consistency import shop as shop_of_lamps
from tailblock.inspection.answers import NoSuchCheck
from tailblock.knowledge.graph import NotInTheChecklist
from tailblock.practice.bench import Bench, Engine
from tailblock.practice.cases import Case
from tailblock.practice.debrief import debrief
from tailblock.practice.drill import Drill, NoWay, begun
from tailblock.practice.first_step import NoSuchStep, judge_first
from tailblock.practice.known import distance
from tailblock.practice.policies import advised, inspect
from tailblock.practice.simulated import draw_instrument
from tailblock.practice.unsafe import Unsafe

if TYPE_CHECKING:
    from tailblock.knowledge.checklist import Checklist

shop = shop_of_lamps
PITCH = {"strings": "at-pitch"}
SLACK = {"strings": "slack"}


def case_of(
    checklist: Checklist,
    faults: tuple[str, ...],
    seed: int = 0,
    setup: dict[str, str] | None = None,
    traits: dict[str, str] | None = None,
) -> Case:
    """Return a case with exactly these faults."""
    others = tuple(fault for fault in checklist.faults if fault not in faults)
    hidden = draw_instrument(checklist, traits or TRAITS, seed, faults, others)
    return Case(checklist, hidden, "arrival", setup or PITCH, faults, (), "a test")


def test_what_is_left_out_is_not_there(shop: Checklist) -> None:
    for seed in range(20):
        assert case_of(shop, ("hump",), seed).hidden.faults == {"hump"}


def test_the_distance_to_the_truth_is_the_weighted_logarithmic_score(shop: Checklist) -> None:
    known = Bench(Engine(shop, TRAITS, "arrival"), case_of(shop, ("hump",)).hidden).known
    weights = {"lifting": 1.0, "hump": 1.0, "heat": 0.175, "dome": 0.0}  # harm x pace x kind
    expected = sum(
        weights[id_] * -np.log2(p if id_ == "hump" else 1 - p)
        for id_, p in known.probability.items()
    )
    assert known.missing({"hump"}) == pytest.approx(expected)
    sure = {"hump": 1.0, "lifting": 0.0, "heat": 0.0, "dome": 0.0}
    assert distance(shop, sure, {"hump"}) == 0.0


def test_a_choice_knows_its_minutes_its_worth_and_what_would_have_told_more(
    bench: Checklist,
) -> None:
    drill = Drill(case_of(bench, ("neck-bow",), traits={"bridge": "pin"}))
    gains = drill.weighed.gains
    choice = drill.choose("relief")
    assert (choice.minutes, choice.bits) == (2.0, gains["relief"].bits)
    assert (choice.best, choice.best_bits) == ("edge-look", gains["edge-look"].bits)
    assert choice.forgone == choice.best_bits - choice.bits > 0.0
    assert choice.advised is not None
    assert (choice.advised.check, choice.as_advised) == ("smell", False)
    assert drill.choose("smell").forgone == 0.0  # the advice puts it first, whatever it tells
    assert drill.minutes == 3.0
    assert drill.choose("edge-look").forgone == 0.0


def test_minutes_of_a_change_of_setup_count_once_and_with_the_next_check(bench: Checklist) -> None:
    drill = Drill(case_of(bench, (), traits={"bridge": "pin"}))
    drill.bring(SLACK)
    assert drill.bench.present == SLACK
    assert drill.minutes == 3.0
    assert drill.choose("edge-look").minutes == 4.0
    assert drill.choose("relief").minutes == 10.0  # 8 back to pitch, 2 of its own
    assert drill.minutes == 14.0
    assert drill.bench.present == PITCH


def test_a_second_reading_tells_nothing_new_beforehand(bench: Checklist) -> None:
    drill = Drill(case_of(bench, (), traits={"bridge": "pin"}))
    drill.choose("edge-look")
    again = drill.choose("edge-look")
    assert (again.bits, again.minutes) == (0.0, 1.0)


@pytest.mark.parametrize(
    ("setup", "moves", "expected"),
    [
        # a danger under tension is open from the start: bridge-lifting, sometimes
        (SLACK, ["relief"], [Unsafe(0, "tension", "bring-to-pitch", ("bridge-lifting",))]),
        (SLACK, ["edge-look"], []),
        (PITCH, ["relief"], []),  # it stands there already
        (PITCH, ["neck-load"], [Unsafe(0, "load", "neck-load", ("bridge-lifting",))]),
        (PITCH, ["edge-warm"], [Unsafe(0, "heat", "edge-warm", ("edge-look",))]),
        (PITCH, ["edge-look", "edge-warm"], []),
        (PITCH, ["edge-look", "neck-load"], []),  # it is dark there: the danger is cleared
    ],
)
def test_what_could_have_done_harm_is_done_and_noted(
    setup: dict[str, str], moves: list[str], expected: list[Unsafe], bench: Checklist
) -> None:
    drill = Drill(case_of(bench, (), setup=setup, seed=1, traits={"bridge": "pin"}))
    assert drill.case.hidden.levels["edge-look"] == "dark"
    for check in moves:
        drill.choose(check)
    assert drill.unsafe == expected
    assert len(drill.choices) == len(moves)


def test_to_pitch_without_reading_anything_is_noted_too(bench: Checklist) -> None:
    drill = Drill(case_of(bench, (), setup=SLACK, traits={"bridge": "pin"}))
    drill.bring(PITCH)
    assert [move.move for move in drill.unsafe] == ["tension"]


def test_who_follows_the_advice_has_no_regret_and_forgoes_nothing(shop: Checklist) -> None:
    drill = Drill(case_of(shop, ("lifting",), 3))
    while (first := drill.bench.advised()) is not None:
        drill.choose(first.check)
    told = debrief(drill, ("lifting",))
    assert told.regret_bits == pytest.approx(0.0)
    assert not told.forgone
    assert not told.unsafe
    assert told.advice_did == tuple(choice.check for choice in drill.choices)
    assert told.regret_minutes is not None
    assert told.regret_minutes >= 0.0


def test_the_score_is_measured_on_the_same_instrument_after_as_many_minutes(
    shop: Checklist,
) -> None:
    case = case_of(shop, ("lifting",), 3)
    drill = Drill(case)
    drill.choose("story")
    told = debrief(drill, ())
    other = begun(case, drill.engine)
    course = [other.known.missing({"lifting"})]
    course += [other.known.missing({"lifting"}) for _ in inspect(other, advised, drill.minutes)]
    assert told.same_minutes == pytest.approx(course[-1])
    assert told.bits == drill.bench.known.missing({"lifting"})
    assert told.regret_bits == pytest.approx(told.bits - course[-1])
    reached = any(missing <= told.bits for missing in course)
    assert (told.as_near is not None) == reached


def test_what_is_named_is_found_missed_wrong_or_there_besides(shop: Checklist) -> None:
    case = replace(case_of(shop, ("lifting", "heat"), 2), to_find=("lifting",))
    told = debrief(Drill(case), ("heat", "hump", "heat"))
    assert (told.found, told.missed) == ((), ("lifting",))
    assert (told.wrong, told.besides) == (("hump",), ("heat",))
    assert told.named == ("heat", "hump")


def test_the_harmless_thing_that_was_taken_for_a_fault_is_named(bench: Checklist) -> None:
    drill = Drill(case_of(bench, ("ledge",), traits={"bridge": "pin"}))
    assert debrief(drill, ("bridge-lifting",)).mistaken == (("bridge-lifting", "ledge"),)


def test_readings_that_nothing_named_explains(shop: Checklist) -> None:
    seeds = range(40)
    case = next(
        case
        for case in (case_of(shop, ("lifting",), seed) for seed in seeds)
        if case.hidden.levels["lamp"] == "open"
    )
    drill = Drill(case)
    drill.choose("lamp")
    assert debrief(drill, ()).unexplained == ("lamp",)
    assert debrief(drill, ("lifting",)).unexplained == ()


@pytest.mark.parametrize(
    ("faults", "setup", "said", "judged"),
    [
        ((), PITCH, "", "unsaid"),
        ((), PITCH, "nothing", "right"),
        (("ledge",), PITCH, "nothing", "right"),  # harmless
        (("neck-bow",), PITCH, "nothing", "beside"),
        (("neck-bow",), PITCH, "rod-adjust", "right"),
        (("neck-bow",), PITCH, "slacken", "beside"),
        (("neck-bow",), PITCH, "bridge-reglue", "beside"),
        (("bridge-lifting",), PITCH, "slacken", "right"),
        (("bridge-lifting",), PITCH, "bridge-reglue", "slacken-first"),
        (("bridge-lifting",), SLACK, "bring-to-pitch", "unsafe"),
        (("bridge-lifting",), SLACK, "bridge-reglue", "unseen"),  # hot work, and nobody looked
    ],
)
def test_what_is_done_first_is_judged(
    faults: tuple[str, ...], setup: dict[str, str], said: str, judged: str, bench: Checklist
) -> None:
    drill = Drill(case_of(bench, faults, setup=setup, traits={"bridge": "pin"}))
    assert judge_first(drill, said).judged == judged


def test_hot_work_on_what_was_seen_is_right(bench: Checklist) -> None:
    case = case_of(bench, ("bridge-lifting",), 0, SLACK, {"bridge": "pin"})
    drill = Drill(case)
    assert case.hidden.levels["edge-look"] == "light"
    drill.choose("edge-look")
    assert judge_first(drill, "bridge-reglue").judged == "right"


def test_mending_what_hurts_while_its_cause_stays_is_told(shop: Checklist) -> None:
    remedies = dict(shop.remedies)
    of_top = remedies["reglue"].model_copy(
        update={
            "id": "flatten",
            "fixes": (remedies["reglue"].fixes[0].model_copy(update={"fault": "hump"}),),
        }
    )
    both = replace(shop, remedies={**remedies, "flatten": of_top})
    calm = {
        id_: fault.model_copy(update={"under_tension": "watch"})
        for id_, fault in both.faults.items()
    }
    drill = Drill(case_of(replace(both, faults=calm), ("lifting", "hump")))
    assert judge_first(drill, "reglue") == judge_first(drill, "reglue")
    assert (judge_first(drill, "reglue").judged, judge_first(drill, "reglue").because) == (
        "effect",
        ("hump",),
    )
    assert judge_first(drill, "flatten").judged == "right"


def test_names_that_there_are_not_are_refused(bench: Checklist) -> None:
    drill = Drill(case_of(bench, (), traits={"bridge": "pin"}))
    with pytest.raises(NoSuchCheck):
        drill.choose("edge-lok")
    with pytest.raises(NoWay, match="strings off: only repair work leads there"):
        drill.bring({"strings": "off"})
    with pytest.raises(NotInTheChecklist):
        debrief(drill, ("bridge-liftin",))
    with pytest.raises(NoSuchStep, match="say slacken, bring-to-pitch, nothing or a remedy"):
        debrief(drill, (), "glue")
    assert (drill.choices, drill.minutes) == ([], 0.0)
