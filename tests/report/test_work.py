"""The work in stages and the safety notes that stand before it."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from demos import shipped
from tailblock.pipeline import examine, open_inspection
from tailblock.report.build import build

if TYPE_CHECKING:
    from report.visits import Reported
    from tailblock.report.model import Report, Work


def _work(report: Report) -> dict[str, Work]:
    return {work.name: work for offer in report.plan.offers for work in offer.works}


def test_offers_run_from_what_strings_need_to_what_playing_needs(hot_car: Report) -> None:
    assert [offer.kind for offer in hot_car.plan.offers] == ["to-string", "to-play"]
    assert hot_car.plan.offers[0].works[0].name == "Take off, clean and reglue the bridge"


def test_a_piece_of_work_says_all_that_a_player_decides_on(hot_car: Report) -> None:
    work = _work(hot_car)["Take off, clean and reglue the bridge"]
    assert (work.hours.low, work.hours.likely, work.hours.high) == (2, 3.5, 6)
    assert work.wait == "2 days"
    assert (work.stop_point, work.reversible, work.if_found) == (True, True, False)
    assert work.may_reveal == ("the top under it may have a set of its own",)
    assert work.may_leave == ("Rarely: the saddle has hardly any height left",)
    assert work.needs_first == ("Strings off",)
    assert work.watch == ("Feel for an open seam under the bridge, after 6 months",)
    (deals,) = work.deals_with
    assert deals.startswith("Bridge glue joint opening (almost certain, ")
    assert deals.endswith("if it is there, this almost always cures it")


def test_work_says_what_comes_back_while_its_cause_stays(hot_car: Report) -> None:
    (back,) = _work(hot_car)["Take off, clean and reglue the bridge"].returns
    assert back.id == "bridge-lifting"
    assert back.causes[0].id == "top-hump"
    assert back.with_all is None  # the work on its cause is hot and waits for a surer finding
    plain = back.text.replace("\N{NO-BREAK SPACE}", " ")
    assert plain == (
        f"Bridge glue joint opening: {100 * back.chance:.0f} % while its causes stay (through "
        f"{back.causes[0].name[0].lower()}{back.causes[0].name[1:]}: "
        f"{100 * back.causes[0].share:.0f} points)"
    )
    assert any("It does not say when." in term for term in hot_car.plan.terms)


def test_work_without_a_cause_that_stays_says_nothing_of_coming_back(unread: Report) -> None:
    assert not [back for work in _work(unread).values() for back in work.returns]
    assert not any("come back counts" in term for term in unread.plan.terms)


def test_no_work_is_offered_for_what_is_unlikely(hot_car: Report) -> None:
    assert "Level and crown the frets" not in _work(hot_car)
    assert "50" in hot_car.plan.threshold


def test_work_for_a_possible_fault_waits_for_the_finding(unread: Report) -> None:
    assert all(work.if_found for work in _work(unread).values())


def test_what_other_work_needs_comes_first_with_the_reason(reported: Reported) -> None:
    low = """
      - stage: arrival
        date: 2031-03-02
        setup: {strings: at-pitch}
        readings:
          - {check: heat-story, value: cool}
          - {check: action-12-bass, value: 1.5 mm}
          - {check: saddle-exposure, value: 1 mm}
          - {check: belly-across, value: 1 mm}
    """
    work = _work(reported(low))
    assert work["Make a new saddle"].needs_first == ("Reset the neck",)
    assert work["Reset the neck"].reason == "Needed before: Make a new saddle"
    assert not work["Reset the neck"].deals_with


def test_the_best_cure_is_offered_and_the_others_are_named(hot_car: Report) -> None:
    work = _work(hot_car)
    # almost always against seldom: lighter strings are no match, but the player may want them
    assert work["Reset the neck"].instead == ("Fit lighter strings",)
    assert "Fit lighter strings" not in work
    assert work["Take off, clean and reglue the bridge"].instead == ()


def test_leaving_it_is_an_honest_offer(hot_car: Report, sound: Report) -> None:
    assert "Do not tune it up" in hot_car.plan.leave[0]
    assert sound.plan.leave == ("It can be left as it is; nothing was found that needs work.",)


def test_every_caution_of_the_work_has_one_numbered_note(hot_car: Report) -> None:
    assert [note.number for note in hot_car.safety.notes] == [1, 2, 3, 4]
    assert [note.title for note in hot_car.safety.notes] == [
        "Strings under tension", "Hot tools and joints", "Steam", "Solvents",
    ]  # fmt: skip
    for work in _work(hot_car).values():
        for number in work.cautions:
            assert work.name in hot_car.safety.notes[number - 1].applies_to


def test_controls_keep_their_working_order(hot_car: Report) -> None:
    assert hot_car.safety.notes[1].controls == (
        "Thermometer and timer", "Shields", "No solvent within reach",
    )  # fmt: skip


def test_heat_and_solvents_in_one_plan_are_flagged(hot_car: Report) -> None:
    (conflict,) = hot_car.safety.conflicts
    assert conflict.startswith("Hot tools and joints and Solvents never meet.")
    assert "Reset the neck" in conflict
    assert "Flatten and brace the top" in conflict


def test_heat_and_solvents_in_one_piece_of_work_are_flagged(reported: Reported) -> None:
    crooked = """
      - stage: arrival
        date: 2031-03-02
        setup: {strings: slack}
        confirmed: [{fault: saddle-crooked, present: true}]
        readings:
          - {check: heat-story, value: cool}
          - {check: bridge-feeler, value: 0 mm}
          - {check: bridge-light, value: none}
          - {check: belly-across, value: 1 mm}
    """
    report = reported(crooked)
    (conflict,) = report.safety.conflicts
    assert "Both come up in: Polish the saddle square." in conflict
    assert "Finish the one, cool down and air the room" in conflict
    assert _work(report)["Polish the saddle square"].if_found is False


def test_no_conflict_is_made_up(sound: Report) -> None:
    assert sound.safety.conflicts == ()


def test_local_codes_data_sheets_and_licensed_practice_come_first(sound: Report) -> None:
    deference = " ".join(sound.safety.deference)
    for word in ("codes", "data sheet", "licence", "not an appraisal", "medical help"):
        assert word in " ".join(deference.lower().split())


@pytest.fixture(scope="module")
def parlour() -> Report:
    """Return the report of the shipped guitar with a lost neck angle and a folded body."""
    file = Path(__file__).parents[2] / "demo_inspections" / "ladder-parlour.yaml"
    opened = open_inspection(file, shipped)
    return build(examine(*opened))


def test_a_side_effect_calls_for_no_work(parlour: Report) -> None:
    # gluing the bar above the soundhole eases a folded body, but one that holds is left alone
    assert "Glue the bar above the soundhole" not in _work(parlour)
    assert any("Neck block leaning in" in line for line in parlour.plan.without_work)


def test_the_cause_comes_before_set_up_work_and_looks_come_before_both(parlour: Report) -> None:
    names = [work.name for offer in parlour.plan.offers for work in offer.works]
    assert names.index("Glued neck reset") < names.index("New frets throughout on the same board")
    reset = _work(parlour)["Glued neck reset"]
    assert reset.if_found
    assert reset.reason.startswith("Decided when this has been looked for: ")
    assert not [line for line in parlour.first_page.first if "first work" in line]
