"""Safety: which cautions apply, what must never meet, and what not to do at home.

In: `Examined` and the remedies that are offered. Out: the numbered safety notes, which come before
the steps they belong to, and the player's list. The words are the checklist's where it has any.
"""

from __future__ import annotations

from itertools import combinations
from typing import TYPE_CHECKING

from tailblock.knowledge.entries import UNKNOWN
from tailblock.messages import _
from tailblock.report.model import Labelled, Safety, SafetyNote, SafetyStep
from tailblock.report.next_steps import worth_doing
from tailblock.report.plan import remedies
from tailblock.report.sentences import (
    AT_HOME,
    DEFERENCE,
    NO_FAST_WETTING,
    NO_GLUE,
    NO_TUNING_UP,
    NOT_AT_ONE_BENCH,
    ONE_AFTER_THE_OTHER,
    SPOT_TEST,
    WORST,
)
from tailblock.report.wording import listed, listed_some, some

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from tailblock.knowledge.entries import Caution
    from tailblock.report.examined import Examined

TOUCHES = frozenset({"heat", "steam", "solvent", "bleach", "chemical", "glue", "finish"})
RUINS = frozenset({"heat", "steam", "solvent", "bleach", "light"})  # a finish of the worst kind
STEPS = 3  # steps that a note names: each step names its notes
NAMED = 2  # pieces of work that are named where two hazards meet


def uses(examined: Examined) -> Mapping[str, tuple[str, ...]]:
    """Return, for each caution that applies, the work and the advised checks that it belongs to.

    Cautions keep the checklist's order; work comes before checks.
    """
    checklist = examined.checklist
    checks = dict.fromkeys(advised.check for advised in worth_doing(examined))
    steps = [(remedy.name, remedy.cautions) for remedy in remedies(examined)]
    steps += [(checklist.checks[id_].title, checklist.checks[id_].cautions) for id_ in checks]
    found = {
        caution: tuple(dict.fromkeys(name for name, cautions in steps if caution in cautions))
        for caution in checklist.cautions
    }
    return {caution: names for caution, names in found.items() if names}


def safety(examined: Examined, used: Mapping[str, tuple[str, ...]]) -> Safety:
    """Return the safety notes, numbered from 1, the steps in working order, and what never meets.

    What must never meet is looked for across all work and all looks, not within one piece.
    """
    cautions = [examined.checklist.cautions[id_] for id_ in used]
    notes = tuple(
        SafetyNote(
            number, caution.title, caution.text, caution.controls, some(used[caution.id], STEPS)
        )
        for number, caution in enumerate(cautions, start=1)
    )
    assumed = tuple(_assumed(examined, cautions))
    steps = tuple(_steps(examined, notes, used))
    return Safety(
        assumed, notes, steps, tuple(_conflicts(cautions, used)), tuple(map(_, DEFERENCE))
    )


def _assumed(examined: Examined, cautions: list[Caution]) -> Iterator[str]:
    """Yield what is not known of the instrument and meets a hazard to which it could matter."""
    if not any(caution.hazard in TOUCHES for caution in cautions):
        return
    traits = examined.inspection.instrument.traits
    unknown = [id_ for id_ in WORST if traits.get(id_, UNKNOWN) == UNKNOWN]
    yield from (_(WORST[id_]) for id_ in unknown)
    hazards = [caution.title for caution in cautions if caution.hazard in RUINS]
    if "finish" in unknown and hazards:
        yield _(SPOT_TEST).format(hazards=listed(hazards))


def _steps(
    examined: Examined,
    notes: tuple[SafetyNote, ...],
    used: Mapping[str, tuple[str, ...]],
) -> Iterator[SafetyStep]:
    """Yield looks, then the work of the plan in its order."""
    checks = dict.fromkeys(advised.check for advised in worth_doing(examined))
    waits = {work.remedy for work in examined.plan.chosen.works if work.if_found}
    steps = [(examined.checklist.checks[id_].title, False) for id_ in checks]
    steps += [(remedy.name, remedy.id in waits) for remedy in remedies(examined)]
    for name, if_found in steps:
        controls = tuple(
            Labelled(str(note.number), note.title)
            for note, names in zip(notes, used.values(), strict=True)
            if name in names
        )
        yield SafetyStep(controls, name, if_found)


def _conflicts(cautions: list[Caution], used: Mapping[str, tuple[str, ...]]) -> Iterator[str]:
    for one, other in combinations(cautions, 2):
        if other.hazard not in one.never_with and one.hazard not in other.never_with:
            continue
        yield _("{title} and {title_2} never meet. {one}").format(
            title=one.title, title_2=other.title, one=_apart(one, other, used)
        )


def _apart(one: Caution, other: Caution, used: Mapping[str, tuple[str, ...]]) -> str:
    """Say where two hazards come up, and how they are kept apart."""
    own = one.apart or other.apart
    both = [name for name in used[one.id] if name in used[other.id]]
    first, second = (listed_some(used[caution.id], NAMED) for caution in (one, other))
    if both:
        return _("Both come up in: {both}. {value}").format(
            both=listed_some(both, NAMED), value=own or _(ONE_AFTER_THE_OTHER)
        )
    return _("The first comes up in {first}, the second in {second}. {value}").format(
        first=first, second=second, value=own or _(NOT_AT_ONE_BENCH)
    )


def not_at_home(examined: Examined, used: Mapping[str, tuple[str, ...]]) -> tuple[str, ...]:
    """Return what the player must not do, most pressing first.

    Solvent, heat, fast wetting, bleach and mould are always among it.
    """
    cautions = examined.checklist.cautions.values()
    lines = [_(NO_TUNING_UP)] if examined.may_string.answer != "yes" else []
    for hazard, words in AT_HOME.items():
        own = [c.at_home for c in cautions if c.hazard == hazard and c.at_home]
        # the checklist speaks of mould that is there; here it is said whether or not there is any
        lines += [_(words)] if hazard == "mould" or not own else own
    lines += [_(NO_FAST_WETTING), _(NO_GLUE)]
    lines += [
        caution.at_home
        for caution in cautions
        if caution.at_home and caution.id in used and caution.hazard not in AT_HOME
    ]
    return tuple(dict.fromkeys(lines))
