"""`photo`: photographs for a reading that is on file, or for the instrument as a whole.

In: an inspection file, picture files and what they show. Out: the file with their names in it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from tailblock.cli.options import Captions, Checklists, File, Json
from tailblock.errors import TailblockError

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tailblock.inspection.record import Photo


class CaptionsDoNotMatch(TailblockError):
    """There are captions, and not one for each photograph."""

    def __init__(self, photos: int, captions: int) -> None:
        self.photos, self.captions = photos, captions
        super().__init__(
            f"--caption: {captions} for {photos} photographs (give one for each in their order, "
            'or none; "" leaves one without)'
        )


def captioned(files: Sequence[str], captions: Sequence[str] | None) -> list[Photo]:
    """Return photographs with their captions.

    Raises
    ------
    CaptionsDoNotMatch
    """
    from tailblock.inspection.record import Photo

    if captions and len(captions) != len(files):
        raise CaptionsDoNotMatch(len(files), len(captions))
    return [
        Photo(file, caption.strip())
        for file, caption in zip(files, captions or [""] * len(files), strict=True)
    ]


def photo(
    file: File,
    pictures: Annotated[
        list[str], typer.Argument(metavar="PICTURE", help="A picture file.", show_default=False)
    ],
    *,
    check: Annotated[
        str,
        typer.Option("--check", metavar="CHECK", help="Whose last reading; else the instrument."),
    ] = "",
    caption: Captions = None,
    checklists: Checklists = None,
    as_json: Json = False,
) -> None:
    """Add photographs to a reading that is on file, or to the instrument."""
    from tailblock.cli.output import Screen, print_data
    from tailblock.cli.session import Session

    session = Session.open(file, checklists)
    photos = captioned([session.photo(name) for name in pictures], caption)
    for one in photos:
        session.add_photo(one, check)
    if as_json:
        added = [{"file": one.file, "caption": one.caption or None} for one in photos]
        print_data({"check": check or None, "photos": added})
        return
    for one in photos:
        Screen().say(f"{one.file}: {check or 'the instrument'}. Saved.")
