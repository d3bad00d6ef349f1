"""What tension could finish is not strung up: what is held, by which fault, and what clears it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING

import pytest

from tailblock.advice.candidates import candidates
from tailblock.advice.gain import Gain
from tailblock.advice.held_back import (
    Clearing,
    danger_of,
    held_back,
    may_string,
    open_danger,
    slacken_now,
)
from tailblock.advice.situation import Situation
from tailblock.knowledge.checklist import Checklist

if TYPE_CHECKING:
    from tailblock.advice import HeldBack

Read = Callable[[str], Checklist]
Stand = Callable[..., Situation]

SHOP = """
parts: [{id: bridge, name: Bridge}]
setups: {states: {strings: ["off", slack, tone-down, at-pitch]}, moves: [
  {from: {strings: at-pitch}, to: {strings: slack}, minutes: 3},
  {from: {strings: slack}, to: {strings: "off"}, minutes: 4},
  {from: {strings: "off"}, to: {strings: slack}, minutes: 8},
  {from: {strings: slack}, to: {strings: tone-down}, minutes: 5},
  {from: {strings: tone-down}, to: {strings: at-pitch}, minutes: 2}]}
faults:
  - {id: lifting, part: bridge, name: L, plain: L, alone: seldom, harm: serious, pace: months,
     under_tension: danger}
  - {id: cracked, part: bridge, name: C, plain: C, alone: seldom, harm: destructive, pace: months,
     under_tension: danger}
  - {id: worn, part: bridge, name: W, plain: W, alone: seldom, harm: playability, pace: years,
     under_tension: watch}
checks:
"""


def check(id_: str, shows: str, rest: str = "") -> str:
    return f"""
  - {{id: {id_}, part: bridge, title: T, ask: A?, how: Look., minutes: 1,
     choices: [{{level: shut, text: N}}, {{level: open, text: Y}}],
     shows: [{{fault: {shows}, at_least: {{open: usually}}}}], {rest}}}
"""


CHECKS = (
    check("lamp", "lifting")
    + check("feeler", "lifting", "setup: {strings: [slack, 'off']}")
    + check("mirror", "cracked", "setup: {strings: 'off'}")
    + check("at-pitch-look", "cracked", "setup: {strings: at-pitch}")
    + check("warm", "lifting", "risk: heat")
    + check("press", "lifting", "loads: true")
    + check("action", "worn", "setup: {strings: at-pitch}")
)
# Bits that each check tells about each fault.
TOLD: Mapping[str, Mapping[str, float]] = {
    "lamp": {"lifting": 0.1},
    "feeler": {"lifting": 0.3},
    "mirror": {"cracked": 0.4, "lifting": 0.9},  # of lifting it knows only by hearsay
    "at-pitch-look": {"cracked": 0.9},
    "warm": {"lifting": 0.9},
    "press": {"lifting": 0.9},
    "action": {"worn": 0.9},
}
SHOWN = {
    "lamp": {"lifting"},
    "feeler": {"lifting"},
    "mirror": {"cracked"},
    "at-pitch-look": {"cracked"},
    "warm": {"lifting"},
    "press": {"lifting"},
    "action": {"worn"},
}
GAINS = {id_: Gain(id_, sum(about.values()), about) for id_, about in TOLD.items()}


class Bench:
    """A visit with the probabilities of its faults and what somebody has accepted."""

    def __init__(self, stand: Situation, probability: Mapping[str, float], *accepted: str) -> None:
        self.stand = stand
        self.probability = {"lifting": 0.05, "cracked": 0.05, "worn": 0.9, **probability}
        self.found = candidates(stand)
        self.danger = danger_of(stand.checklist, self.probability, accepted)
        self.clearing = Clearing(stand.checklist, self.found, GAINS, SHOWN)

    @property
    def held(self) -> tuple[HeldBack, ...]:
        return held_back(self.stand, self.found, self.danger, self.clearing)

    @property
    def moves(self) -> list[str]:
        return [h.setup["strings"] if h.setup else h.check or "" for h in self.held]


@pytest.fixture
def bench(read_checklist: Read, situation: Stand) -> Callable[..., Bench]:
    def at(strings: str, *accepted: str, more: str = "", **probability: float) -> Bench:
        visit = f"setup: {{strings: '{strings}'}}\n{more}"
        return Bench(situation(read_checklist(SHOP + CHECKS), visit), probability, *accepted)

    return at


At = Callable[..., Bench]


@pytest.mark.parametrize(
    ("probability", "is_open"), [(0.099, False), (0.10, False), (0.101, True), (0.9, True)]
)
def test_a_danger_fault_holds_above_the_limit(
    bench: At, probability: float, *, is_open: bool
) -> None:
    assert bool(bench("slack", lifting=probability).held) is is_open


def test_each_danger_fault_counts_by_itself(bench: At) -> None:
    assert not bench("slack", lifting=0.099, cracked=0.099).held


@pytest.mark.parametrize("probability", [0.5, 0.99])
def test_what_is_no_danger_holds_nothing(bench: At, probability: float) -> None:
    assert not bench("slack", worn=probability).held


@pytest.mark.parametrize(
    ("strings", "moves"),
    [
        ("off", ["slack", "tone-down", "at-pitch", "press"]),
        ("slack", ["tone-down", "at-pitch", "press"]),
        ("tone-down", ["at-pitch", "press"]),
        ("at-pitch", ["press"]),  # arrived at pitch: only what adds load
    ],
)
def test_every_state_of_more_tension_and_every_load_is_held(
    bench: At, strings: str, moves: list[str]
) -> None:
    assert bench(strings, lifting=0.3).moves == moves


def test_the_faults_that_hold_are_named_the_most_probable_first(bench: At) -> None:
    for held in bench("slack", lifting=0.3, cracked=0.4).held:
        assert held.because == ("cracked", "lifting")


@pytest.mark.parametrize(
    ("strings", "probability", "clear_with"),
    [
        # bits a minute, changes of setup included: feeler 0.3 / 1, lamp 0.1 / 1
        ("slack", {"lifting": 0.3}, ("feeler", "lamp")),
        # at pitch the feeler costs 3 minutes more: lamp 0.1 / 1, feeler 0.3 / 4
        ("at-pitch", {"lifting": 0.3}, ("lamp", "feeler")),
        # neither heat nor load clears anything, and only checks that show the fault do
        ("slack", {"cracked": 0.3}, ("mirror",)),
        # from pitch nothing stands in the way of the look there: 1.5 x 0.9 / 1, then 1.5 x 0.4 / 8
        ("at-pitch", {"cracked": 0.3}, ("at-pitch-look", "mirror")),
        # both: feeler 0.3 / 1, mirror 1.5 x 0.4 / 5, lamp 0.1 / 1
        ("slack", {"lifting": 0.3, "cracked": 0.3}, ("feeler", "mirror", "lamp")),
    ],
)
def test_what_could_clear_it_best_first(
    bench: At, strings: str, probability: Mapping[str, float], clear_with: tuple[str, ...]
) -> None:
    assert bench(strings, **probability).held[0].clear_with == clear_with


def test_none_left_says_that_looking_cannot_clear_it(bench: At) -> None:
    read = "readings: [{check: mirror, value: shut, setup: {strings: 'off'}}]\n"
    held = bench("off", cracked=0.3, more=read).held
    assert held
    assert all(entry.clear_with == () for entry in held)


def test_what_is_accepted_is_listed_and_no_longer_held(bench: At) -> None:
    taken = bench("slack", "lifting", lifting=0.3)
    assert [entry.accepted for entry in taken.held] == [True] * 3
    assert taken.danger.open == ()
    assert taken.probability["lifting"] == 0.3


def test_who_accepts_one_fault_is_still_held_by_the_other(bench: At) -> None:
    mixed = bench("slack", "lifting", lifting=0.3, cracked=0.2)
    assert {entry.because: entry.accepted for entry in mixed.held} == {
        ("cracked",): False,
        ("lifting",): True,
    }


def test_accepting_what_is_below_the_limit_changes_nothing(bench: At) -> None:
    assert not bench("slack", "lifting", lifting=0.05).held


@pytest.mark.parametrize(
    ("strings", "probability", "faults"),
    [
        ("at-pitch", 0.50, ("lifting",)),
        ("at-pitch", 0.499, ()),
        ("tone-down", 0.9, ()),
        ("slack", 0.9, ()),
    ],
)
def test_slacken_now(bench: At, strings: str, probability: float, faults: tuple[str, ...]) -> None:
    stand = bench(strings, lifting=probability)
    assert slacken_now(stand.stand, stand.probability) == faults


def test_slacken_now_is_said_whatever_somebody_accepted(bench: At) -> None:
    stand = bench("at-pitch", "lifting", lifting=0.6)
    assert slacken_now(stand.stand, stand.probability) == ("lifting",)


@pytest.mark.parametrize(
    ("lifting", "answer"), [(0.1, "yes"), (0.101, "not-yet"), (0.499, "not-yet"), (0.5, "no")]
)
@pytest.mark.parametrize("accepted", [(), ("lifting",)])
def test_may_it_be_brought_to_pitch(
    bench: At, lifting: float, answer: str, accepted: tuple[str, ...]
) -> None:
    stand = bench("slack", *accepted, lifting=lifting)
    may = may_string(stand.probability, stand.danger, stand.clearing)
    assert may.answer == answer
    assert may.because == (("lifting",) if answer != "yes" else ())
    assert may.clear_with == (("feeler", "lamp") if answer != "yes" else ())
    assert may.accepted == (accepted if answer != "yes" else ())


def test_a_danger_that_no_look_can_clear_is_named_while_others_still_have_looks(bench: At) -> None:
    read = "readings: [{check: mirror, value: shut}]\n"  # the only calm look at the crack
    stand = bench("slack", more=read, lifting=0.3, cracked=0.2)
    may = may_string(stand.probability, stand.danger, stand.clearing)
    assert may.clear_with == ("feeler", "lamp")
    assert may.no_look == ("cracked",)
    assert {held.no_look for held in stand.held} == {("cracked",)}
    unread = bench("slack", lifting=0.3, cracked=0.2)
    assert may_string(unread.probability, unread.danger, unread.clearing).no_look == ()


def test_the_limit_is_the_checklists_own(read_checklist: Read) -> None:
    shop = read_checklist(SHOP + CHECKS + "limits: {danger: 0.3}\n")
    assert open_danger(shop, {"lifting": 0.3, "cracked": 0.31, "worn": 0.9}) == ("cracked",)


def test_what_moves_within_weeks_holds_tension_back_once_it_is_as_likely_as_not(
    read_checklist: Read,
) -> None:
    rest = "part: top, name: N, plain: P, alone: 0.1, harm: playability"
    more = f"""
  - {{id: bolts, {rest}, pace: weeks, under_tension: watch}}
  - {{id: slow, {rest}, pace: months, under_tension: watch}}
  - {{id: easy, {rest}, pace: weeks, under_tension: fine}}
  - {{id: dry, {rest}, pace: weeks, under_tension: watch, kind: climate}}
"""
    shop = read_checklist(SHOP.replace("faults:\n", f"faults:{more}") + CHECKS)
    names = ("bolts", "slow", "easy", "dry")
    assert open_danger(shop, dict.fromkeys(names, 0.9)) == ("bolts",)
    assert open_danger(shop, dict.fromkeys(names, 0.5)) == ()
