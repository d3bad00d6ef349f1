"""What to say first: which faults lead, that nothing is wrong, or that it is open.

In: the ranked causes, the checklist and which faults have been looked at. Out: a `Verdict`.

Harmless explanations weigh nothing, so they can never lead; they win by a rule of their own. The
limits below are from memory.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tailblock.advice.held_back import open_danger
from tailblock.advice.ranking import LEAST, LEAST_LEAD, RAISED
from tailblock.advice.results import CauseBelief, Verdict

if TYPE_CHECKING:
    from collections.abc import Collection, Mapping, Sequence

    from tailblock.knowledge.checklist import Checklist

PROBABLE = 0.5  # from here on a fault is said to be there
SUSPECT = 0.2  # below this a rival counts as out, and a fault is not named as a suspect
NAMED = 3  # as many faults as two sentences can carry


def verdict(
    checklist: Checklist, causes: Sequence[CauseBelief], looked_at: Collection[str]
) -> Verdict:
    """Return what is said first.

    Probable faults that the readings raised lead. Failing these, nothing is wrong if the readings
    raised a harmless explanation and it stands above 0.5, each of its rivals has been looked at and
    is out, and no danger fault is open; one that names no rival that applies has ruled nothing out,
    and cannot win. A rival is out below 0.2; one that harms no more than play also while it is
    improbable and the looks have not raised it: as many have a nut slot that binds a little, and
    the new strings explain the drift. Everything else is open.

    Parameters
    ----------
    looked_at
        Ids of the faults that at least one answered check shows.
    """
    danger = open_danger(checklist, {cause.id: cause.probability for cause in causes})
    by_lead = sorted(causes, key=lambda cause: -cause.lead)
    leaders = [c for c in by_lead if c.probability >= PROBABLE and c.lead >= LEAST_LEAD]
    if leaders:
        return Verdict("leading", _named(leaders), danger)
    benign = _benign(checklist, causes, looked_at)
    if benign and not danger:
        return Verdict("nothing-wrong", benign, danger)
    return Verdict("open", _named([c for c in by_lead if c.lead > 0 and _suspect(c)]), danger)


def _named(causes: Sequence[CauseBelief]) -> tuple[str, ...]:
    return tuple(cause.id for cause in causes[:NAMED])


def _suspect(cause: CauseBelief) -> bool:
    return cause.probability >= SUSPECT


def _benign(
    checklist: Checklist, causes: Sequence[CauseBelief], looked_at: Collection[str]
) -> tuple[str, ...]:
    """Return the harmless explanations that have won against all of their rivals."""
    standing = {cause.id: cause for cause in causes}
    return tuple(
        cause.id
        for cause in causes
        if cause.harm == "none"
        and cause.probability > PROBABLE
        and cause.decibans >= LEAST
        and _outdone(checklist.faults[cause.id].rivals, standing, looked_at)
    )


def _outdone(
    rivals: Sequence[str], standing: Mapping[str, CauseBelief], looked_at: Collection[str]
) -> bool:
    applying = [standing[rival] for rival in rivals if rival in standing]
    return bool(applying) and all(
        rival.id in looked_at and (not _suspect(rival) or _as_in_any(rival)) for rival in applying
    )


def _as_in_any(cause: CauseBelief) -> bool:
    """Return whether a fault that harms no more than play stands where it stood at the start."""
    mild = cause.harm in {"none", "cosmetic", "playability"}
    return mild and cause.probability < PROBABLE and cause.decibans < RAISED
