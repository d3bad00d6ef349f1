"""What the reports of the shipped inspections must not leave out."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from demos import demo_report, examined_demo
from tailblock.pipeline import Examined, examine
from tailblock.report.build import build
from tailblock.report.stringing import stringing
from tailblock.report.to_html import to_html
from tailblock.report.to_markdown import to_markdown

if TYPE_CHECKING:
    from collections.abc import Callable

    from tailblock.report.model import Report


def _out_of_reach(examined: Examined, checks: set[str]) -> Examined:
    """Return the same inspection with a checklist that has no such looks."""
    checklist = examined.checklist
    left = {name: check for name, check in checklist.checks.items() if name not in checks}
    return examine(replace(checklist, checks=left), examined.inspection)


@pytest.fixture(scope="module")
def parlour() -> Report:
    """Return the report on a small old guitar with a lost neck angle and a head glued once."""
    return demo_report("ladder-parlour")


@pytest.fixture(scope="module")
def unseen_head() -> Examined:
    """Return the same guitar where nobody can look at the old repair of its head."""
    return _out_of_reach(examined_demo("ladder-parlour"), {"head-face"})


def test_a_danger_that_no_look_can_clear_is_named_while_others_have_looks(
    unseen_head: Examined,
) -> None:
    parlour = build(unseen_head)
    stringing = parlour.first_page.stringing
    assert "the old repair below the head is giving way: no look can clear it" in stringing.why
    assert stringing.clear_with.startswith("cracks in the bridge")
    (held,) = parlour.held
    assert held.clear_with.endswith(
        "Earlier head repair opening again: no look can clear it, it takes opening or repair."
    )


def test_it_is_named_too_while_another_danger_has_to_be_mended(unseen_head: Examined) -> None:
    examined = unseen_head
    clearable = set(examined.may_string.because) - set(examined.may_string.no_look)
    causes = tuple(
        replace(cause, probability=0.9) if cause.id in clearable else cause
        for cause in examined.causes
    )
    why = stringing(replace(examined, causes=causes)).why
    assert "It is very likely that the bridge is cracked along its holes. It may be brought" in why
    assert "once that is mended and has been looked at again" in why
    assert "the old repair below the head is giving way: no look can clear it" in why


def test_the_player_is_asked_only_where_no_look_is_left(unseen_head: Examined) -> None:
    asked = [
        entry.name for entry in build(unseen_head).open if "ask the player" in entry.settled_by
    ]
    assert asked == ["Earlier head repair opening again"]  # the same that no look can clear


def test_what_the_first_work_is_for_is_listed_and_told_first(parlour: Report) -> None:
    # its starting chance was high, so that others lead
    page = parlour.first_page
    assert any("neck has tipped" in matter.plain for matter in page.matters)
    assert "the neck has tipped forward a little" in page.verdict[0]
    assert "neck has tipped" not in page.also
    assert len(page.matters) <= 4


def test_the_faults_are_argued_in_the_order_of_their_numbers(parlour: Report) -> None:
    assert parlour.portrait is not None
    told = [mark.id for mark in parlour.portrait.marks]
    argued = [cause.id for cause in parlour.causes.argued]
    assert argued == [fault for fault in told if fault in argued]


def test_each_probable_fault_is_an_entry_of_its_own_in_markdown(parlour: Report) -> None:
    lines = to_markdown(parlour, copy="player").splitlines()
    begun = lines.index("## What is wrong, or may be")
    told = [line for line in lines[begun : lines.index("## What can be done about it")] if line]
    entries = [line for line in told if line.startswith("- ")]
    assert len(entries) == len(parlour.players_copy.wrong) + len(parlour.players_copy.open)


@pytest.mark.parametrize("write", [to_html, to_markdown])
def test_no_sentence_ends_twice(parlour: Report, write: Callable[[Report], str]) -> None:
    page = re.sub(r"<style>.*?</style>|<svg.*?</svg>", "", write(parlour), flags=re.DOTALL)
    assert re.findall(r"\.[;:]|\.\. |: \.", page) == []


def test_the_hours_of_an_offer_say_what_they_leave_out() -> None:
    report = demo_report("one-through-all")
    (offer,) = report.plan.offers
    assert {work.if_found for work in offer.works} == {True, False}
    assert offer.takes.replace("\N{NO-BREAK SPACE}", " ") == (
        "6 / 9 / 16 h without the work that waits for another look"
    )
    assert "page 1 counts the offers before it too" in report.plan.threshold


def test_the_doubts_that_stop_stringing_are_the_first_unknown(parlour: Report) -> None:
    first, second, *_ = parlour.first_page.unknown
    assert first.startswith("Whether the bridge is cracked along its holes")
    assert second.startswith("Whether the old repair below the head is giving way")


def test_the_plan_and_the_ban_are_told_together(parlour: Report) -> None:
    page = parlour.first_page
    assert "nothing gets worse while the strings are slack" in page.verdict[1]
    assert not page.slack  # it would say the same again
    assert "It may be brought to pitch once these looks find nothing" in page.stringing.why


def test_no_work_is_planned_on_a_starting_chance(parlour: Report) -> None:
    offered = {work.name for offer in parlour.plan.offers for work in offer.works}
    assert "New bridge plate" not in offered
    assert any("Pin holes of the bridge plate" in line for line in parlour.plan.look_first)
    strings = next(grade for grade in parlour.grades if grade.part == "Strings")
    assert (strings.condition.value, strings.urgency.value) == (None, 0)


def test_celluloid_is_taken_off_cold_or_left(parlour: Report) -> None:
    lines = [line for line in parlour.safety.conflicts if "celluloid" in line]
    assert lines
    assert all("take it off cold" in line and "Finish the one" not in line for line in lines)


def test_what_is_known_of_the_instrument_is_said_in_words(parlour: Report) -> None:
    facts = {fact.label: fact.text for fact in parlour.heading.facts}
    assert facts["Age"] == "40 to 80 years"
    assert facts["Bracing of the top"] == "bars straight across"
    assert facts["Head repaired before"] == "yes"
