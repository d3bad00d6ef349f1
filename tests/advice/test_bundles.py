"""Which checks go together: against every prefix and every setup, tried out one by one."""

from __future__ import annotations

from types import SimpleNamespace
from typing import TYPE_CHECKING, cast

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tailblock.advice.bundles import Bundle, Bundler, Look
from tailblock.advice.candidates import Candidate, Need
from tailblock.advice.setups import SetupMap, satisfies
from tailblock.knowledge.entries import Setups

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tailblock.knowledge.entries import Check, Condition

SLACK = {"strings": "slack", "bridge": "on"}
AT_PITCH = {"strings": "at-pitch", "bridge": "on"}
# The usual moves: pitch to slack 3 min, slack to off 4, off to slack 8, slack to pitch 15. The
# bridge comes off only by repair work.
WAYS = SetupMap(
    Setups.model_validate({"states": {"strings": ["off", "slack", "at-pitch"],
                                      "bridge": ["on", "off"]},
                           "moves": [
        {"from": {"strings": "at-pitch"}, "to": {"strings": "slack"}, "minutes": 3},
        {"from": {"strings": "slack"}, "to": {"strings": "off"}, "minutes": 4},
        {"from": {"strings": "off"}, "to": {"strings": "slack"}, "minutes": 8},
        {"from": {"strings": "slack"}, "to": {"strings": "at-pitch"}, "minutes": 15},
        {"from": {"bridge": "on"}, "to": {"bridge": "off"}, "minutes": 1, "work": True},
    ]})
)  # fmt: skip

ANYWHERE: Condition = {}
OFF: Condition = {"strings": ("off",)}
LOW: Condition = {"strings": ("off", "slack")}
PITCH: Condition = {"strings": ("at-pitch",)}
OPENED: Condition = {"bridge": ("off",)}


def look(
    name: str,
    bits: float,
    minutes: float = 1.0,
    *,
    setups: Sequence[Condition] = (ANYWHERE,),
    after: Sequence[str] = (),
    family: str | None = None,
    symptom: str | None = None,
) -> Look:
    needs = tuple(
        Need(cast("Check", SimpleNamespace(id=f"{name}{i}")), s) for i, s in enumerate(setups)
    )
    candidate = Candidate(name, name, minutes, None, None, True, (), None, needs)
    symptoms = frozenset({symptom} if symptom else ())
    return Look(candidate, bits, frozenset(after), family, symptoms)


def names(bundle: Bundle) -> list[str]:
    return [one.candidate.tells for one in bundle.looks]


def bundled(
    looks: Sequence[Look], start: dict[str, str] = SLACK, *, held: bool = False
) -> list[list[str]]:
    return [names(bundle) for bundle in Bundler(looks, WAYS, start, held=held).bundles()]


def test_what_is_read_in_one_setup_shares_the_way_to_it() -> None:
    # each alone: 0.4 bits in 4 + 1 minutes, 0.08; together 1.2 in 7, 0.171, before 0.15 here
    off = [look(name, 0.4, setups=[OFF]) for name in ("a", "b", "c")]
    here = look("here", 0.15)
    first, second = Bundler([here, *off], WAYS, SLACK, held=False).bundles()
    assert names(first) == ["a", "b", "c"]
    assert first.minutes == 7.0
    assert first.rate == pytest.approx(1.2 / 7.0)
    assert names(second) == ["here"]


def test_what_would_thin_a_bundle_out_stays_outside() -> None:
    # 0.5 in 5 minutes: 0.1; with a second of 0.05 a minute only 0.55 in 6: 0.092
    looks = [look("good", 0.5, setups=[OFF]), look("weak", 0.05, setups=[OFF])]
    assert bundled(looks) == [["good"], ["weak"]]


def test_a_second_look_at_one_symptom_does_not_pay_for_the_way() -> None:
    looks = [
        look("feeler", 0.4, setups=[OFF], symptom="gap"),
        look("light", 0.4, setups=[OFF], symptom="gap"),
        look("other", 0.3, setups=[OFF]),
    ]
    assert bundled(looks) == [["feeler", "other"], ["light"]]


def test_of_a_family_one_is_enough() -> None:
    looks = [look("rough", 0.1, family="f"), look("fine", 0.3, family="f")]
    assert bundled(looks) == [["fine"]]


def test_a_gate_in_a_bundle_goes_before_what_hangs_on_it() -> None:
    looks = [look("hangs", 0.9, setups=[OFF], after=["gate"]), look("gate", 0.4, setups=[OFF])]
    assert bundled(looks) == [["gate", "hangs"]]


def test_a_ring_of_gates_is_broken_where_it_pays_most() -> None:
    looks = [look("a", 0.1, after=["b"]), look("b", 0.2, after=["a"])]
    assert bundled(looks) == [["b"], ["a"]]


def test_repair_work_is_no_way() -> None:
    assert bundled([look("footprint", 9.0, setups=[OPENED])]) == []


def test_a_reading_in_two_setups_is_a_bundle_of_its_own() -> None:
    change = look("change", 3.0, 2.0, setups=[OFF, LOW, PITCH])
    (bundle,) = Bundler([change], WAYS, SLACK, held=False).bundles()
    # slack first (here), then to pitch 15 or off 4: off first, back to slack 8, to pitch 15
    assert bundle.minutes == 4 + 8 + 15 + 2
    assert bundle.end["strings"] == "at-pitch"


def test_while_danger_is_open_what_has_been_slackened_stays_slack() -> None:
    looks = [look("pitch", 0.01, setups=[PITCH]), look("off", 0.9, setups=[OFF])]
    assert bundled(looks, AT_PITCH) == [["off"], ["pitch"]]
    assert bundled(looks, AT_PITCH, held=True) == [["off"]]


def test_equals_go_by_their_minutes_then_as_the_checklist_has_them() -> None:
    looks = [look("long", 0.5, 2.0), look("second", 0.25), look("third", 0.25)]
    assert bundled(looks) == [["second"], ["third"], ["long"]]


SETUPS = st.sampled_from([ANYWHERE, OFF, LOW, PITCH])
LOOKS = st.lists(
    st.tuples(st.integers(1, 40), st.integers(1, 6), SETUPS), min_size=1, max_size=6
).map(
    lambda rows: [look(f"c{i}", b / 10, float(m), setups=[s]) for i, (b, m, s) in enumerate(rows)]
)
STARTS = st.sampled_from([SLACK, AT_PITCH, {"strings": "off", "bridge": "on"}])


def best_by_trying(looks: Sequence[Look], start: dict[str, str]) -> float:
    """Return the best bits a minute over every setup and every prefix, from the definition."""
    best = 0.0
    for route in WAYS.reach(start):
        there = [
            one for one in looks
            if all(satisfies(route.end, need.setup) for need in one.candidate.needs)
        ]  # fmt: skip
        there.sort(key=lambda one: -one.bits / one.candidate.minutes)
        for n in range(1, len(there) + 1):
            minutes = route.minutes + sum(one.candidate.minutes for one in there[:n])
            best = max(best, sum(one.bits for one in there[:n]) / minutes)
    return best


@given(looks=LOOKS, start=STARTS)
def test_every_bundle_is_the_best_of_all_prefixes_in_all_setups(
    looks: list[Look], start: dict[str, str]
) -> None:
    left, here = list(looks), start
    for bundle in Bundler(looks, WAYS, start, held=False).bundles():
        assert bundle.rate == pytest.approx(best_by_trying(left, here))
        here = dict(bundle.end)
        left = [one for one in left if one not in bundle.looks]
    assert left == []


@given(looks=LOOKS, start=STARTS, held=st.booleans())
def test_a_change_of_setup_is_paid_for_once_and_never_leads_through_what_is_held(
    looks: list[Look], start: dict[str, str], *, held: bool
) -> None:
    here = start
    seen: list[str] = []
    for bundle in Bundler(looks, WAYS, start, held=held).bundles():
        end: Condition = {name: (state,) for name, state in bundle.end.items()}
        way = WAYS.route(here, end, WAYS.tension(here) if held else None)
        assert way is not None
        checks = sum(one.candidate.minutes for one in bundle.looks)
        assert bundle.minutes == pytest.approx(way.minutes + checks)
        assert not held or WAYS.tension(bundle.end) <= WAYS.tension(here)
        here = dict(bundle.end)
        seen += names(bundle)
    assert len(seen) == len(set(seen))
    assert held or len(seen) == len(looks)
