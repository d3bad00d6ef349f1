"""Every rule of the grades at its limits.

The limits are this project's own and from memory; the two axes and the grading part by part are
those of EN 16096:2012 in shape.
"""

from __future__ import annotations

from collections.abc import Callable, Collection

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tailblock.advice import CauseBelief, Grades, PartGrade
from tailblock.advice.grades import Seen, grade, watched_parts
from tailblock.knowledge.checklist import Checklist

Read = Callable[[str], Checklist]

# Every mix of harm, pace and tension that the rules tell apart; one fault a part.
KINDS = {
    "destructive": ("destructive", "months", "watch"),
    "serious": ("serious", "months", "watch"),
    "serious-danger": ("serious", "months", "danger"),
    "serious-sudden": ("serious", "any-moment", "watch"),
    "serious-fast-watch": ("serious", "weeks", "watch"),
    "playability": ("playability", "months", "fine"),
    "playability-danger": ("playability", "months", "danger"),
    "playability-fast-watch": ("playability", "weeks", "watch"),
    "playability-sudden-watch": ("playability", "any-moment", "watch"),
    "playability-slow-watch": ("playability", "months", "watch"),
    "cosmetic": ("cosmetic", "years", "fine"),
    "cosmetic-stable": ("cosmetic", "stable", "fine"),
    "benign": ("none", "stable", "fine"),
}
PARTS = ", ".join(f"{{id: {kind}-part, name: Part}}" for kind in KINDS)
FAULTS = "".join(
    f"""
  - {{id: {kind}, part: {kind}-part, name: A fault, plain: It is broken., alone: 0.2,
     harm: {harm}, pace: {pace}, under_tension: {tension}}}"""
    for kind, (harm, pace, tension) in KINDS.items()
)
EVERYTHING = f"parts: [{PARTS}]\nfaults:{FAULTS}\n"


@pytest.fixture(scope="module")
def every_kind(read_checklist: Read) -> Checklist:
    return read_checklist(EVERYTHING)


def belief(checklist: Checklist, fault: str, probability: float, prior: float) -> CauseBelief:
    entry = checklist.faults[fault]
    return CauseBelief(
        id=fault,
        name=entry.name,
        plain=entry.plain,
        part=entry.part,
        kind=entry.kind,
        harm=entry.harm,
        probability=probability,
        prior=prior,
        decibans=0.0,
        lead=0.0,
    )


def seen(
    looked_at: Collection[str] = (),
    at_the_top: Collection[str] = (),
    watched: Collection[str] = (),
    *,
    at_pitch: bool = False,
) -> Seen:
    return Seen(looked_at, at_the_top, at_pitch, watched)


def graded(
    checklist: Checklist, fault: str, probability: float, prior: float, what: Seen
) -> PartGrade:
    grades = grade(checklist, [belief(checklist, fault, probability, prior)], what)
    assert len(grades.parts) == 1
    return grades.parts[0]


@pytest.mark.parametrize(
    ("fault", "probability", "condition"),
    [
        # 3 failed: 0.80 and destructive, or serious with tension danger
        ("destructive", 0.80, 3),
        ("destructive", 0.799, 2),
        ("serious-danger", 0.80, 3),
        ("serious-danger", 0.799, 2),
        ("serious", 0.80, 2),
        # 2 failing: 0.50 and serious or destructive
        ("serious", 0.50, 2),
        ("serious", 0.499, None),
        ("destructive", 0.50, 2),
        ("destructive", 0.499, None),
        # 1 worn: 0.50 and playability or cosmetic; a danger to playability is no more than that
        ("playability", 0.50, 1),
        ("playability", 0.499, 0),
        ("playability", 0.99, 1),
        ("playability-danger", 0.99, 1),
        ("cosmetic", 0.50, 1),
        ("cosmetic", 0.499, 0),
        # 0 sound: a serious one below 0.20, and looked at
        ("serious", 0.199, 0),
        ("serious", 0.20, None),
        ("destructive", 0.199, 0),
        ("destructive", 0.20, None),
    ],
)
def test_condition_of_a_part_that_was_looked_at(
    every_kind: Checklist, fault: str, probability: float, condition: int | None
) -> None:
    part = graded(every_kind, fault, probability, 0.2, seen(looked_at=[fault]))
    assert part.condition == condition


@pytest.mark.parametrize("fault", [kind for kind in KINDS if kind != "benign"])
@pytest.mark.parametrize("probability", [0.0, 0.01, 0.19])
def test_an_unseen_part_is_never_called_sound(
    every_kind: Checklist, fault: str, probability: float
) -> None:
    part = graded(every_kind, fault, probability, 0.2, seen())
    assert part.condition is None
    assert part.because == (fault,)
    assert part.rule.startswith("not every serious or likely fault")


@pytest.mark.parametrize(
    ("probability", "at_the_top", "condition"),
    [(0.80, True, 2), (0.80, False, 1), (0.799, True, 1)],
)
def test_playability_fails_with_a_reading_at_its_top_level(
    every_kind: Checklist, probability: float, at_the_top: bool, condition: int
) -> None:
    tops = ["playability"] if at_the_top else []
    part = graded(every_kind, "playability", probability, 0.2, seen(["playability"], tops))
    assert part.condition == condition


@pytest.mark.parametrize(
    ("fault", "probability", "prior", "at_pitch", "urgency"),
    [
        # 4 slacken today: at pitch and a danger fault at 0.50
        ("serious-danger", 0.50, 0.2, True, 4),
        ("serious-danger", 0.499, 0.2, True, 3),
        ("serious-danger", 0.50, 0.2, False, 3),
        ("playability-danger", 0.50, 0.2, True, 4),
        # 4: any-moment and serious or worse at 0.30, at pitch or not
        ("serious-sudden", 0.30, 0.2, False, 4),
        ("serious-sudden", 0.299, 0.2, False, 1),
        # 3 before it is strung or played: a danger fault above the limit, raised by readings
        ("serious-danger", 0.11, 0.10, False, 3),
        ("serious-danger", 0.10, 0.05, False, 1),  # not above the limit
        ("playability-danger", 0.103, 0.10, False, 3),
        ("playability-danger", 0.101, 0.10, False, 1),  # by less than a tenth of a deciban
        ("playability-danger", 0.10, 0.05, False, 0),
        # 1: above the limit from the start only
        ("serious-danger", 0.30, 0.30, False, 1),
        ("serious-danger", 0.30, 0.40, False, 1),
        ("playability-danger", 0.30, 0.30, False, 1),
        # 3: to watch in tension, worse within weeks, at 0.50
        ("serious-fast-watch", 0.50, 0.2, False, 3),
        ("serious-fast-watch", 0.499, 0.2, False, 1),
        ("playability-fast-watch", 0.50, 0.2, False, 3),
        ("playability-fast-watch", 0.499, 0.2, False, 0),
        ("playability-sudden-watch", 0.50, 0.2, False, 3),
        ("playability-slow-watch", 0.50, 0.2, False, 2),
        # 2 plan the work: playability or worse at 0.50
        ("playability", 0.50, 0.2, False, 2),
        ("playability", 0.499, 0.2, False, 0),
        ("serious", 0.50, 0.2, False, 2),
        ("destructive", 0.50, 0.2, False, 2),
        # 1 keep watch: serious or worse from 0.10 to 0.50
        ("serious", 0.499, 0.2, False, 1),
        ("serious", 0.10, 0.2, False, 1),
        ("serious", 0.099, 0.2, False, 0),
        ("destructive", 0.10, 0.2, False, 1),
        # 1: cosmetic at 0.50 and not stable
        ("cosmetic", 0.50, 0.2, False, 1),
        ("cosmetic", 0.499, 0.2, False, 0),
        ("cosmetic-stable", 0.99, 0.2, False, 0),
    ],
)
def test_urgency(
    every_kind: Checklist,
    fault: str,
    probability: float,
    prior: float,
    *,
    at_pitch: bool,
    urgency: int,
) -> None:
    part = graded(every_kind, fault, probability, prior, seen([fault], at_pitch=at_pitch))
    assert part.urgency == urgency
    assert part.urgency_because == ((fault,) if urgency else ())


@pytest.mark.parametrize(
    ("fault", "probability", "prior", "looked_at", "condition", "urgency"),
    [
        # A starting chance that no reading raised is no finding, however high
        ("playability", 0.60, 0.60, False, None, 0),
        ("playability", 0.60, 0.70, False, None, 0),
        ("cosmetic", 0.60, 0.60, False, None, 0),
        ("serious", 0.60, 0.60, False, None, 1),
        ("destructive", 0.90, 0.90, False, None, 1),
        # Looked at, or raised by its neighbours, it is one
        ("playability", 0.60, 0.60, True, 1, 2),
        ("playability", 0.60, 0.70, True, 1, 2),
        ("playability", 0.61, 0.60, False, 1, 2),
        ("serious", 0.60, 0.60, True, 2, 2),
        ("serious", 0.61, 0.60, False, 2, 2),
        # Danger in tension warns from its starting chance on
        ("serious-danger", 0.60, 0.60, False, None, 1),
        ("serious-sudden", 0.60, 0.60, False, None, 4),
    ],
)
def test_a_starting_chance_is_no_finding(
    every_kind: Checklist,
    fault: str,
    probability: float,
    prior: float,
    *,
    looked_at: bool,
    condition: int | None,
    urgency: int,
) -> None:
    part = graded(every_kind, fault, probability, prior, seen([fault] if looked_at else []))
    assert (part.condition, part.urgency) == (condition, urgency)


def test_a_likely_fault_that_nobody_looked_at_keeps_its_part_from_sound(
    read_checklist: Read,
) -> None:
    two = read_checklist("""
parts: [{id: neck, name: Neck}]
faults:
  - {id: worn, part: neck, name: W, plain: W, alone: 0.6, harm: playability, pace: years,
     under_tension: fine}
  - {id: bent, part: neck, name: B, plain: B, alone: 0.1, harm: serious, pace: years,
     under_tension: fine}
""")
    causes = [belief(two, "worn", 0.6, 0.6), belief(two, "bent", 0.05, 0.1)]
    part = grade(two, causes, seen(["bent"])).parts[0]
    assert (part.condition, part.because) == (None, ("worn",))


def test_a_danger_from_the_start_says_look_first(every_kind: Checklist) -> None:
    part = graded(every_kind, "serious-danger", 0.3, 0.3, seen())
    assert "not yet cleared: look first" in part.urgency_rule


def test_the_limit_of_danger_is_the_checklists_own(read_checklist: Read) -> None:
    strict = read_checklist(EVERYTHING + "limits: {danger: 0.05}\n")
    assert graded(strict, "serious-danger", 0.06, 0.05, seen()).urgency == 3


def test_the_watch_list_asks_for_watching_and_nothing_more(every_kind: Checklist) -> None:
    watched = seen(["playability"], watched=["playability-part"])
    assert graded(every_kind, "playability", 0.1, 0.2, watched).urgency == 1
    assert graded(every_kind, "playability", 0.5, 0.2, watched).urgency == 2


def test_finished_work_puts_the_part_of_its_check_on_the_watch_list(read_checklist: Read) -> None:
    shop = read_checklist("""
parts: [{id: bridge, name: Bridge}, {id: neck, name: Neck}]
faults:
  - {id: lifting, part: bridge, name: L, plain: L, alone: seldom, harm: serious, pace: months,
     under_tension: danger}
checks:
  - {id: feeler, part: bridge, title: F, ask: F?, how: Look., minutes: 1,
     choices: [{level: none, text: "no"}, {level: open, text: "yes"}],
     shows: [{fault: lifting, at_least: {open: usually}}]}
remedies:
  - {id: reglue, part: neck, name: R, plain: R, fixes: [{fault: lifting, how_well: usually}],
     hours: {low: 1, likely: 2, high: 3}, reversible: true, watch: {check: feeler, after: 6 months}}
""")
    assert watched_parts(shop, ["reglue"]) == {"bridge"}
    assert watched_parts(shop, []) == frozenset()


MIXED = """
parts: [{id: top, name: Top}, {id: neck, name: Neck}, {id: bridge, name: Bridge},
        {id: history, name: History}]
faults:
  - {id: hump, part: top, name: H, plain: H, alone: 0.1, harm: serious, pace: months,
     under_tension: watch}
  - {id: torn, part: top, name: T, plain: T, alone: 0.1, harm: destructive, pace: months,
     under_tension: watch}
  - {id: worn, part: neck, name: W, plain: W, alone: 0.1, harm: playability, pace: years,
     under_tension: fine}
  - {id: dome, part: top, name: D, plain: D, alone: 0.1, harm: none, pace: stable,
     under_tension: fine}
  - {id: fell, part: history, name: F, plain: F, kind: event, alone: 0.1, harm: serious,
     pace: any-moment, under_tension: fine}
  - {id: dry, part: history, name: Y, plain: Y, kind: climate, alone: 0.1, harm: serious,
     pace: weeks, under_tension: watch}
"""


def mixed(checklist: Checklist, looked_at: Collection[str], **probability: float) -> Grades:
    causes = [belief(checklist, f, probability.get(f, 0.05), 0.1) for f in checklist.faults]
    return grade(checklist, causes, seen(looked_at))


@pytest.mark.parametrize("probability", [0.05, 0.5, 0.99])
def test_the_past_the_weather_and_the_harmless_have_no_grade(
    read_checklist: Read, probability: float
) -> None:
    grades = mixed(
        read_checklist(MIXED),
        ["hump", "torn", "worn"],
        fell=probability,
        dry=probability,
        dome=probability,
    )
    assert [part.part for part in grades.parts] == ["top", "neck"]
    assert (grades.condition, grades.urgency, grades.of) == (0, 0, 2)


def test_a_part_is_sound_only_if_every_serious_fault_of_it_was_looked_at(
    read_checklist: Read,
) -> None:
    grades = mixed(read_checklist(MIXED), ["hump", "worn"])
    assert [part.condition for part in grades.parts] == [None, 0]
    assert grades.parts[0].because == ("torn",)


def test_the_instrument_has_the_worst_of_its_parts_and_says_what_is_missing(
    read_checklist: Read,
) -> None:
    grades = mixed(read_checklist(MIXED), [], worn=0.6)
    assert (grades.condition, grades.undetermined, grades.of) == (1, ("top",), 2)
    assert grades.rule == grades.parts[1].rule
    assert (grades.urgency, grades.urgency_rule) == (2, grades.parts[1].urgency_rule)


def test_nothing_seen_is_not_determined(read_checklist: Read) -> None:
    grades = mixed(read_checklist(MIXED), [])
    assert grades.condition is None
    assert grades.undetermined == ("top", "neck")


def test_no_gradable_fault_at_all(read_checklist: Read) -> None:
    grades = grade(read_checklist(MIXED), [], seen())
    assert (grades.parts, grades.condition, grades.urgency, grades.of) == ((), None, 0, 0)


def test_all_faults_that_fire_the_rule_are_named(read_checklist: Read) -> None:
    grades = mixed(read_checklist(MIXED), [], hump=0.7, torn=0.6)
    assert grades.parts[0].because == ("hump", "torn")


@given(
    fault=st.sampled_from([kind for kind in KINDS if kind != "benign"]),
    chances=st.tuples(st.floats(0, 1), st.floats(0, 1)),
    at_pitch=st.booleans(),
)
def test_more_probable_is_never_a_better_grade(
    every_kind: Checklist, fault: str, chances: tuple[float, float], at_pitch: bool
) -> None:
    what = seen([fault], at_pitch=at_pitch)
    milder, worse = (graded(every_kind, fault, p, 0.0, what) for p in sorted(chances))
    assert milder.urgency <= worse.urgency
    assert (milder.condition or 0) <= (worse.condition or 0)
