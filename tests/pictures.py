"""Picture files of any kind, made for a test: no file is committed."""

from __future__ import annotations

import io
import struct
import zlib
from typing import Any

import numpy as np
from PIL import Image, ImageCms


def saved(image: Image.Image, form: str = "JPEG", **options: Any) -> bytes:
    """Return a picture as the bytes of a file."""
    file = io.BytesIO()
    image.save(file, form, **options)
    return file.getvalue()


def plain(colour: str = "#c08040", size: tuple[int, int] = (64, 48), mode: str = "RGB") -> bytes:
    """Return a JPEG of one colour."""
    return saved(Image.new("RGB", size, colour).convert(mode))


def noise(size: tuple[int, int], seed: int = 0) -> Image.Image:
    """Return what no format can make smaller: every pixel by itself."""
    dice = np.random.default_rng(seed)
    return Image.fromarray(dice.integers(0, 256, (size[1], size[0], 3), dtype=np.uint8))


def with_words(image: Image.Image) -> bytes:
    """Return a JPEG that says where it was taken, in Exif, XMP, IPTC and a comment."""
    exif = Image.Exif()
    exif[0x010F] = "SECRET-MAKER"
    exif.get_ifd(0x8825)[0x001D] = "SECRET-PLACE"  # of the GPS directory: GPSDateStamp, any text
    iptc = b"Photoshop 3.0\x008BIM\x04\x04\x00\x00\x00\x00\x00\x11\x1c\x02Z\x00\x0cSECRET-CITY!"
    made = saved(
        image, exif=exif, comment=b"SECRET-COMMENT", xmp=b"<x:xmpmeta>SECRET-XMP</x:xmpmeta>"
    )
    segment = b"\xff\xed" + struct.pack(">H", len(iptc) + 2) + iptc
    return made[:2] + segment + made[2:]


def swapped_profile() -> bytes:
    """Return sRGB's profile with red and green exchanged: what is red by it is green."""
    profile = bytearray(ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes())
    (count,) = struct.unpack_from(">I", profile, 128)
    for at in range(132, 132 + 12 * count, 12):
        name = bytes(profile[at : at + 4])
        profile[at : at + 4] = {b"rXYZ": b"gXYZ", b"gXYZ": b"rXYZ"}.get(name, name)
    return bytes(profile)


def png_that_says(width: int, height: int) -> bytes:
    """Return a small PNG that claims to be as large as you like."""

    def chunk(name: bytes, data: bytes) -> bytes:
        return (
            struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))
        )

    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    body = zlib.compress(b"\0" * 1000)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", body) + chunk(b"IEND", b"")
