"""Photographs in a report: numbered to the findings, with their words, the same bytes each time."""

from __future__ import annotations

import base64
import json
import re
import struct
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from pictures import noise, plain, saved, with_words
from report.pages import read, words
from report.paper import alternatives, opened
from report.visits import HEAD, HOT_CAR
from tailblock.inspection import store
from tailblock.inspection.picture import LONG_EDGE, MOST_BYTES, picture_of
from tailblock.pipeline import examine
from tailblock.report.build import build
from tailblock.report.to_html import to_html
from tailblock.report.to_json import to_json
from tailblock.report.to_markdown import to_markdown
from tailblock.report.to_pdf import to_pdf

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tailblock.inspection.picture import Picture
    from tailblock.knowledge.checklist import Checklist
    from tailblock.report.model import Copy, Report

HOSTILE = '"><script>alert(1)</script> ![x](http://e.example/x.png) #panic("no") \u202eback'
PICTURES: dict[str, Picture] = {
    "front.jpg": picture_of(plain("#204060", (400, 300))),
    "photos/a.jpg": picture_of(with_words(noise((90, 120)))),
    "b.png": picture_of(saved(noise((300, 100)), "PNG")),
}
COPIES: list[Copy] = ["player", "bench"]


def reported(bench: Checklist, pictures: dict[str, Picture], caption: str = "the gap") -> Report:
    shown = json.dumps(caption, ensure_ascii=False)
    head = HEAD.replace("  scale_length", "  photos: [front.jpg]\n  scale_length")
    visit = HOT_CAR.replace(
        "{check: bridge-feeler, value: 6 mm}",
        f"{{check: bridge-feeler, value: 6 mm, photos: [{{file: b.png, caption: {shown}}}]}}",
    )
    inspection = store.from_bytes((head + visit).encode(), Path("job.yaml"), lambda _: bench)
    return build(examine(bench, inspection), pictures=pictures)


@pytest.fixture(scope="module")
def pictured(bench: Checklist) -> Report:
    return reported(bench, PICTURES)


def test_they_are_numbered_in_the_order_of_the_findings(pictured: Report) -> None:
    assert [photo.number for photo in pictured.photos] == [1, 2, 3]
    assert pictured.photos[0].about == "The instrument as a whole"
    remarks = [
        (finding.check, remark)
        for part in pictured.findings
        for finding in part.findings
        for remark in finding.remarks
        if remark.startswith("photograph")
    ]
    assert [remark for _, remark in remarks] == ["photograph 2", "photograph 3"]
    assert [photo.about for photo in pictured.photos[1:]] == [check for check, _ in remarks]


@pytest.mark.parametrize("copy", COPIES)
def test_they_are_in_the_page_with_their_words(pictured: Report, copy: Copy) -> None:
    shown = read(to_html(pictured, copy=copy)).named("img")
    assert len(shown) == 3
    for tag, photo in zip(shown, pictured.photos, strict=True):
        kind, data = tag.attributes["src"].split(",")
        assert kind == "data:image/jpeg;base64"
        assert base64.b64decode(data, validate=True) == photo.jpeg
        size = tag.attributes["width"], tag.attributes["height"]
        assert size == (str(photo.width), str(photo.height))
        which = photo.about if copy == "bench" else photo.part
        assert tag.attributes["alt"] == photo.says(copy)
        assert which in tag.attributes["alt"]
    assert "the gap" in shown[2].attributes["alt"]


def _said(pdf: bytes) -> list[str]:
    """Return what the photographs of a PDF say to those who do not see them."""
    return [said for said in alternatives(pdf) if said.startswith("Photograph")]


@pytest.mark.parametrize("copy", COPIES)
def test_they_are_in_the_pdf_with_their_words(pictured: Report, copy: Copy) -> None:
    pdf = to_pdf(pictured, copy=copy)
    assert _said(pdf) == [photo.says(copy) for photo in pictured.photos]
    images = [one.get_object() for page in opened(pdf).pages for one in _images(page["/Resources"])]
    sizes = {(one["/Width"], one["/Height"]) for one in images}
    assert {(photo.width, photo.height) for photo in pictured.photos} <= sizes


def _images(resources: Any) -> Iterator[Any]:
    """Yield the pictures of a page, those within forms too."""
    for one in resources.get_object().get("/XObject", {}).values():
        held = one.get_object()
        if held["/Subtype"] == "/Image":
            yield held
        elif "/Resources" in held:
            yield from _images(held["/Resources"])


def test_markdown_and_json_name_them_with_their_digests(pictured: Report) -> None:
    text = to_markdown(pictured)
    assert "!" + "[" not in text  # none is shown, and none of the files with its words is led to
    data = json.loads(to_json(pictured))["photos"]
    for photo, told in zip(pictured.photos, data, strict=True):
        assert (told["number"], told["file"], told["digest"]) == (
            photo.number,
            photo.file,
            photo.digest,
        )
        assert "jpeg" not in told
        assert photo.digest in text


@pytest.mark.parametrize("copy", COPIES)
def test_the_same_photographs_make_the_same_files(bench: Checklist, copy: Copy) -> None:
    one, other = reported(bench, PICTURES), reported(bench, PICTURES)
    for render in (to_html, to_markdown, to_json, to_pdf):
        assert render(one, copy=copy) == render(other, copy=copy)


def test_what_was_not_read_is_named_only(bench: Checklist) -> None:
    named = reported(bench, {})
    assert not read(to_html(named)).named("img")
    assert "photos/a.jpg" in read(to_html(named)).text
    assert "the gap" in to_markdown(named)
    assert to_pdf(named).startswith(b"%PDF")


@pytest.mark.parametrize("copy", COPIES)
def test_a_caption_is_text(bench: Checklist, copy: Copy) -> None:
    hostile = reported(bench, PICTURES, HOSTILE)
    page = read(to_html(hostile, copy=copy))
    assert HOSTILE in page.named("img")[2].attributes["alt"]
    assert words(HOSTILE) in words(page.text)
    assert not page.named("script")
    assert re.search(r"!\\\[x\\\]", to_markdown(hostile, copy=copy))
    assert HOSTILE in _said(to_pdf(hostile, copy=copy))[-1]


def test_the_pixels_alone_reach_the_report(pictured: Report) -> None:
    for made in (to_html(pictured).encode(), to_pdf(pictured), to_json(pictured).encode()):
        assert b"SECRET" not in made
    jpeg = pictured.photos[1].jpeg
    assert b"SECRET" not in jpeg
    assert struct.unpack_from(">H", jpeg) == (0xFFD8,)


def test_a_report_without_photographs_says_nothing_of_them(sound: Report) -> None:
    assert sound.photos == ()
    for text in (to_html(sound), to_markdown(sound)):
        assert "Photograph" not in text


def test_many_photographs_stay_whole_on_their_pages(pictured: Report) -> None:
    many = tuple(replace(pictured.photos[2], number=number) for number in range(1, 25))
    pdf = to_pdf(replace(pictured, photos=many))
    assert len(_said(pdf)) == 24


def _as_another_file(jpeg: bytes, number: int) -> bytes:
    """Return the same picture with a comment of its own, so that no renderer takes them for one."""
    comment = struct.pack(">HHH", 0xFFFE, 4, number)
    return jpeg[:2] + comment + jpeg[2:]


def test_a_report_with_sixty_of_the_worst_photographs_is_below_fifteen_megabytes(
    pictured: Report,
) -> None:
    """Noise is the worst that a camera can deliver; what is scaled is no larger than this."""
    drawn = [picture_of(saved(noise((LONG_EDGE, 900), seed), quality=90)) for seed in range(6)]
    worst = [
        replace(picture, jpeg=_as_another_file(picture.jpeg, number))
        for number in range(10)
        for picture in drawn
    ]
    assert len({picture.jpeg for picture in worst}) == 60
    assert min(len(picture.jpeg) for picture in worst) > 0.6 * MOST_BYTES
    photos = tuple(
        replace(
            pictured.photos[2],
            number=number,
            digest=picture.digest,
            width=picture.width,
            height=picture.height,
            jpeg=picture.jpeg,
        )
        for number, picture in enumerate(worst, start=1)
    )
    report = replace(pictured, photos=photos)
    for copy in COPIES:
        for made in (to_html(report, copy=copy).encode(), to_pdf(report, copy=copy)):
            assert sum(len(photo.jpeg) for photo in photos) < len(made) < 15_000_000
