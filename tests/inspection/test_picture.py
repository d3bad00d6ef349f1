"""Photographs made fit to be handed out, and files that are no such thing."""

from __future__ import annotations

import io
import struct
from contextlib import suppress

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image

from pictures import noise, plain, png_that_says, saved, swapped_profile, with_words
from tailblock.inspection.picture import (
    LARGEST_FILE,
    LONG_EDGE,
    MOST_BYTES,
    NotAPicture,
    Picture,
    picture_of,
)


def shown(picture: Picture) -> Image.Image:
    image = Image.open(io.BytesIO(picture.jpeg))
    assert (image.format, image.mode) == ("JPEG", "RGB")
    assert image.size == (picture.width, picture.height)
    return image


def colour_at(picture: Picture, x: float, y: float) -> tuple[int, int, int]:
    """Return the colour at a place, in shares of width and height."""
    image = shown(picture)
    found = image.getpixel((int(x * image.width), int(y * image.height)))
    assert isinstance(found, tuple)
    red, green, blue = found
    return int(red), int(green), int(blue)


def is_near(colour: tuple[int, int, int], wanted: tuple[int, int, int]) -> bool:
    return all(abs(one - other) <= 8 for one, other in zip(colour, wanted, strict=True))


def test_nothing_but_pixels_is_left() -> None:
    content = with_words(Image.new("RGB", (80, 60), "red"))
    for secret in (b"SECRET-MAKER", b"SECRET-PLACE", b"SECRET-COMMENT", b"SECRET-XMP"):
        assert secret in content
    assert b"SECRET-CITY" in content
    jpeg = picture_of(content).jpeg
    assert b"SECRET" not in jpeg
    markers = _segments(jpeg)
    # ITU-T T.81, table B.1: APP0 alone is the format's own; E1 to EF carry words, FE is a comment
    assert markers & set(range(0xE0, 0xF0)) == {0xE0}
    assert 0xFE not in markers


def _segments(jpeg: bytes) -> set[int]:
    """Return the markers before the first scan."""
    at, found = 2, set()
    while jpeg[at + 1] != 0xDA:
        found.add(jpeg[at + 1])
        at += 2 + int(struct.unpack_from(">H", jpeg, at + 2)[0])
    return found


# Exif, JEITA CP-3451, 4.6.4: where row 0 and column 0 of the file lie in the scene
@pytest.mark.parametrize(
    ("held", "corner"),
    [
        (1, "top left"), (2, "top right"), (3, "bottom right"), (4, "bottom left"),
        (5, "left top"), (6, "right top"), (7, "right bottom"), (8, "left bottom"),
    ],
)  # fmt: skip
def test_it_stands_upright(held: int, corner: str) -> None:
    image = Image.new("RGB", (120, 80), "white")
    image.paste("blue", (0, 0, 60, 40))  # where row 0 meets column 0
    exif = Image.Exif()
    exif[0x0112] = held
    picture = picture_of(saved(image, exif=exif))
    lies = (picture.width, picture.height) == (120, 80)
    assert lies == (held < 5)
    x = 0.2 if "left" in corner else 0.8
    y = 0.2 if "top" in corner else 0.8
    assert is_near(colour_at(picture, x, y), (0, 0, 255))
    assert is_near(colour_at(picture, 1 - x, 1 - y), (255, 255, 255))


def test_an_orientation_that_cannot_be_read_is_upright() -> None:
    content = saved(Image.new("RGB", (30, 20), "red"), exif=b"Exif\0\0MM\0*\0\0\xff\xff")
    assert (picture_of(content).width, picture_of(content).height) == (30, 20)


def test_its_colours_are_those_of_its_profile() -> None:
    red = Image.new("RGB", (40, 40), (255, 0, 0))
    picture = picture_of(saved(red, icc_profile=swapped_profile()))
    assert is_near(colour_at(picture, 0.5, 0.5), (0, 255, 0))
    assert b"ICC_PROFILE" not in picture.jpeg


@pytest.mark.parametrize("profile", [b"no profile at all", b"\0" * 200])
def test_a_profile_that_is_none_is_as_if_there_was_none(profile: bytes) -> None:
    red = Image.new("RGB", (40, 40), (255, 0, 0))
    assert is_near(colour_at(picture_of(saved(red, icc_profile=profile)), 0.5, 0.5), (255, 0, 0))


def _sixteen_bits() -> bytes:
    grey = Image.new("I;16", (40, 40))
    grey.paste(128 * 257, (0, 0, 40, 40))
    return saved(grey, "PNG")


WHITE, MIDDLE = (255, 255, 255), (128, 128, 128)


@pytest.mark.parametrize(
    ("content", "colour"),
    [
        (saved(Image.new("CMYK", (40, 40), (0, 0, 0, 127))), MIDDLE),
        (saved(Image.new("CMYK", (40, 40), (0, 0, 0, 127)), "TIFF"), MIDDLE),
        (_sixteen_bits(), MIDDLE),
        (saved(Image.new("L", (40, 40), 128)), MIDDLE),
        (saved(Image.new("1", (40, 40), 1), "PNG"), WHITE),
        (saved(Image.new("RGBA", (40, 40), (0, 0, 0, 0)), "PNG"), WHITE),
        (saved(Image.new("LA", (40, 40), (0, 127)), "PNG"), MIDDLE),
        (saved(Image.new("RGB", (40, 40), MIDDLE).quantize(4), "PNG"), MIDDLE),
        (saved(Image.new("RGB", (40, 40), MIDDLE).quantize(4), "GIF"), MIDDLE),
        (saved(Image.new("RGB", (40, 40), MIDDLE), "WEBP"), MIDDLE),
    ],
    ids=["CMYK", "CMYK TIFF", "16 bits", "grey", "1 bit", "clear", "half clear", "palette",
         "GIF", "WebP"],
)  # fmt: skip
def test_any_kind_of_picture_is_shown_in_its_colours(
    content: bytes, colour: tuple[int, int, int]
) -> None:
    assert is_near(colour_at(picture_of(content), 0.5, 0.5), colour)


def test_of_a_stereo_file_the_first_picture_is_shown() -> None:
    right = Image.new("RGB", (40, 30), "blue")
    content = saved(Image.new("RGB", (40, 30), "red"), "MPO", save_all=True, append_images=[right])
    assert is_near(colour_at(picture_of(content), 0.5, 0.5), (254, 0, 0))


@pytest.mark.parametrize("size", [(4000, 3000), (3000, 4000), (1201, 7), (6000, 1)])
def test_its_long_edge_is_bounded(size: tuple[int, int]) -> None:
    picture = picture_of(plain(size=size))
    assert max(picture.width, picture.height) == LONG_EDGE
    assert min(picture.width, picture.height) == max(1, round(min(size) * LONG_EDGE / max(size)))


def test_a_small_picture_stays_as_small_as_it_is() -> None:
    picture = picture_of(plain(size=(64, 48)))
    assert (picture.width, picture.height) == (64, 48)


def test_sixty_of_the_worst_photographs_stay_below_the_size_of_a_report() -> None:
    picture = picture_of(saved(noise((4000, 3000)), quality=70))
    assert len(picture.jpeg) <= MOST_BYTES
    assert picture.width > 500  # it is still a picture
    in_base64 = 4 * -(-MOST_BYTES // 3)  # RFC 4648, 4: four characters for three bytes
    assert 60 * in_base64 + 1_000_000 < 15_000_000  # a report without photographs is below 1 MB


def test_the_same_file_gives_the_same_bytes() -> None:
    content = with_words(noise((300, 200)))
    assert picture_of(content) == picture_of(content)
    assert picture_of(content).jpeg == picture_of(content).jpeg


def _moving(form: str) -> bytes:
    second = Image.new("RGB", (20, 20), "blue")
    return saved(Image.new("RGB", (20, 20), "red"), form, save_all=True, append_images=[second])


GOOD = saved(noise((200, 150)))


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"", "an empty file"),
        (b"not a picture", "no picture that can be read"),
        (b'<svg xmlns="http://www.w3.org/2000/svg"/>', "a drawing or a page"),
        (b'\xef\xbb\xbf<?xml version="1.0"?><svg/>', "a drawing or a page"),
        (b"<!DOCTYPE html><p>no", "a drawing or a page"),
        (b"%PDF-1.7\n", "a PDF"),
        (b"\0\0\0\x18ftypheic\0\0\0\0mif1heic", "HEIC"),
        (b"\0\0\0\x18ftypavif\0\0\0\0mif1avif", "AVIF"),
        (GOOD[: len(GOOD) // 2], "damaged or cut short"),
        (GOOD[:200], "no picture that can be read"),
        (saved(noise((200, 150)), "PNG")[:5000], "damaged or cut short"),
        (_moving("GIF"), "moves or has several pages"),
        (_moving("WEBP"), "moves or has several pages"),
        (_moving("PNG"), "moves or has several pages"),
        (_moving("TIFF"), "moves or has several pages"),
        (png_that_says(60_000, 60_000), "more than 120 million pixels"),
        (png_that_says(12_001, 10_000), "more than 120 million pixels"),
        (png_that_says(11_000, 10_000), "damaged or cut short"),
        (b"\xff\xd8" + bytes(LARGEST_FILE), "larger than 100 MB"),
    ],
    ids=["empty", "text", "drawing", "drawing with a mark", "page", "PDF", "HEIC", "AVIF",
         "half a JPEG", "head of a JPEG", "half a PNG", "GIF", "moving WebP", "moving PNG", "pages",
         "bomb", "just too large", "claims too much", "too many bytes"],
)  # fmt: skip
def test_what_is_no_photograph_is_refused_with_the_mend(content: bytes, said: str) -> None:
    with pytest.raises(NotAPicture) as refused:
        picture_of(content)
    assert said in refused.value.said
    assert refused.value.mend


WHOLE = [
    saved(noise((60, 40)), exif=Image.Exif()),
    saved(noise((60, 40)), "PNG"),
    saved(noise((60, 40)), "TIFF", compression="tiff_lzw"),
    saved(noise((60, 40)), "WEBP"),
    saved(noise((60, 40)).quantize(16), "GIF"),
    with_words(noise((60, 40))),
]


@settings(max_examples=150, deadline=None)
@given(
    whole=st.sampled_from(WHOLE),
    spots=st.lists(st.tuples(st.floats(0, 1), st.integers(0, 255)), min_size=1, max_size=8),
    kept=st.floats(0.05, 1),
)
def test_damage_ends_in_a_picture_or_in_a_sentence(
    whole: bytes, spots: list[tuple[float, int]], kept: float
) -> None:
    damaged = bytearray(whole[: max(1, int(kept * len(whole)))])
    for where, byte in spots:
        damaged[int(where * (len(damaged) - 1))] = byte
    with suppress(NotAPicture):
        assert len(picture_of(bytes(damaged)).jpeg) <= MOST_BYTES
