"""The photographs of a report as an outline, and as the pictures that the typesetter takes.

In: a `Report`. Out: blocks; the pictures by name, each as an SVG text that holds a JPEG, for the
typesetter takes texts only.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tailblock.messages import _
from tailblock.report.outline import Run, Shot, Shots, Title, small

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tailblock.report.model import Copy, Photo, Report
    from tailblock.report.outline import Block, Line


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
        _name(photo): as_svg(photo.address, photo.width, photo.height)
        for photo in report.photos
        if photo.jpeg
    }


def as_svg(address: str, width: float, height: float) -> str:
    """Return a picture of pixels within an SVG: the only form that is a text."""
    size = f'width="{width:g}" height="{height:g}"'
    return f'<svg xmlns="http://www.w3.org/2000/svg" {size}><image {size} href="{address}"/></svg>'


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
