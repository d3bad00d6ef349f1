"""The photographs of an inspection, numbered in the order of the findings that they belong to.

In: `Examined`, and the pictures that were read. Out: `Photo`s, those of the instrument as a whole
first, and the numbers that the findings name.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tailblock.messages import N_, _
from tailblock.report.model import Photo

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from tailblock.inspection import record
    from tailblock.inspection.picture import Picture
    from tailblock.report.examined import Examined

WHOLE = N_("The instrument as a whole")

At = tuple[int, int]  # index of a visit, and of a reading in it


def photos(examined: Examined, pictures: Mapping[str, Picture]) -> tuple[Photo, ...]:
    """Return all photographs of the visits so far, with their pictures where these were read."""
    return tuple(
        _photo(examined, number, at, photo, pictures.get(photo.file))
        for number, (at, photo) in enumerate(_in_order(examined), start=1)
    )


def numbers(examined: Examined) -> Mapping[At, tuple[int, ...]]:
    """Return the numbers of the photographs of each reading that has some."""
    found: dict[At, tuple[int, ...]] = {}
    for number, (at, _photograph) in enumerate(_in_order(examined), start=1):
        if at is not None:
            found[at] = (*found.get(at, ()), number)
    return found


def _in_order(examined: Examined) -> Iterator[tuple[At | None, record.Photo]]:
    """Yield the photographs part by part, in each part as they were taken."""
    for photo in examined.inspection.instrument.photos:
        yield None, photo
    checklist = examined.checklist
    parts = {part: place for place, part in enumerate(checklist.parts)}
    taken = [
        (parts[checklist.checks[reading.check].part], (visit, index), reading.photos)
        for visit, one in enumerate(examined.inspection.visits[: examined.visit + 1])
        for index, reading in enumerate(one.readings)
        if reading.photos
    ]
    for _part, at, of_reading in sorted(taken, key=lambda one: one[:2]):
        yield from ((at, photo) for photo in of_reading)


def _photo(
    examined: Examined, number: int, at: At | None, photo: record.Photo, picture: Picture | None
) -> Photo:
    part = about = _(WHOLE)
    if at is not None:
        visit, index = at
        check = examined.checklist.checks[examined.inspection.visits[visit].readings[index].check]
        part = examined.checklist.parts[check.part].name
        about = check.title
        if examined.visit:
            about = _("{title}, visit {number}").format(title=check.title, number=visit + 1)
    return Photo(
        number=number,
        caption=photo.caption,
        part=part,
        about=about,
        file=photo.file,
        digest=picture.digest if picture else "",
        width=picture.width if picture else 0,
        height=picture.height if picture else 0,
        jpeg=picture.jpeg if picture else b"",
    )
