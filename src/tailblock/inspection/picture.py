"""A photograph made fit to be handed out: upright, in sRGB, no larger than needed, only pixels.

In: the bytes of a picture file. Out: a `Picture`, whose JPEG holds no word about where, when or
with what it was taken; or `NotAPicture`, which says what is wrong with the file and what to do.
The same bytes give the same picture. What a hostile file could cost is bounded before it is read.
"""

from __future__ import annotations

import hashlib
import io
import re
import struct
import warnings
import zlib
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from PIL import Image, ImageCms, ImageOps
from PIL.Image import Resampling, Transpose

if TYPE_CHECKING:
    from PIL.ImageFile import ImageFile

LONG_EDGE = 1200  # pixels: 300 to the inch on four inches of paper
MOST_BYTES = (
    170_000  # of a JPEG: 60 of them, a third more in base64, stay under 15 MB with the text
)
LARGEST_FILE = 100_000_000  # bytes
MOST_PIXELS = 120_000_000  # of a file; as large as a camera of today makes them
FORMATS = ("JPEG", "PNG", "TIFF", "WEBP", "GIF")  # JPEG takes the frames of a stereo file with it

_QUALITIES = (82, 74, 66, 58, 50)
_SHRINK = 0.8  # of the long edge, where the lowest quality is still too large

_ORIENTATION = 0x0112  # in Exif: JEITA CP-3451, 4.6.4
_UPRIGHT = {
    2: Transpose.FLIP_LEFT_RIGHT,
    3: Transpose.ROTATE_180,
    4: Transpose.FLIP_TOP_BOTTOM,
    5: Transpose.TRANSPOSE,
    6: Transpose.ROTATE_270,
    7: Transpose.TRANSVERSE,
    8: Transpose.ROTATE_90,
}
_SAVE_AS_JPEG = "save it as JPEG"
# What a reader of damaged files may raise, for every way in which bytes can be wrong.
_UNREADABLE = (
    OSError,
    SyntaxError,
    ValueError,
    EOFError,
    TypeError,
    LookupError,
    AttributeError,
    ArithmeticError,
    RuntimeError,
    struct.error,
    zlib.error,
    Image.DecompressionBombError,
)


class NotAPicture(Exception):
    """The bytes are no picture that can be shown; `said` says why, `mend` what would be right."""

    def __init__(self, said: str, mend: str) -> None:
        self.said, self.mend = said, mend
        super().__init__(f"{said} ({mend})")


@dataclass(frozen=True, slots=True)
class Picture:
    """A picture as it is shown.

    `jpeg` is baseline sRGB without a profile or any other word, `width` and `height` are its pixels
    and `digest` is the sha256 of the file that it was made from, in hexadecimal.
    """

    digest: str
    width: int
    height: int
    jpeg: bytes = field(repr=False)


def picture_of(content: bytes) -> Picture:
    """Return the picture that the bytes of a file hold.

    Raises
    ------
    NotAPicture
    """
    if len(content) > LARGEST_FILE:
        raise NotAPicture(f"it is larger than {LARGEST_FILE // 1_000_000} MB", _SAVE_AS_JPEG)
    known = _known_otherwise(content)
    if known:
        raise NotAPicture(f"this is {known}", _SAVE_AS_JPEG)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # what the library doubts is decided here
        try:
            image = Image.open(io.BytesIO(content), formats=FORMATS)
        except Image.DecompressionBombError as error:
            raise _too_many_pixels() from error
        except _UNREADABLE as error:
            said = "this is no picture that can be read here"
            raise NotAPicture(
                said, f"it may be JPEG, PNG, TIFF or WebP; {_SAVE_AS_JPEG}"
            ) from error
        try:
            _require_one_picture(image)
            shown = _upright(_in_srgb(_scaled(image)), _orientation(image))
        except _UNREADABLE as error:
            said = f"this {image.format} is damaged or cut short"
            raise NotAPicture(said, "copy it from the camera again") from error
    jpeg, (width, height) = _jpeg(shown)
    return Picture(hashlib.sha256(content).hexdigest(), width, height, jpeg)


def _known_otherwise(content: bytes) -> str:
    """Name what is known by its first bytes and is not read here, whatever the file is called."""
    head = content[:512].lstrip(b"\xef\xbb\xbf \t\r\n")
    if content[4:8] == b"ftyp":
        return "AVIF or HEIC, or a film"
    if re.match(rb"<(\?xml|!DOCTYPE|!--|svg|html)", head, re.IGNORECASE):
        return "a drawing or a page, whatever its name says"
    if head.startswith(b"%PDF-"):
        return "a PDF, whatever its name says"
    return "" if content else "an empty file"


def _too_many_pixels() -> NotAPicture:
    said = f"it has more than {MOST_PIXELS // 1_000_000} million pixels"
    return NotAPicture(said, "save it smaller")


def _require_one_picture(image: ImageFile) -> None:
    """Refuse what would take too much room, moves, or has pages."""
    if image.width * image.height > MOST_PIXELS:
        raise _too_many_pixels()
    several = getattr(image, "is_animated", False) and image.format != "MPO"
    if several:
        raise NotAPicture("it moves or has several pages", "save one of its pictures as JPEG")


def _orientation(image: Image.Image) -> int:
    """Return how the camera was held; upright if what says so cannot be read."""
    try:
        held = image.getexif().get(_ORIENTATION, 1)
    except _UNREADABLE:
        return 1
    return held if isinstance(held, int) else 1


def _upright(image: Image.Image, held: int) -> Image.Image:
    return image.transpose(_UPRIGHT[held]) if held in _UPRIGHT else image


def _scaled(image: ImageFile) -> Image.Image:
    """Return a picture whose long edge is at most `LONG_EDGE`, read no finer than that needs."""
    if image.format in {"JPEG", "MPO"}:
        image.draft(None, (2 * LONG_EDGE, 2 * LONG_EDGE))
    image.load()
    made: Image.Image
    if image.mode.startswith("I;16"):
        made = _in_eight_bits(image)
    elif image.mode in {"P", "PA", "LA", "La", "RGBa"} or image.has_transparency_data:
        made = image.convert("RGBA")
    elif image.mode == "1":
        made = image.convert("L")
    else:
        made = image
    made.info = image.info
    made.thumbnail((LONG_EDGE, LONG_EDGE), Resampling.LANCZOS)
    return made


def _in_eight_bits(image: Image.Image) -> Image.Image:
    """Return 16 grey bits as 8: the library itself cuts off all that is lighter than 255."""
    return image.convert("I").point(lambda value: value * (1 / 257)).convert("L")


def _in_srgb(image: Image.Image) -> Image.Image:
    """Return a picture on white in sRGB, by its own profile if that is one."""
    if image.mode == "RGBA":
        paper = Image.new("RGB", image.size, "white")
        paper.paste(image, mask=image.getchannel("A"))
        paper.info = image.info
        image = paper
    profile = image.info.get("icc_profile")
    if profile:
        try:
            source = ImageCms.ImageCmsProfile(io.BytesIO(profile))
            target = ImageCms.createProfile("sRGB")
            done = ImageCms.profileToProfile(image, source, target, outputMode="RGB")
        except (ImageCms.PyCMSError, *_UNREADABLE):
            done = None  # a profile that is none, or of another kind of picture: as if without
        if done is not None:
            return done
    return image.convert("RGB")


def _jpeg(image: Image.Image) -> tuple[bytes, tuple[int, int]]:
    """Return a picture as JPEG of at most `MOST_BYTES`, first coarser, then smaller; its size."""
    clean = Image.new("RGB", image.size)  # takes the pixels and nothing that came with them
    clean.paste(image)
    while True:
        for quality in _QUALITIES:
            file = io.BytesIO()
            clean.save(file, "JPEG", quality=quality, optimize=True, progressive=True)
            if file.tell() <= MOST_BYTES:
                return file.getvalue(), clean.size
        edge = round(_SHRINK * max(clean.size))
        clean = ImageOps.contain(clean, (edge, edge), Resampling.LANCZOS)
