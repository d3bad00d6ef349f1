"""The order in which checks are offered, and when it is enough."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import cache

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tailblock.advice import Advice
from tailblock.advice.candidates import candidates
from tailblock.advice.gain import Gain
from tailblock.advice.held_back import danger_of
from tailblock.advice.next_check import advise, foremost
from tailblock.advice.ranking import weight
from tailblock.advice.results import Reach, Settling
from tailblock.advice.settling import settling
from tailblock.advice.situation import Situation
from tailblock.knowledge.checklist import Checklist

Read = Callable[[str], Checklist]
Stand = Callable[..., Situation]

SHOP = """
parts: [{id: bridge, name: Bridge}]
setups: {states: {strings: ["off", slack, at-pitch], bridge: ["on", "off"]}}
faults:
  - {id: lifting, part: bridge, name: Glue joint opening, plain: L, alone: seldom, harm: serious,
     pace: months, under_tension: danger}
  - {id: hump, part: bridge, name: X hump, plain: H, alone: seldom, harm: serious, pace: months,
     under_tension: watch}
  - {id: worn, part: bridge, name: Worn frets, plain: W, alone: seldom, harm: playability,
     pace: months, under_tension: fine}
"""


class Told(dict[str, tuple[str, Mapping[str, float]]]):
    """Checks by id: what else their entry says, and the bits that they tell about each fault."""

    def yaml(self) -> str:
        lines = ["checks:"]
        for id_, (rest, about) in self.items():
            shows = ", ".join(f"{{fault: {f}, at_least: {{open: often}}}}" for f in about)
            minutes = "" if "minutes:" in rest else "minutes: 1, "
            lines.append(
                f"  - {{id: {id_}, part: bridge, title: The {id_}, ask: A?, how: Look., {minutes}"
                f"choices: [{{level: shut, text: N}}, {{level: open, text: Y}}], "
                f"shows: [{shows}], {rest}}}"
            )
        return "\n".join(lines) + "\n"


SLACK = "setup: {strings: slack, bridge: 'on'}\n"
AT_PITCH = "setup: {strings: at-pitch, bridge: 'on'}\n"


@pytest.fixture(scope="session")
def advised(read_checklist: Read, situation: Stand) -> Callable[..., Advice]:
    shop_of = cache(read_checklist)

    def read(
        told: Told,
        probability: Mapping[str, float] | None = None,
        *,
        more: str = "",
        visit: str = SLACK,
        accepted: tuple[str, ...] = (),
        gains: Mapping[str, Gain] | None = None,
    ) -> Advice:
        shop = shop_of(SHOP + told.yaml() + more)
        stand = situation(shop, visit)

        def bits(about: Mapping[str, float]) -> float:
            return sum(weight(shop.faults[f], shop.limits) * b for f, b in about.items())

        all_gains = {id_: Gain(id_, bits(about), about) for id_, (_, about) in told.items()}
        all_gains |= gains or {}
        shown = {id_: set(gain.about) for id_, gain in all_gains.items()}
        chances = {"lifting": 0.05, "hump": 0.1, "worn": 0.1, **(probability or {})}
        found = candidates(stand)
        held = bool(danger_of(shop, chances, accepted).open)
        ways = settling(shop, found, all_gains, shown, held=held)
        advice = advise(stand, found, all_gains, shown, chances, settled_by=ways, accepted=accepted)
        if not accepted:  # whatever is asked here, the first alone is the first of all
            first = foremost(stand, found, all_gains, shown, chances)
            heads = [(one.check, one.step) for one in advice.advice[:1]]
            assert ([(first.way.check, first.step)] if first else []) == heads
        return advice

    return read


Ask = Callable[..., Advice]


def order(advice: Advice) -> list[str]:
    return [entry.check for entry in advice.advice]


def steps(advice: Advice) -> dict[str, str]:
    return {entry.check: entry.step for entry in advice.advice}


# --- gain per minute ---------------------------------------------------------------------------


def test_the_best_gain_per_minute_comes_first(advised: Ask) -> None:
    told = Told(
        slow=("minutes: 4", {"hump": 0.4}),  # 0.10 a minute
        quick=("", {"hump": 0.2}),  # 0.20
        light=("", {"worn": 0.3}),  # 0.15: playability weighs 0.5
        long=("minutes: 10", {"hump": 0.9}),  # 0.09
    )
    advice = advised(told)
    assert order(advice) == ["quick", "light", "slow", "long"]
    assert [entry.bits_per_minute for entry in advice.advice] == pytest.approx(
        [0.2, 0.15, 0.1, 0.09]
    )


def test_the_change_of_setup_is_paid_for(advised: Ask) -> None:
    told = Told(
        off=("setup: {strings: 'off'}", {"hump": 0.4}),  # 0.4 / (4 + 1)
        here=("", {"hump": 0.1}),  # 0.1 / 1
        pitch=("setup: {strings: at-pitch}", {"hump": 0.9}),  # 0.9 / (15 + 1)
    )
    advice = advised(told)
    assert order(advice) == ["here", "off", "pitch"]
    assert [entry.setup_minutes for entry in advice.advice] == [0, 4, 15]
    assert [entry.setup["strings"] for entry in advice.advice] == ["slack", "off", "at-pitch"]


def test_equals_go_by_their_minutes_then_as_the_checklist_has_them(advised: Ask) -> None:
    told = Told(
        long=("minutes: 2", {"hump": 0.4}),
        second=("", {"hump": 0.2}),
        third=("", {"hump": 0.2}),
    )
    assert order(advised(told)) == ["second", "third", "long"]


def test_what_tells_nothing_is_not_advised(advised: Ask) -> None:
    assert order(advised(Told(idle=("", {"hump": 0.0}), good=("", {"hump": 0.1})))) == ["good"]


def test_repair_work_is_never_advised_as_inspection(advised: Ask) -> None:
    told = Told(footprint=("setup: {bridge: 'off'}", {"hump": 0.9}))
    advice = advised(told, {"hump": 0.5})
    assert order(advice) == []
    assert [(u.fault, u.settled_by) for u in advice.unsettled] == [
        ("hump", Settling("footprint", "opened"))
    ]


def test_of_a_family_only_the_best_is_named(advised: Ask) -> None:
    told = Told(rough=("", {"hump": 0.1}), fine=("", {"hump": 0.3}), other=("", {"hump": 0.2}))
    more = "families: [{id: same, checks: [rough, fine]}]\n"
    assert order(advised(told, more=more)) == ["fine", "other"]


# --- order before gain -------------------------------------------------------------------------

STAGES = "stages: [{id: arrival, budget: 12 min, opening: [second, first]}]\n"


def test_the_opening_list_comes_first_as_its_author_wrote_it(advised: Ask) -> None:
    told = Told(
        best=("", {"hump": 0.9}),
        first=("", {"hump": 0.1}),
        second=("", {"hump": 0.0}),
    )
    advice = advised(told, more=STAGES)
    assert order(advice) == ["second", "first", "best"]
    assert steps(advice) == {"second": "opening", "first": "opening", "best": "gain"}


def test_what_the_opening_list_has_been_told_is_not_asked_again(advised: Ask) -> None:
    told = Told(first=("", {"hump": 0.1}), second=("", {"hump": 0.0}))
    visit = SLACK + "readings: [{check: second, value: shut}]\n"
    assert order(advised(told, more=STAGES, visit=visit)) == ["first"]


GATE = "gate: {from: open, of: [hangs], then: no-evidence}"


@pytest.mark.parametrize(
    ("best", "expected"),
    [
        (0.2, ["gate", "hangs", "best"]),  # gate and what hangs on it: 0.5 bits in two minutes
        (0.3, ["best", "gate", "hangs"]),
    ],
)
def test_a_gate_comes_before_what_hangs_on_it_for_what_that_is_worth(
    advised: Ask, best: float, expected: list[str]
) -> None:
    told = Told(
        hangs=("", {"hump": 0.5}),
        best=("", {"hump": best}),
        gate=(GATE, {"hump": 0.0}),
    )
    advice = advised(told)
    assert order(advice) == expected
    gate = next(one for one in advice.advice if one.check == "gate")
    assert gate.step == "gate"
    assert gate.reason == "Decides whether other answers count: the hangs."


def test_a_gate_decides_about_a_quantity_as_well(advised: Ask) -> None:
    told = Told(gate=("gate: {from: open, of: [length], then: no-evidence}", {"hump": 0.0}))
    span = """
  - id: span
    part: bridge
    title: Span
    ask: How far?
    how: Measure.
    minutes: 1
    measure:
      quantity: length
      unit: mm
      possible: {from: 0 mm, to: 9 mm}
      gauge: {resolution: 1 mm, repeatability: 1 mm}
      levels: [{level: fine, up_to: 2 mm}, {level: wrong}]
    shows: [{fault: hump, at_least: {wrong: often}}]
"""
    gains = {"span": Gain("span", 0.3, {"hump": 0.3})}
    assert order(advised(told, more=span, gains=gains)) == ["gate", "span"]


def test_a_gate_before_nothing_worth_its_minutes_waits_for_its_turn(advised: Ask) -> None:
    told = Told(
        hangs=("minutes: 5", {"hump": 0.05}),  # 0.01 bits a minute: below the limit of 0.02
        best=("", {"hump": 0.9}),
        gate=(GATE, {"hump": 0.0}),
    )
    assert order(advised(told)) == ["best", "gate", "hangs"]


def test_a_gate_over_what_has_been_answered_is_asked(advised: Ask) -> None:
    told = Told(hangs=("", {"hump": 0.5}), best=("", {"hump": 0.9}), gate=(GATE, {"hump": 0.0}))
    visit = SLACK + "readings: [{check: hangs, value: open}]\n"
    advice = advised(told, visit=visit)
    assert order(advice) == ["gate", "best"]
    assert advice.advice[0].reason == "Decides whether other answers count: the hangs."


def test_a_gate_that_needs_another_setup_comes_when_its_minutes_pay(advised: Ask) -> None:
    told = Told(
        hangs=("", {"hump": 0.5}),
        best=("", {"hump": 0.3}),
        gate=(f"{GATE}, setup: {{strings: 'off'}}", {"hump": 0.0}),
    )
    # gate and what hangs on it: 0.5 bits in 4 + 1 + 1 minutes, against 0.3 in one
    assert order(advised(told)) == ["best", "gate", "hangs"]


@pytest.mark.parametrize("risk", ["risk: heat", "risk: solvent", "loads: true"])
def test_a_risk_comes_after_every_harmless_look_at_the_same_fault(advised: Ask, risk: str) -> None:
    told = Told(
        risky=(risk, {"hump": 0.9}),
        glance=("minutes: 5", {"hump": 0.1, "worn": 0.1}),
        other=("minutes: 9", {"worn": 0.2}),  # shows another fault
    )
    advice = advised(told)
    assert order(advice) == ["glance", "risky", "other"]
    why = {
        "risk: heat": "It brings heat to the instrument",
        "risk: solvent": "It brings solvent to the finish",
        "loads: true": "It adds load",
    }[risk]
    assert advice.advice[1].reason == (
        f"Tells most about X hump (now 10 %). {why}, so it comes after all harmless looks at the "
        "same faults."
    )
    assert "harmless" not in advice.advice[0].reason


# --- danger ------------------------------------------------------------------------------------

DANGER = Told(
    frets=("", {"worn": 0.9}),
    lamp=("", {"lifting": 0.1}),
    feeler=("setup: {strings: [slack, 'off']}", {"lifting": 0.3}),
    press=("loads: true", {"lifting": 0.9}),
    action=("setup: {strings: at-pitch}", {"worn": 0.4}),
)


def test_what_clears_a_danger_comes_before_gain(advised: Ask) -> None:
    advice = advised(DANGER, {"lifting": 0.2})
    assert order(advice) == ["feeler", "lamp", "frets"]
    assert steps(advice) == {"feeler": "clears", "lamp": "clears", "frets": "gain"}
    assert advice.advice[0].reason == (
        "Could clear glue joint opening (now 20 %), which holds moves back."
    )


def test_what_clears_a_danger_comes_before_a_gate(advised: Ask) -> None:
    told = Told(hangs=("", {"hump": 0.5}), gate=(GATE, {"hump": 0.0}), lamp=("", {"lifting": 0.1}))
    assert order(advised(told, {"lifting": 0.2}))[:2] == ["lamp", "gate"]


def test_what_tells_hardly_anything_of_a_danger_waits_for_its_turn(advised: Ask) -> None:
    told = Told(
        frets=("", {"worn": 0.9}),
        glance=("", {"lifting": 0.019}),  # bits a minute below the limit of 0.02
        lamp=("", {"lifting": 0.02}),
    )
    advice = advised(told, {"lifting": 0.2})
    assert order(advice) == ["lamp", "frets", "glance"]
    assert steps(advice) == {"lamp": "clears", "frets": "gain", "glance": "gain"}
    assert advice.held_back[0].clear_with == ("lamp", "glance")


def test_what_the_player_says_clears_no_danger(advised: Ask) -> None:
    told = Told(heard=("asked: player", {"lifting": 0.3}), lamp=("", {"lifting": 0.1}))
    advice = advised(told, {"lifting": 0.2})
    assert steps(advice) == {"heard": "asked", "lamp": "clears"}
    assert advice.held_back[0].clear_with == ("lamp",)


@pytest.mark.parametrize(
    ("heard", "readings", "first"),
    [
        (0.3, "", "heard"),  # tells more for its minute than the look that clears
        (0.05, "", "lamp"),  # tells less
        (0.3, "{check: done, value: shut}", "lamp"),  # the bench has begun: the player is gone
    ],
)
def test_the_player_is_asked_while_there_what_tells_more_than_the_next_look(
    advised: Ask, heard: float, readings: str, first: str
) -> None:
    told = Told(
        heard=("asked: player", {"lifting": heard}), lamp=("", {"lifting": 0.1}), done=("", {})
    )
    visit = f"{SLACK}\nreadings: [{readings}]"
    assert order(advised(told, {"lifting": 0.2}, visit=visit))[0] == first


def test_with_no_danger_open_nothing_is_kept_from_the_list(advised: Ask) -> None:
    advice = advised(DANGER, {"lifting": 0.1})
    assert order(advice) == ["frets", "feeler", "lamp", "press", "action"]
    assert advice.held_back == ()


def test_what_is_accepted_is_advised_again_and_flagged(advised: Ask) -> None:
    advice = advised(DANGER, {"lifting": 0.2}, accepted=("lifting",))
    assert order(advice) == ["frets", "feeler", "lamp", "press", "action"]
    assert advice.held_back
    assert all(entry.accepted for entry in advice.held_back)


@pytest.mark.parametrize(
    ("action", "expected"),
    [
        (0.5, ["action", "lamp", "feeler", "frets"]),
        (0.4, ["lamp", "feeler", "frets"]),  # less than half as much a minute as the frets
    ],
)
def test_arrived_at_pitch_what_can_only_be_read_there_comes_first_if_it_tells_much(
    advised: Ask, action: float, expected: list[str]
) -> None:
    told = Told(DANGER | {"action": ("setup: {strings: at-pitch}", {"worn": action})})
    advice = advised(told, {"lifting": 0.2}, visit=AT_PITCH)
    assert order(advice) == expected
    assert steps(advice).get("action", "at-pitch") == "at-pitch"
    assert advice.slacken_now == ()


def test_a_likely_danger_at_pitch_leaves_no_time_for_readings_there(advised: Ask) -> None:
    advice = advised(DANGER, {"lifting": 0.5}, visit=AT_PITCH)
    assert advice.slacken_now == ("lifting",)
    # the feeler needs it slack, and once slack it stays so: nothing at pitch is left to read
    assert order(advice) == ["lamp", "feeler", "frets"]


# --- enough ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("bits", "minutes", "enough"),
    [(0.02, 1, False), (0.0199, 1, True), (0.02, 2, True), (0.08, 4, False)],
)
def test_enough_is_when_no_minute_is_worth_its_bits(
    advised: Ask, bits: float, minutes: float, *, enough: bool
) -> None:
    told = Told(look=(f"minutes: {minutes}", {"hump": bits}))
    assert advised(told).enough is enough


@pytest.mark.parametrize(("lifting", "enough"), [(0.10, True), (0.11, False)])
def test_it_is_not_enough_while_a_danger_can_be_cleared(
    advised: Ask, lifting: float, *, enough: bool
) -> None:
    told = Told(lamp=("minutes: 9", {"lifting": 0.001}))
    assert advised(told, {"lifting": lifting}).enough is enough


def test_it_is_enough_if_looking_cannot_clear_the_danger(advised: Ask) -> None:
    told = Told(press=("loads: true", {"lifting": 0.9}))
    advice = advised(told, {"lifting": 0.3})
    assert advice.enough
    assert advice.held_back[0].clear_with == ()


def test_it_is_enough_when_nothing_is_left(advised: Ask) -> None:
    advice = advised(Told(look=("", {"hump": 0.0})))
    assert (advice.enough, advice.advice) == (True, ())


@pytest.mark.parametrize(
    ("probability", "listed"),
    [
        ({"hump": 0.2, "lifting": 0.0}, ["hump"]),
        ({"hump": 0.8}, ["hump"]),
        ({"hump": 0.199}, []),
        ({"hump": 0.801}, []),
        # by weight times entropy: hump 1 x 0.88 bits, worn 0.5 x 1 bit still matters
        ({"hump": 0.3, "worn": 0.5}, ["hump", "worn"]),
    ],
)
def test_what_is_unsettled_is_listed(
    advised: Ask, probability: Mapping[str, float], listed: list[str]
) -> None:
    advice = advised(Told(idle=("", {"hump": 0.0})), probability)
    assert [entry.fault for entry in advice.unsettled] == listed


def test_what_matters_little_is_not_called_unsettled(advised: Ask) -> None:
    more = "limits: {harm_weight: {serious: 0.49}}\n"
    advice = advised(Told(idle=("", {"hump": 0.0})), {"hump": 0.5}, more=more)
    assert advice.unsettled == ()


@pytest.mark.parametrize(
    ("rest", "reach"),
    [
        ("", "now"),
        ("setup: {strings: at-pitch}", "held-back"),
        ("loads: true", "held-back"),
        ("setup: {bridge: 'off'}", "opened"),
    ],
)
def test_an_unsettled_fault_names_what_would_settle_it_and_how_to_reach_it(
    advised: Ask, rest: str, reach: Reach
) -> None:
    told = Told(weak=("", {"hump": 0.03}), strong=(rest, {"hump": 0.4}))
    unsettled = {u.fault: u for u in advised(told, {"hump": 0.5, "lifting": 0.2}).unsettled}
    assert unsettled["hump"].settled_by == Settling("strong", reach)
    assert unsettled["lifting"].settled_by is None


HELD, SHUT, ASKED = "loads: true", "setup: {bridge: 'off'}", "asked: player"


@pytest.mark.parametrize(
    ("told", "named"),
    [
        # what can be done now goes before what says more and has to wait
        (Told(now=("", {"hump": 0.1}), best=(HELD, {"hump": 0.4})), Settling("now", "now")),
        (Told(now=("", {"hump": 0.1}), best=(SHUT, {"hump": 0.4})), Settling("now", "now")),
        # unless it says less than a tenth of it
        (Told(now=("", {"hump": 0.03}), best=(HELD, {"hump": 0.4})), Settling("best", "held-back")),
        # of two that are equally near the one that says more
        (Told(a=("", {"hump": 0.1}), b=("", {"hump": 0.2})), Settling("b", "now")),
        # the player's word goes last, whatever it would tell
        (Told(word=(ASKED, {"hump": 0.4}), look=(HELD, {"hump": 0.01})),
         Settling("look", "held-back")),
        (Told(word=(ASKED, {"hump": 0.4})), Settling("word", "asked")),
    ],
)  # fmt: skip
def test_what_can_be_done_now_at_the_bench_settles_first(
    advised: Ask, told: Told, named: Settling
) -> None:
    unsettled = {u.fault: u for u in advised(told, {"hump": 0.5, "lifting": 0.2}).unsettled}
    assert unsettled["hump"].settled_by == named


# --- minutes -----------------------------------------------------------------------------------


def test_the_minutes_of_the_stage_and_what_they_cannot_buy(advised: Ask) -> None:
    told = Told(
        done=("minutes: 3", {"hump": 0.0}),
        a=("minutes: 2", {"hump": 0.9}),
        b=("minutes: 2, setup: {strings: 'off'}", {"hump": 0.8}),
        c=("minutes: 2", {"hump": 0.1}),
        idle=("minutes: 9", {"hump": 0.01}),  # not worth its minutes, so nothing is missed
    )
    more = "stages: [{id: arrival, budget: 12 min}]\n"
    # at pitch 3 min, to slack 3 more
    visit = (
        AT_PITCH
        + "readings: [{check: done, value: shut}, "
        + ("{check: done, value: shut, setup: {strings: slack}}]\n")
    )
    advice = advised(told, more=more, visit=visit)
    assert (advice.minutes_used, advice.budget) == (9, 12)
    assert order(advice) == ["a", "b", "c", "idle"]
    assert advice.beyond == ("b", "c")  # a ends at 11, b at 17


def test_a_longer_stage_buys_it_all(advised: Ask) -> None:
    told = Told(a=("", {"hump": 0.9}), b=("setup: {strings: 'off'}", {"hump": 0.8}))
    advice = advised(told, more="stages: [{id: arrival, budget: 1 h}]\n")
    assert (advice.budget, advice.beyond) == (60, ())


def test_a_stage_that_the_checklist_does_not_name_has_no_budget_and_no_opening_list(
    advised: Ask,
) -> None:
    told = Told(a=("minutes: 200", {"hump": 0.9}))
    advice = advised(told, visit=SLACK + "stage: elsewhere\n")
    assert (advice.budget, advice.beyond, order(advice)) == (None, (), ["a"])


def test_an_answer_given_twice_in_one_setup_is_counted_once(advised: Ask) -> None:
    told = Told(a=("minutes: 2", {"hump": 0.9}))
    visit = SLACK + "readings: [{check: a, value: shut}, {check: a, value: open}]\n"
    assert advised(told, visit=visit).minutes_used == 2


# --- bundles -----------------------------------------------------------------------------------


def test_each_check_says_in_which_bundle_it_stands(advised: Ask) -> None:
    off = "setup: {strings: 'off'}"
    told = Told(
        here=("", {"hump": 0.15}),
        a=(off, {"hump": 0.4}),
        b=(off, {"hump": 0.4}),
        c=(f"{off}, minutes: 2", {"worn": 0.8}),
        weak=("", {"hump": 0.01}),
    )
    advice = advised(told)
    assert [(entry.check, entry.bundle) for entry in advice.advice] == [
        ("a", 0), ("b", 0), ("c", 0), ("here", 0), ("weak", 1)
    ]  # fmt: skip
    first, second = advice.bundles
    assert (first.checks, first.minutes, first.setup_minutes) == (("a", "b", "c", "here"), 5, 4)
    assert (first.worth_it, second.worth_it) == (True, False)
    assert first.reason == (
        "With strings off (4 min to get there, paid once for all): 4 checks, 5 min; they tell "
        "most about X hump; after it about worn frets."
    )
    here = "As it stands (strings off, bridge on)"
    assert second.reason == f"{here}: 1 check, 1 min; it tells most about X hump."


def test_it_is_not_enough_while_a_bundle_is_worth_its_minutes(advised: Ask) -> None:
    # each alone 0.07 bits in 4 + 1 minutes: 0.014; together 0.14 in 6: 0.023, above 0.02
    off = "setup: {strings: 'off'}"
    told = Told(a=(off, {"hump": 0.07}), b=(off, {"hump": 0.07}))
    assert not advised(told).enough
    assert advised(Told(a=(off, {"hump": 0.07}))).enough


# --- sentences ---------------------------------------------------------------------------------


def test_a_reason_names_the_fault_that_moves_most_and_where_it_stands(advised: Ask) -> None:
    told = Told(look=("", {"hump": 0.2, "worn": 0.3}))  # by weight 0.2 against 0.15
    assert advised(told, {"hump": 0.34}).advice[0].reason == "Tells most about X hump (now 34 %)."


def test_a_reason_of_the_opening_list(advised: Ask) -> None:
    told = Told(first=("", {"hump": 0.1}), second=("", {"hump": 0.0}))
    reasons = [entry.reason for entry in advised(told, more=STAGES).advice]
    assert reasons == [
        "Belongs to the first looks of this visit.",
        "Belongs to the first looks of this visit, and tells most about X hump (now 10 %).",
    ]


def test_a_reason_at_pitch(advised: Ask) -> None:
    told = Told(DANGER | {"action": ("setup: {strings: at-pitch}", {"worn": 0.5})})
    advice = advised(told, {"lifting": 0.2}, visit=AT_PITCH)
    assert advice.advice[0].reason == (
        "Can only be read at pitch, and it stands at pitch now: "
        "tells most about worn frets (now 10 %)."
    )


# --- properties --------------------------------------------------------------------------------

RESTS = (
    "",
    "minutes: 5",
    "risk: heat",
    "loads: true",
    "setup: {strings: at-pitch}",
    "setup: {strings: 'off'}",
)
BITS = st.sampled_from([0.0, 0.01, 0.1, 0.3, 0.9])


@given(
    bits=st.lists(st.tuples(BITS, BITS), min_size=len(RESTS), max_size=len(RESTS)),
    lifting=st.sampled_from([0.05, 0.2, 0.7]),
    visit=st.sampled_from([SLACK, AT_PITCH]),
)
def test_whatever_the_gains_nothing_held_back_is_on_the_list(
    advised: Ask, bits: list[tuple[float, float]], lifting: float, visit: str
) -> None:
    told = Told(
        {
            f"c{place}": (rest, {"lifting": a, "hump": b})
            for place, (rest, (a, b)) in enumerate(zip(RESTS, bits, strict=True))
        }
    )
    advice = advised(told, {"lifting": lifting}, visit=visit)
    rests = [told[check][0] for check in order(advice)]
    assert len(set(order(advice))) == len(rests)
    assert all(entry.gain_bits > 0.0 for entry in advice.advice)
    if lifting > 0.1:
        assert "loads: true" not in rests
        assert visit == AT_PITCH or "setup: {strings: at-pitch}" not in rests
    first_risk = min((rests.index(r) for r in rests if r in RESTS[2:4]), default=len(rests))
    assert all(rest in RESTS[2:4] for rest in rests[first_risk:])
