"""What advice hands out: frozen values, one for each question a repairer asks.

In: nothing; the other modules of this folder make these. Out: data for `next`, `causes`, `why` and
the report. Ids are those of the checklist; probabilities are chances from 0 to 1; minutes are
attended ones. Only `Advised.reason` and the rules of the grades are sentences.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from collections.abc import Mapping

Step = Literal[
    "before-strings", "tension", "again", "must-read", "opening", "asked", "gate", "at-pitch",
    "clears", "gain",
]  # fmt: skip
Phase = Literal["slacken", "before-strings", "tension", "again", "must-read", "gain"]

# The stages on which an instrument is looked at a second time, after work or time.
SECOND_STAGES = frozenset({"first-stringing", "settled", "follow-up"})
Reach = Literal["now", "held-back", "opened", "asked"]


@dataclass(frozen=True, slots=True)
class CauseBelief:
    """One fault, how probable it is and how far the readings have moved it.

    `decibans` is 10 log10 of posterior odds against starting odds. `lead` is its weight times what
    the readings added; faults that everybody has lead nothing, and events never lead.
    """

    id: str
    name: str
    plain: str
    part: str
    kind: str
    harm: str
    probability: float
    prior: float
    decibans: float
    lead: float


@dataclass(frozen=True, slots=True)
class Advised:
    """A check to do, in the order of the tuple that it stands in.

    `minutes` is the bench time of the check; where it is the first of several inputs of a derived
    check (`for_derived`), that of all inputs still unread. `setup_minutes` is the shortest way from
    the present setup, `setup` the state it is then read in. `bits_per_minute`: the gain for each
    minute with the change of setup included, which is shared out where several checks were chosen
    for one change. `bundle` is its place in `Advice.bundles`. `if_trait` says under which value of
    an unsettled trait the check makes sense at all: `if bolt-on`.
    """

    check: str
    gain_bits: float
    minutes: float
    setup_minutes: float
    bits_per_minute: float
    reason: str
    step: Step
    setup: Mapping[str, str]
    bundle: int
    if_trait: str | None = None
    for_derived: str | None = None


@dataclass(frozen=True, slots=True)
class AdvisedBundle:
    """Checks that follow each other in one setup.

    `setup_minutes` is the way from the setup of the bundle before, paid once; `minutes` the bench
    time of the checks without it. `worth_it`: whether a minute of it is worth its bits. `reason` is
    a sentence.
    """

    setup: Mapping[str, str]
    checks: tuple[str, ...]
    minutes: float
    setup_minutes: float
    gain_bits: float
    worth_it: bool
    reason: str


@dataclass(frozen=True, slots=True)
class HeldBack:
    """A state of higher tension or a check that adds load, not to be done yet.

    One of `setup` and `check` is given. `because` are the faults that hold it, the most probable
    first; `clear_with` are the harmless looks that could clear them, best first: none means that
    looking cannot. `no_look` are those of `because` that no look can clear, whatever clears the
    others. `accepted` marks what a person has taken upon themselves: it is no longer held.
    """

    setup: Mapping[str, str] | None
    check: str | None
    because: tuple[str, ...]
    clear_with: tuple[str, ...]
    no_look: tuple[str, ...]
    accepted: bool = False


@dataclass(frozen=True, slots=True)
class Settling:
    """The unread check that would settle a fault best, and how it can be reached.

    It can be read `now`, is `held-back`, is known once the instrument is `opened`, or can only be
    `asked` of the player, whose word points and settles nothing.
    """

    check: str
    reach: Reach


@dataclass(frozen=True, slots=True)
class Unsettled:
    """A fault that matters and is neither probable nor improbable.

    `settled_by` is None if nothing unread tells anything about it.
    """

    fault: str
    probability: float
    settled_by: Settling | None


@dataclass(frozen=True, slots=True)
class Sign:
    """A place that looks worse with more tension on it: levels of a check, and the state."""

    check: str
    before: str
    now: str
    state: str


@dataclass(frozen=True, slots=True)
class Advice:
    """What to do next on this visit, and what not.

    `bundles` are the checks of `advice` by the setup that they are read in, in the same order.
    `beyond` are the checks still worth their minutes that the stage's `budget` cannot buy;
    `minutes_used` counts the checks answered on this visit and the changes of setup between them.
    `best_rate` is the most that a check or a bundle would tell [bits a minute], 0 if nothing is
    left. `slacken_now` comes before everything else, and so do `signs` while it is under tension.
    `phase` says where a second inspection stands, None on a first one.
    """

    advice: tuple[Advised, ...]
    bundles: tuple[AdvisedBundle, ...]
    held_back: tuple[HeldBack, ...]
    enough: bool
    best_rate: float
    slacken_now: tuple[str, ...]
    minutes_used: float
    budget: float | None
    beyond: tuple[str, ...]
    unsettled: tuple[Unsettled, ...]
    phase: Phase | None = None
    signs: tuple[Sign, ...] = ()


@dataclass(frozen=True, slots=True)
class PartGrade:
    """Condition and urgency of one part, each with the rule that fired and its faults.

    `condition` runs from 0 (sound) to 3 (failed), None if it is not determined; `urgency` from 0 to
    4. `because` belongs to the condition's `rule`, `urgency_because` to `urgency_rule`.
    """

    part: str
    condition: int | None
    urgency: int
    rule: str
    because: tuple[str, ...]
    urgency_rule: str
    urgency_because: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Grades:
    """The grades of all parts, and the worst of them as the instrument's.

    `undetermined` are the parts without a condition, out of `of` parts that are graded.
    """

    parts: tuple[PartGrade, ...]
    condition: int | None
    urgency: int
    rule: str
    urgency_rule: str
    undetermined: tuple[str, ...]
    of: int


@dataclass(frozen=True, slots=True)
class Verdict:
    """What is said first: what leads, that nothing is wrong, or that it is open.

    `faults`: those that lead, by lead; or the harmless explanations; or, if it is open, the most
    suspect ones. `danger_open` are the danger faults above the limit in any case.
    """

    kind: Literal["leading", "nothing-wrong", "open"]
    faults: tuple[str, ...]
    danger_open: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class MayString:
    """May it be brought to pitch: `no` with a danger fault likely, `not-yet` with one uncleared.

    `clear_with` are the looks that could clear any of `because`, best first; `no_look` are those of
    `because` that no look can clear.
    """

    answer: Literal["yes", "not-yet", "no"]
    because: tuple[str, ...]
    clear_with: tuple[str, ...]
    no_look: tuple[str, ...]
    accepted: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Weighed:
    """A reading and what it says about one fault, in decibans: for it above 0, against it below."""

    check: str
    visit: int
    decibans: float


@dataclass(frozen=True, slots=True)
class Reasons:
    """Why a fault stands where it stands.

    `in_favour` and `against`: the readings, the weightiest first. `trail`: its causes that are
    probably there, nearest first. `settles`: the unread check that would settle it best.
    """

    fault: str
    in_favour: tuple[Weighed, ...]
    against: tuple[Weighed, ...]
    trail: tuple[str, ...]
    settles: Settling | None


@dataclass(frozen=True, slots=True)
class Swing:
    """Where a fault's probability lies in the middle nine tenths of the jittered networks.

    `keeps_place` is the share of networks in which it keeps its place by lead.
    """

    low: float
    high: float
    keeps_place: float


@dataclass(frozen=True, slots=True)
class Steadiness:
    """How far the ranking leans on the checklist's words: rules of thumb, each good for a range.

    `first` is the fault that leads, None if nothing does; `agreed` is the share of networks that
    say the same, and `steady` whether they are enough.
    """

    swings: Mapping[str, Swing]
    first: str | None
    agreed: float
    steady: bool
