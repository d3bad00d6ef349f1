"""Vignettes before two checklists: which of them rank differently.

In: two checklists and a folder of vignettes. Out: `Ranked`, one for each file: what leads and what
is advised next by the old one and by the new, or why one of them cannot take the case. Judged once
all readings are in.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from tailblock.advice.ranking import LEAST_LEAD
from tailblock.errors import ProblemsFound
from tailblock.pipeline import examine
from tailblock.practice.format import NoVignettes, read_vignette
from tailblock.practice.vignettes import leading, without_opening

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from tailblock.knowledge.checklist import Checklist


@dataclass(frozen=True, slots=True)
class Rank:
    """The leading faults, most lead first, no more than three, and the check that is next.

    No fault leads whose lead is too small to speak of: it would change with the last digit.
    """

    first: tuple[str, ...]
    next_check: str | None


@dataclass(frozen=True, slots=True)
class Ranked:
    """One vignette (the name of its file) by the old checklist and by the new.

    `old` or `new` is None where that checklist cannot take the case; `because` then says why.
    """

    vignette: str
    old: Rank | None
    new: Rank | None
    because: str = ""

    @property
    def differs(self) -> bool:
        """Return whether anything is not as it was."""
        return self.old != self.new


def ranked(old: Checklist, new: Checklist, folder: Path) -> Iterator[Ranked]:
    """Yield every vignette of a folder, by the names of the files.

    Raises
    ------
    NoVignettes
        There is no `.yaml` file in it.
    ProblemsFound
        Neither of the two checklists can take a case.
    Contradiction
        The readings of a case have probability zero together.
    """
    paths = sorted(folder.glob("*.yaml"))
    if not paths:
        raise NoVignettes(folder)
    for path in paths:
        before, no_old = _rank(old, path)
        after, no_new = _rank(new, path)
        if no_old and no_new:
            raise no_new
        why = no_old or no_new
        yield Ranked(path.stem, before, after, str(why.problems[0]) if why else "")


def _rank(checklist: Checklist, path: Path) -> tuple[Rank | None, ProblemsFound | None]:
    try:
        vignette = read_vignette(path, checklist)
    except ProblemsFound as found:
        return None, found
    examined = examine(without_opening(checklist), vignette.inspection)
    advice = examined.advice.advice
    first = leading([cause for cause in examined.causes if cause.lead >= LEAST_LEAD])
    return Rank(first, advice[0].check if advice else None), None
