"""Which checks can be offered on a visit, and what the way to them costs."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest

from tailblock.advice.candidates import Candidate, candidates
from tailblock.advice.situation import Situation
from tailblock.knowledge.checklist import Checklist

Read = Callable[[str], Checklist]
Stand = Callable[..., Situation]

SHOP = """
parts: [{id: bridge, name: Bridge}]
traits:
  - {id: joint, ask: Which joint?, values: [dovetail, bolt-on, glued, unknown],
     shares: {dovetail: 0.5, bolt-on: 0.3, glued: 0.2}}
setups: {states: {strings: ["off", slack, at-pitch], bridge: ["on", "off"]}}
stages: [{id: arrival, budget: 12 min}, {id: opened, budget: 45 min}]
faults:
  - {id: lifting, part: bridge, name: L, plain: L, alone: seldom, harm: serious, pace: months,
     under_tension: danger}
checks:
  - id: look
    part: bridge
    title: Look
    ask: Open?
    how: Look.
    minutes: 1
    choices: [{level: shut, text: "No"}, {level: slight, text: Some}, {level: open, text: "Yes"}]
    shows: [{fault: lifting, at_least: {slight: usually}}]
"""


def check(id_: str, rest: str = "") -> str:
    return f"""
  - id: {id_}
    part: bridge
    title: {id_.capitalize()}
    ask: Is it?
    how: Look.
    minutes: 1
    choices: [{{level: shut, text: N}}, {{level: slight, text: S}}, {{level: open, text: Y}}]
    shows: [{{fault: lifting, at_least: {{slight: usually}}}}]
    {rest}
"""


TILT = """
    measure: &tilt
      quantity: angle
      unit: deg
      possible: {from: -20 deg, to: 20 deg}
      gauge: {resolution: 0.1 deg, repeatability: 0.2 deg}
      levels: [{level: upright, up_to: 2 deg}, {level: leaning}]
    shows: [{fault: lifting, at_least: {leaning: often}}]
"""
DERIVED = (
    """
  - id: tilt
    part: bridge
    title: Tilt
    ask: Which angle?
    how: Measure.
    minutes: 3
    setup: {strings: [slack, at-pitch]}"""
    + TILT
    + """
  - id: tilt-change
    part: bridge
    title: Tilt change
    ask: How far?
    derived: tilt_change
    from:
      pitch: {check: tilt, setup: {strings: at-pitch}}
      slack: {check: tilt, setup: {strings: slack}}
    measure: *tilt
    shows: [{fault: lifting, at_least: {leaning: often}}]
"""
)


@pytest.fixture
def offered(read_checklist: Read, situation: Stand) -> Callable[..., dict[str, Candidate]]:
    """Return the candidates of a visit by the check that tells."""

    def read(more: str, visit: str = "{}", **traits: str) -> dict[str, Candidate]:
        shop = read_checklist(SHOP + more)
        found = candidates(situation(shop, visit, **traits))
        return {candidate.tells: candidate for candidate in found}

    return read


Offered = Callable[..., dict[str, Candidate]]
AT_PITCH = "{strings: at-pitch, bridge: 'on'}"
SLACK = "{strings: slack, bridge: 'on'}"
OFF = "{strings: 'off', bridge: 'on'}"


def visit(setup: str, *readings: str, stage: str = "arrival") -> str:
    listed = "".join(f"\n  - {reading}" for reading in readings)
    return f"stage: {stage}\nsetup: {setup}\n" + (f"readings:{listed}\n" if listed else "")


@pytest.mark.parametrize(
    ("rest", "stage", "is_offered"),
    [
        ("", "arrival", True),
        ("stages: [arrival]", "arrival", True),
        ("stages: [opened]", "arrival", False),
        ("stages: [opened]", "opened", True),
    ],
)
def test_a_check_belongs_to_its_stages(
    offered: Offered, rest: str, stage: str, *, is_offered: bool
) -> None:
    assert ("tap" in offered(check("tap", rest), visit(SLACK, stage=stage))) is is_offered


@pytest.mark.parametrize(
    ("joint", "label"),
    [("bolt-on", None), ("unknown", "if bolt-on"), ("dovetail", "nothing")],
)
def test_a_check_applies_to_traits_and_says_so_if_they_are_unknown(
    offered: Offered, joint: str, label: str | None
) -> None:
    found = offered(check("bolts", "applies_when: {joint: bolt-on}"), visit(SLACK), joint=joint)
    if label == "nothing":
        assert "bolts" not in found
    else:
        assert found["bolts"].if_trait == label


@pytest.mark.parametrize(
    ("readings", "is_offered"),
    [
        ((), True),
        (("{check: look, value: open}",), False),
        (("{check: look, value: open, retracted: true}",), True),
        # what cannot be said here is not asked again here ...
        (("{check: look, value: unknown}",), False),
        # ... but in another setup
        (
            ("{check: look, value: unknown}", "{check: tap, value: shut, setup: {strings: 'off'}}"),
            True,
        ),
        # unknown never erases an answer
        (("{check: look, value: open}", "{check: look, value: unknown}"), False),
    ],
)
def test_a_check_is_asked_until_it_is_answered(
    offered: Offered, readings: tuple[str, ...], *, is_offered: bool
) -> None:
    assert ("look" in offered(check("tap"), visit(SLACK, *readings))) is is_offered


@pytest.mark.parametrize(
    ("setup", "needs", "way", "calm"),
    [
        (SLACK, "{strings: [slack, 'off']}", 0, 0),
        (AT_PITCH, "{strings: [slack, 'off']}", 3, 3),
        (AT_PITCH, "{strings: 'off'}", 7, 7),
        (SLACK, "{strings: at-pitch}", 15, None),  # more tension than now
        (OFF, "{strings: at-pitch}", 23, None),
        (SLACK, "{bridge: 'off'}", None, None),  # no way but by repair work
    ],
)
def test_the_way_to_a_check(
    offered: Offered, setup: str, needs: str, way: float | None, calm: float | None
) -> None:
    candidate = offered(check("tap", f"setup: {needs}"), visit(setup))["tap"]
    assert (candidate.way.minutes if candidate.way else None) == way
    assert (candidate.calm_way.minutes if candidate.calm_way else None) == calm


@pytest.mark.parametrize(
    ("rest", "harmless", "loading"),
    [
        ("", True, ()),
        ("risk: heat", False, ()),
        ("risk: solvent", False, ()),
        ("risk: load", False, ("tap",)),
        ("loads: true", False, ("tap",)),
    ],
)
def test_what_is_harmless(
    offered: Offered, rest: str, *, harmless: bool, loading: tuple[str, ...]
) -> None:
    candidate = offered(check("tap", rest), visit(SLACK))["tap"]
    assert (candidate.harmless, candidate.loading) == (harmless, loading)


@pytest.mark.parametrize(
    ("value", "is_offered"), [(None, False), ("shut", False), ("slight", True), ("open", True)]
)
def test_a_check_that_follows_a_finding_waits_for_it(
    offered: Offered, value: str | None, *, is_offered: bool
) -> None:
    readings = () if value is None else (f"{{check: look, value: {value}}}",)
    more = check("deeper", "follows: {check: look, from: slight}")
    assert ("deeper" in offered(more, visit(SLACK, *readings))) is is_offered


def test_of_a_family_that_has_an_answer_nothing_more_is_asked(offered: Offered) -> None:
    more = check("tap") + "families: [{id: both, checks: [tap, look]}]\n"
    assert {"tap", "look"} <= offered(more, visit(SLACK)).keys()
    assert not offered(more, visit(SLACK, "{check: look, value: shut}"))


def test_a_derived_check_is_one_candidate_with_the_minutes_of_its_unread_inputs(
    offered: Offered,
) -> None:
    found = offered(DERIVED, visit(AT_PITCH))
    change = found["tilt-change"]
    assert (change.check, change.minutes) == ("tilt", 6)
    assert change.way is not None
    assert (change.way.check, change.way.minutes, change.way.end["strings"]) == ("tilt", 3, "slack")


def test_of_a_derived_check_only_the_missing_input_is_left(offered: Offered) -> None:
    found = offered(DERIVED, visit(AT_PITCH, "{check: tilt, value: 1 deg}"))
    assert "tilt" not in found  # read, by itself
    change = found["tilt-change"]
    assert change.minutes == 3
    assert change.way is not None
    assert change.way.minutes == 3  # to slack


def test_a_derived_check_with_all_inputs_is_read(offered: Offered) -> None:
    readings = (
        "{check: tilt, value: 1 deg}",
        "{check: tilt, value: 3 deg, setup: {strings: slack}}",
    )
    assert "tilt-change" not in offered(DERIVED, visit(AT_PITCH, *readings))


TWICE = (
    DERIVED
    + """
  - id: twice
    part: bridge
    title: Twice
    ask: How far?
    derived: tilt_change
    from:
      pitch: {check: tilt-change}
      slack: {check: tilt, setup: {strings: slack}}
    measure: *tilt
    shows: [{fault: lifting, at_least: {leaning: often}}]
"""
)


@pytest.mark.parametrize(
    ("readings", "minutes"),
    [
        ((), 6),  # one reading serves both steps and is taken once
        (("{check: tilt, value: 1 deg}",), 3),
        (
            ("{check: tilt, value: 1 deg}", "{check: tilt, value: 3 deg, setup: {strings: slack}}"),
            None,
        ),
    ],
)
def test_a_derived_check_may_rest_on_another(
    offered: Offered, readings: tuple[str, ...], minutes: float | None
) -> None:
    twice = offered(TWICE, visit(AT_PITCH, *readings)).get("twice")
    assert (twice.minutes if twice else None) == minutes


def test_a_derived_check_waits_for_an_input_that_cannot_be_said_here(offered: Offered) -> None:
    assert "tilt-change" not in offered(DERIVED, visit(AT_PITCH, "{check: tilt, value: unknown}"))


def test_a_derived_check_needs_what_the_instrument_must_give(
    read_checklist: Read, situation: Stand
) -> None:
    shop = read_checklist(
        SHOP
        + check("tap")
        + """
  - id: place
    part: bridge
    title: Place
    ask: Where?
    derived: place
    from: {scale: {given: scale_length}, other: {check: span}}
    measure: &span
      quantity: length
      unit: mm
      possible: {from: 0 mm, to: 900 mm}
      gauge: {resolution: 1 mm, repeatability: 1 mm}
      levels: [{level: right, up_to: 2 mm}, {level: wrong}]
    shows: [{fault: lifting, at_least: {wrong: often}}]
  - {id: span, part: bridge, title: Span, ask: How far?, how: Measure., minutes: 2, measure: *span}
"""
    )
    known = situation(shop, visit(SLACK))
    unknown = replace(known, instrument=replace(known.instrument, scale_length=None))
    assert [c.check for c in candidates(known) if c.tells == "place"] == ["span"]
    assert not [c for c in candidates(unknown) if c.tells == "place"]


GATED = check(
    "state",
    "gate: {from: slight, of: [action], then: no-evidence}",
) + check("action", "setup: {strings: at-pitch}")


def test_a_gate_that_has_fired_shuts_its_checks(offered: Offered) -> None:
    assert "action" in offered(GATED, visit(AT_PITCH, "{check: state, value: shut}"))
    assert "action" not in offered(GATED, visit(AT_PITCH, "{check: state, value: open}"))


def test_a_gate_that_asks_for_a_tension_holds_for_the_one_it_was_read_under(
    offered: Offered,
) -> None:
    # found slack: the action could be read once it is at pitch, and the gate before it again
    of_tension = GATED.replace("gate:", "setup: {strings: [slack, at-pitch]}\n    gate:", 1)
    slack = offered(of_tension, visit(SLACK, "{check: state, value: open}"))
    assert "action" in slack
    assert "state" not in slack
    strung = offered(
        of_tension,
        visit(
            SLACK,
            "{check: state, value: open}",
            "{check: look, value: shut, setup: {strings: at-pitch}}",
        ),
    )
    assert {"action", "state"} <= strung.keys()


def test_a_gate_of_the_air_is_not_asked_again_once_it_is_slack(offered: Offered) -> None:
    gated = check("air", "gate: {from: slight, of: [seam], then: no-evidence}") + check("seam")
    cold = "{check: air, value: open}"
    slackened = (cold, "{check: look, value: shut, setup: {strings: slack}}")
    for readings in ((cold,), slackened):
        assert not {"air", "seam"} & offered(gated, visit(AT_PITCH, *readings)).keys()


def test_an_answer_that_a_gate_silenced_is_asked_again_in_another_setup(offered: Offered) -> None:
    gate = "gate: {from: open, of: [look], then: no-evidence}"
    more = check("state", f"setup: {{strings: [slack, 'off']}}\n    {gate}")
    silenced = ("{check: look, value: shut}", "{check: state, value: open}")
    assert "look" not in offered(more, visit(SLACK, *silenced))
    moved = (*silenced, "{check: tap, value: shut, setup: {strings: 'off'}}")
    assert "look" in offered(more + check("tap"), visit(SLACK, *moved))
