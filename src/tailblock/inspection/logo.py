"""A shop's logo as something that a page can hold: small, of a known kind, with its words.

In: the path of a PNG, JPEG or SVG. Out: `Logo`, its picture as a `data:` address; or why it cannot
be used. A picture of pixels is written anew as PNG, so that nothing but its pixels goes along.
"""

from __future__ import annotations

import io
import struct
import warnings
import zlib
from base64 import b64encode
from dataclasses import dataclass
from typing import TYPE_CHECKING

from tailblock.errors import TailblockError
from tailblock.inspection.vector import safe_svg

if TYPE_CHECKING:
    from pathlib import Path

MOST_BYTES = 500_000
MOST_PIXELS = 20_000_000
SIDE = 900  # pixels: 30 mm at 760 dots an inch
KINDS = "PNG, JPEG or SVG"
_DAMAGED = (OSError, ValueError, SyntaxError, EOFError, struct.error, zlib.error)


class NotALogo(TailblockError):
    """A file cannot be put at the head of a report."""


@dataclass(frozen=True, slots=True)
class Logo:
    """A picture as `data:` address, its width and height (their ratio counts), and its words."""

    data: str
    width: float
    height: float
    text: str


def read_logo(path: Path, text: str) -> Logo:
    """Return the logo in a file.

    Raises
    ------
    NotALogo, NotASafeDrawing
        Why it cannot be used.
    """
    try:
        with path.open("rb") as file:
            data = file.read(MOST_BYTES + 1)
    except OSError as error:
        raise NotALogo(f"{path} cannot be read: {error.strerror}") from None
    if len(data) > MOST_BYTES:
        raise NotALogo(f"it is larger than {MOST_BYTES // 1000} kB (save it smaller)")
    if data.startswith((b"\x89PNG\r\n\x1a\n", b"\xff\xd8\xff")):
        return _pixels(data, text)
    if b"<svg" in data:
        found = safe_svg(data)
        return Logo(_address("svg+xml", found.svg.encode()), found.width, found.height, text)
    raise NotALogo(f"it is no {KINDS}")


def _pixels(data: bytes, text: str) -> Logo:
    from PIL import Image  # noqa: PLC0415  (only a shop with a logo needs it)

    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error")
            with Image.open(io.BytesIO(data), formats=["PNG", "JPEG"]) as image:
                if image.width * image.height > MOST_PIXELS:
                    raise NotALogo(f"{image.width} x {image.height} pixels are too many for a logo")
                small = image.convert("RGBA")
    except _DAMAGED as error:
        raise NotALogo(f"the picture is damaged: {error}") from None
    except (Image.DecompressionBombError, Image.DecompressionBombWarning):
        raise NotALogo("it has too many pixels for a logo") from None
    small.thumbnail((SIDE, SIDE))
    written = io.BytesIO()
    small.save(written, "PNG", optimize=True)
    return Logo(_address("png", written.getvalue()), small.width, small.height, text)


def _address(kind: str, data: bytes) -> str:
    return f"data:image/{kind};base64,{b64encode(data).decode('ascii')}"
