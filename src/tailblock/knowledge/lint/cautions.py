"""Where work or a look can hurt, the caution stands beside it.

Each of a remedy's `hazards` and the `risk` of a check needs a caution of that hazard. A remedy or
check whose texts speak of heat, steam, solvents, dust, mould or bleach and that has no such caution
gets a warning.

Passes:

    cautions: [{id: hot-tools, hazard: heat}]
    remedies: [{id: bridge-off, hazards: [heat], cautions: [hot-tools]}]

Fails:

    remedies: [{id: bridge-off, hazards: [heat]}]
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from tailblock.knowledge.lint.walk import Spot, found

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tailblock.errors import Problem
    from tailblock.knowledge.checklist import Checklist

_RULE = "cautions"
_WORDS = {
    "heat": r"heat(ed|s)?|hot (?!car\b|day\b)\w+|iron(s|ed)?|heat.?gun|blanket",
    "steam": r"steam\w*",
    "solvent": r"solvents?|acetone|alcohol|naphtha|spirits?|thinner",
    "dust": r"dust(?!ed off)|sand(ed|ing)?|file the|filing",
    "mould": r"mou?ld|mildew",
    "bleach": r"bleach\w*|peroxide",
}
_SPOKEN = {hazard: re.compile(rf"\b({words})\b", re.IGNORECASE) for hazard, words in _WORDS.items()}


def find(checklist: Checklist) -> Iterator[Problem]:
    """Yield an error for a hazard without a caution, a warning for one that is only spoken of."""
    for remedy in checklist.remedies.values():
        spot = Spot("remedy", remedy.id)
        texts = " ".join((remedy.name, remedy.how or "", *remedy.materials))
        yield from _listed(checklist, spot.below("hazards"), remedy.hazards, remedy.cautions)
        yield from _spoken(checklist, spot, remedy.hazards, remedy.cautions, texts)
    for check in checklist.checks.values():
        spot = Spot("check", check.id)
        risks = (check.risk,) if check.risk else ()
        texts = " ".join((check.title, check.how or "", *check.tools))
        yield from _listed(checklist, spot.below("risk"), risks, check.cautions)
        yield from _spoken(checklist, spot, risks, check.cautions, texts)


def _covered(checklist: Checklist, cautions: tuple[str, ...]) -> set[str]:
    """Return the hazards that cautions are about."""
    known = checklist.cautions
    return {known[caution].hazard for caution in cautions if caution in known}


def _listed(
    checklist: Checklist, spot: Spot, hazards: tuple[str, ...], cautions: tuple[str, ...]
) -> Iterator[Problem]:
    covered = _covered(checklist, cautions)
    for i, hazard in enumerate(hazards):
        if hazard not in covered:
            known = [c.id for c in checklist.cautions.values() if c.hazard == hazard]
            mend = f"add `cautions: [{known[0]}]`" if known else "write such a caution and name it"
            message = f"it involves {hazard} and has no caution of that hazard"
            yield found(checklist, _RULE, spot.below(i), message, mend)


def _spoken(
    checklist: Checklist,
    spot: Spot,
    hazards: tuple[str, ...],
    cautions: tuple[str, ...],
    texts: str,
) -> Iterator[Problem]:
    covered = {*hazards, *_covered(checklist, cautions)}
    for hazard, pattern in _SPOKEN.items():
        spoken = pattern.search(texts)
        if spoken and hazard not in covered:
            message = f"its text speaks of `{spoken[0]}` and it has no caution against {hazard}"
            mend = "add a caution of that hazard if it is one here"
            yield found(checklist, _RULE, spot, message, mend, severity="warning")
