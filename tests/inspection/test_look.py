"""How a shop's papers look: colours that can be read, logos that are nothing but pictures."""

from __future__ import annotations

import io
from base64 import b64decode
from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image

from tailblock.errors import ProblemsFound
from tailblock.inspection.contrast import ENOUGH, contrast, nearest_readable, worst
from tailblock.inspection.logo import MOST_BYTES, SIDE
from tailblock.inspection.look import GROUNDS, Look
from tailblock.inspection.shop import read_shop

if TYPE_CHECKING:
    from pathlib import Path

    from PIL.Image import Exif

COLOURS = st.integers(0, 0xFFFFFF).map(lambda number: f"#{number:06x}")
DRAWING = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="40" height="20">'
    '<rect width="40" height="20" fill="#24463f"/></svg>'
)


def _look(folder: Path, fields: str) -> Look:
    path = folder / "shop.yaml"
    path.write_text(f"currency: EUR\nrate: 60\n{fields}\ntailblock: 1\n", encoding="utf-8")
    return read_shop(path).look


def _refused(folder: Path, fields: str) -> str:
    with pytest.raises(ProblemsFound) as caught:
        _look(folder, fields)
    (problem,) = caught.value.problems
    return str(problem)


def _logo(folder: Path, data: bytes) -> str:
    """Return why a file cannot be the logo."""
    (folder / "logo").write_bytes(data)
    said = _refused(folder, "logo: {file: logo, text: a plane}\n")
    assert said.startswith(
        f"{folder / 'shop.yaml'}:3:14: error [bad-value] logo cannot be the logo"
    )
    return said


def _picture(kind: str, size: tuple[int, int] = (60, 30), exif: Exif | None = None) -> bytes:
    written = io.BytesIO()
    more = {"exif": exif} if exif else {}
    Image.new("RGB", size, "#24463f").save(written, kind, **more)
    return written.getvalue()


@pytest.mark.parametrize(
    # worked examples of contrast that are widely known; black on white is 21 by definition
    ("one", "other", "ratio"),
    [("#000000", "#ffffff", 21.0), ("#767676", "#ffffff", 4.54), ("#ffffff", "#ffffff", 1.0)],
)
def test_contrast(one: str, other: str, ratio: float) -> None:
    assert contrast(one, other) == pytest.approx(ratio, abs=0.005)


@given(COLOURS, COLOURS)
def test_contrast_is_the_same_either_way_and_between_1_and_21(one: str, other: str) -> None:
    assert contrast(one, other) == contrast(other, one)
    assert 1.0 <= contrast(one, other) <= 21.0


@given(COLOURS)
def test_the_nearest_colour_can_be_read_and_is_the_same_if_it_could_be_before(colour: str) -> None:
    grounds = GROUNDS["heading"]
    better = nearest_readable(colour, grounds)
    assert worst(better, grounds)[1] >= ENOUGH
    assert (better == colour) == (worst(colour, grounds)[1] >= ENOUGH)


def test_colours_that_can_be_read_are_taken(tmp_path: Path) -> None:
    found = _look(tmp_path, 'colours: {heading: "#5B2A86", warning: "#9a1b1b"}\n')
    assert found.colours == {"heading": "#5b2a86", "warning": "#9a1b1b"}


@pytest.mark.parametrize(
    ("fields", "said"),
    [
        (
            'colours: {heading: "#88aa99"}\n',
            (
                "3:20: error [bad-value] #88aa99 on #fbeee8 has a contrast of 2.24:1, 4.5:1 is "
                "needed (the nearest that passes is #"
            ),
        ),
        ("colours: {heading: green}\n", "3:20: error [bad-value] `green` is no colour (write it"),
        (
            "colours:\n  heading: #24463f\n",
            "4:11: error [bad-value] no colour: a bare # begins a comment (write it",
        ),
        ("colours: {headings: 1}\n", "3:11: error [unknown-field] unknown field `headings` (did"),
        ("logo: {file: logo.png}\n", "3:7: error [missing-field] `text` is missing"),
        ("logo: {file: no.png, text: a}\n", "3:14: error [bad-value] no.png cannot be the logo: "),
        ("templates: nowhere\n", "3:12: error [bad-value] there is no folder "),
    ],
)
def test_a_slip_is_named_with_its_place_and_mend(tmp_path: Path, fields: str, said: str) -> None:
    assert f"shop.yaml:{said}" in _refused(tmp_path, fields)


@pytest.mark.parametrize("kind", ["PNG", "JPEG"])
def test_pixels_are_written_anew_without_what_else_was_in_the_file(
    tmp_path: Path, kind: str
) -> None:
    exif = Image.Exif()
    exif[0x010E] = "where the shop is"  # ImageDescription
    (tmp_path / "logo").write_bytes(_picture(kind, (3000, 1500), exif))
    logo = _look(tmp_path, "logo: {file: logo, text: a plane}\n").logo
    assert logo is not None
    assert (logo.width, logo.height, logo.text) == (SIDE, SIDE / 2, "a plane")
    head, _, data = logo.data.partition(",")
    assert head == "data:image/png;base64"
    with Image.open(io.BytesIO(b64decode(data))) as image:
        assert (image.format, image.size) == ("PNG", (SIDE, SIDE // 2))
        assert not image.getexif()


def test_a_drawing_keeps_its_shapes_and_loses_what_editors_leave(tmp_path: Path) -> None:
    drawn = DRAWING.replace(
        "<rect", '<metadata>me</metadata><e:note xmlns:e="urn:e">x</e:note><rect e:x="1"'
    ).replace("<svg ", '<svg xmlns:e="urn:e" ')
    (tmp_path / "logo").write_text(drawn, encoding="utf-8")
    logo = _look(tmp_path, "logo: {file: logo, text: a plane}\n").logo
    assert logo is not None
    assert (logo.width, logo.height) == (40, 20)
    svg = b64decode(logo.data.partition(",")[2]).decode()
    assert "rect" in svg
    assert not [word for word in ("metadata", "me<", "note", "urn:e") if word in svg]


@pytest.mark.parametrize(
    ("before", "after", "said"),
    [
        ("<rect", "<script>alert(1)</script><rect", "line 1 has <script>"),
        ("<rect", "<foreignObject/><rect", "line 1 has <foreignObject>"),
        ("<rect", '<image href="http://e.example/x.png"/><rect', "line 1 has <image>"),
        ("<rect", "<style>@import url(x)</style><rect", "line 1 has <style>"),
        ("<rect", '<a href="javascript:alert(1)"/><rect', "line 1 has <a>"),
        ("<rect", "<use href='#a'/><rect", "line 1 has <use>"),
        ("<rect", "<metadata><script/></metadata><rect", "line 1 has <script>"),
        ("<rect", '\n<rect onload="alert(1)"', "line 2 has `onload`"),
        ('fill="#24463f"', 'fill="url(http://e.example/x)"', "line 1 has something outside in"),
        ('fill="#24463f"', 'style="fill:u\\72l(x)"', "line 1 has something outside in `st"),
        ("<svg", '<!DOCTYPE svg [<!ENTITY a "b">]><svg', "line 1 has a document type or an entity"),
        (' width="40"', "", "it has no `viewBox`"),
        ("</svg>", "", "it is no SVG: "),
        ("http://www.w3.org/2000/svg", "urn:other", "it is no SVG: "),
    ],
)  # fmt: skip
def test_a_drawing_that_could_do_more_is_refused(
    tmp_path: Path, before: str, after: str, said: str
) -> None:
    assert before in DRAWING
    assert said in _logo(tmp_path, DRAWING.replace(before, after, 1).encode())


@pytest.mark.parametrize(
    ("data", "said"),
    [
        (b"GIF89a", "it is no PNG, JPEG or SVG"),
        (b"", "it is no PNG, JPEG or SVG"),
        (b"x" * (MOST_BYTES + 1), "it is larger than 500 kB"),
        (_picture("PNG")[:60], "the picture is damaged"),
        (_picture("JPEG")[:200], "the picture is damaged"),
        (_picture("PNG", (6000, 6000)), "6000 x 6000 pixels are too many"),
    ],
    ids=["other", "empty", "large", "short-png", "short-jpeg", "many-pixels"],
)
def test_what_is_no_logo_is_refused(tmp_path: Path, data: bytes, said: str) -> None:
    assert said in _logo(tmp_path, data)


def test_own_words_are_paragraphs(tmp_path: Path) -> None:
    found = _look(tmp_path, "words: {closing: Thank you., terms: [One., Two.], notice: []}\n")
    assert (found.closing, found.terms, found.notice) == (("Thank you.",), ("One.", "Two."), ())
