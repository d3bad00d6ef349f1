"""The photographs of a report as an outline, and as the pictures that the typesetter takes.

In: a `Report`. Out: blocks; the pictures by name, each as an SVG text that holds a JPEG, for the
typesetter takes texts only.
"""

from __future__ import annotations

from base64 import b64encode
from typing import TYPE_CHECKING

from tailblock.messages import _
from tailblock.report.outline import Run, Shot, Shots, Title, small

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tailblock.report.model import Copy, Photo, Report
    from tailblock.report.outline import Block, Line

_SVG = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="{width}" height="{height}">'
    '<image width="{width}" height="{height}" href="data:image/jpeg;base64,{data}"/></svg>'
)


def photographs(report: Report, copy: Copy) -> Iterator[Block]:
    """Yield the photographs of a copy with what stands below each."""
    if report.photos:
        yield Title(1, _("Photographs"))
        yield Shots(
            tuple(
                Shot(
                    picture=_name(photo) if photo.jpeg else "",
                    width=photo.width,
                    height=photo.height,
                    alt=photo.says(copy),
                    lines=tuple(_lines(photo, copy)),
                )
                for photo in report.photos
            )
        )


def pictures(report: Report) -> dict[str, str]:
    """Return the pictures of a report by their names, as SVG."""
    return {
        _name(photo): _SVG.format(
            width=photo.width, height=photo.height, data=b64encode(photo.jpeg).decode()
        )
        for photo in report.photos
        if photo.jpeg
    }


def _name(photo: Photo) -> str:
    return f"photograph-{photo.number}"


def _lines(photo: Photo, copy: Copy) -> Iterator[Line]:
    which = photo.about if copy == "bench" else photo.part
    yield (Run(str(photo.number), "strong"), Run(f" {photo.caption or which}"))
    if photo.caption:
        yield small(which)
    if copy == "player":
        return
    yield small(f"{photo.file}{f', sha256 {photo.digest}' if photo.digest else ''}")
