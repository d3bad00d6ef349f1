"""The photographs that an inspection names, read from their files.

In: an `Inspection`. Out: a `Picture` for each file that it names; or all problems with them
together, each at the place where the inspection names the file. A photograph is looked at before
its name is written down, too, so that no report fails on it later.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tailblock.errors import Problem, ProblemsFound, TailblockError

if TYPE_CHECKING:
    from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
    from pathlib import Path

    from tailblock.inspection.picture import Picture
    from tailblock.inspection.record import Inspection, Photo

    Over = Callable[[Collection[Photo]], Iterable[Photo]]


class UnfitPhoto(TailblockError):
    """A photograph that a person names cannot be shown; `said` says why, `mend` what to do."""

    def __init__(self, path: Path, said: str, mend: str) -> None:
        self.path, self.said, self.mend = path, said, mend
        super().__init__(f"{path}: {said} ({mend})")


def pictures_of(inspection: Inspection, over: Over = iter) -> Mapping[str, Picture]:
    """Return the pictures by the paths under which the inspection names them.

    Parameters
    ----------
    over
        Goes through the photographs one by one; a terminal shows by it how far it has come.

    Raises
    ------
    ProblemsFound
        Every photograph that is missing, cannot be read or is none.
    """
    named: dict[str, tuple[Photo, str]] = {}
    for photo, entry in _named(inspection):
        named.setdefault(photo.file, (photo, entry))
    if not named:
        return {}
    found: dict[str, Picture] = {}
    problems: list[Problem] = []
    for photo in over([photo for photo, _ in named.values()]):
        try:
            found[photo.file] = read_picture(inspection.path.absolute().parent / photo.file)
        except UnfitPhoto as error:
            place = photo.place or (str(inspection.path), 1, 1)
            message = f"{photo.file}: {error.said}"
            entry = named[photo.file][1]
            problems.append(Problem(*place, entry, "photograph", message, error.mend))
    if problems:
        raise ProblemsFound(tuple(sorted(problems)))
    return found


def _named(inspection: Inspection) -> Iterator[tuple[Photo, str]]:
    """Yield each photograph and the entry that names it."""
    for photo in inspection.instrument.photos:
        yield photo, "instrument"
    for number, visit in enumerate(inspection.visits, start=1):
        for reading in visit.readings:
            for photo in reading.photos:
                yield photo, f"visit {number}, {reading.check}"


def read_picture(path: Path) -> Picture:
    """Return the picture that a file holds.

    Raises
    ------
    UnfitPhoto
    """
    # its library is loaded only where there is a photograph
    from tailblock.inspection.picture import LARGEST_FILE, NotAPicture, picture_of  # noqa: PLC0415

    try:
        if not path.is_file():
            mend = f"put it at {path}, or mend its name"
            raise UnfitPhoto(path, "there is no such photograph", mend)
        with path.open("rb") as file:
            content = file.read(LARGEST_FILE + 1)  # no more than tells that it is too large
    except (OSError, ValueError) as error:  # a name may hold what no system takes
        why = getattr(error, "strerror", None) or str(error)
        mend = "look at its permissions and its name"
        raise UnfitPhoto(path, f"it cannot be read: {why}", mend) from error
    try:
        return picture_of(content)
    except NotAPicture as error:
        raise UnfitPhoto(path, error.said, error.mend) from error
