"""Where a checklist id is looked for.

In: an id and the folders that may hold it. Out: the folder of the checklist, or `ChecklistNotFound`
with every place that was looked in. Nothing is read here, and the environment is an argument.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from tailblock.errors import TailblockError

HEAD = "checklist.yaml"


class ChecklistNotFound(TailblockError):
    """No folder holds a checklist of that id."""

    def __init__(self, checklist: str, looked_in: tuple[Path, ...]) -> None:
        self.checklist, self.looked_in = checklist, looked_in
        known = sorted({f.resolve().name for root in looked_in for f in checklists_in(root)})
        there = f"; there is {', '.join(known)}" if known else ""
        places = ", ".join(map(str, looked_in)) or "no folder at all"
        super().__init__(f"there is no checklist {checklist!r}{there} (looked in {places})")


@dataclass(frozen=True, slots=True)
class Shelves:
    """The folders that hold checklists, in the order in which they are looked in.

    `given` by the user for this run, `environment` from the shell, `beside` the inspection file;
    those that ship with tailblock come last.
    """

    given: Path | None = None
    environment: Path | None = None
    beside: Path | None = None

    def roots(self) -> tuple[Path, ...]:
        """Return the folders to look in, those that were not given left out."""
        beside = self.beside / "checklists" if self.beside else None
        own = (self.given, self.environment, beside)
        return (*(root for root in own if root), *shipped_roots())

    def find(self, checklist: str, first: Path | None = None) -> Path:
        """Return the folder of a checklist; `first` is looked in before the others.

        Raises
        ------
        ChecklistNotFound
            No root holds a folder of that name with a `checklist.yaml`.
        """
        roots = (first, *self.roots()) if first else self.roots()
        for root in roots:
            for folder in checklists_in(root):
                if folder.resolve().name == checklist:
                    return folder
        raise ChecklistNotFound(checklist, roots)


def shipped_roots() -> tuple[Path, ...]:
    """Return where the shipped checklists are: in the wheel, or in the checkout it was built from.

    An editable install has no `shipped` folder; the checkout is two folders above the package.
    """
    package = Path(__file__).parents[1]
    candidates = (package / "shipped" / "checklists", package.parents[1] / "checklists")
    return tuple(root for root in candidates if root.is_dir())[:1]


def checklists_in(root: Path) -> tuple[Path, ...]:
    """Return the checklists directly in a folder by name, or the folder itself if it is one."""
    if (root / HEAD).is_file():
        return (root,)
    return tuple(sorted(head.parent for head in root.glob(f"*/{HEAD}")))
