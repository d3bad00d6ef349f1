"""The safety sheet: the controls before the step, the unknown as the worst, what never meets."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from demos import examined_demo
from tailblock.report.safety import safety, uses
from tailblock.report.to_markdown import to_markdown

if TYPE_CHECKING:
    from tailblock.pipeline import Examined
    from tailblock.report.model import Report


@pytest.fixture(scope="module")
def examined() -> Examined:
    return examined_demo("hot-car")


def test_every_look_and_every_piece_of_work_is_a_step_after_its_notes(hot_car: Report) -> None:
    sheet = hot_car.safety
    works = {work.name: work for offer in hot_car.plan.offers for work in offer.works}
    steps = {step.step: step for step in sheet.steps}
    assert set(steps) == set(works) | {check.check for check in hot_car.next_checks}
    for name, work in works.items():
        assert tuple(int(note.label) for note in steps[name].controls) == work.cautions
        assert steps[name].if_found == work.if_found


def test_looks_come_before_work_and_work_in_the_order_of_the_plan(hot_car: Report) -> None:
    order = [step.step for step in hot_car.safety.steps]
    looks = [check.check for check in hot_car.next_checks]
    assert order[: len(looks)] == looks
    works = [work.name for offer in hot_car.plan.offers for work in offer.works]
    assert order[len(looks) :] == works


def test_the_controls_stand_before_the_step_on_the_page(hot_car: Report) -> None:
    sheet = to_markdown(hot_car).partition("## Safety first")[2].partition("## What to look at")[0]
    for note in hot_car.safety.notes:
        assert sheet.index(f"Note {note.number}:") < sheet.index("| Read first | Then |")


def test_an_unknown_finish_and_glue_count_as_the_worst(examined: Examined) -> None:
    sheet = safety(examined, uses(examined))
    finish, glue, meets = sheet.assumed
    assert "burns fast" in finish
    assert "does not open" in glue
    assert "must not meet" in meets
    assert "Hot tools and warmed joints" in meets


def test_nothing_is_assumed_where_nothing_could_harm_a_finish(
    examined: Examined,
) -> None:
    only_hands = {"hands-inside": ("A look",)}
    assert safety(examined, only_hands).assumed == ()


@pytest.mark.parametrize(
    ("one", "other"),
    [("bleach", "solvent"), ("bleach", "two-part"), ("heat", "solvent"), ("steam", "electric")],
)
def test_what_must_never_meet_is_found_across_the_whole_plan(
    examined: Examined, one: str, other: str
) -> None:
    # CDC and NIOSH (see the cautions' sources): bleach with acid, ammonia or alcohol gives off gas
    cautions = examined.checklist.cautions
    used = {id_: (f"Work with {id_}",) for id_ in cautions if id_ in {one, other}}
    lines = safety(examined, used).conflicts
    (line,) = lines
    assert {f"Work with {one}", f"Work with {other}"} == {
        name for name in (f"Work with {one}", f"Work with {other}") if name in line
    }
    assert "Not at the same time" in line or cautions[one].apart or cautions[other].apart


def test_local_codes_and_licences_come_first(hot_car: Report) -> None:
    deference = " ".join(hot_car.safety.deference)
    for word in ("codes", "data sheet", "licence"):
        assert word in deference


def test_a_known_finish_is_not_assumed(examined: Examined) -> None:
    instrument = examined.inspection.instrument
    known = replace(instrument, traits={**instrument.traits, "finish": "oil"})
    told = replace(examined, inspection=replace(examined.inspection, instrument=known))
    sheet = safety(told, uses(examined))
    assert not any("finish is not known" in line for line in sheet.assumed)
