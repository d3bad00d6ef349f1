"""What is the shop's own in a report: heading, logo, colours, words, templates."""

from __future__ import annotations

import io
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
from PIL import Image
from pypdf import PdfReader

from report.pages import read, words
from report.visits import HEAD, HOT_CAR
from tailblock.inspection import store
from tailblock.inspection.shop import read_shop
from tailblock.pipeline import examine
from tailblock.report.build import build
from tailblock.report.templating import BrokenTemplate
from tailblock.report.to_html import to_html
from tailblock.report.to_markdown import to_markdown
from tailblock.report.to_pdf import to_pdf

if TYPE_CHECKING:
    from collections.abc import Callable

    from tailblock.knowledge.checklist import Checklist
    from tailblock.report.model import Copy, Report

HOSTILE = '<script>alert(1)</script> #panic("no") {{ 7 * 7 }} **bold** [x](http://e.example)'
SHOP = f"""\
tailblock: 1
name: "A bench & a river"
address: [Some street 1, Some town]
currency: EUR
rate: 60
logo: {{file: logo, text: A plane over a wave}}
colours: {{heading: "#5b2a86", warning: "#9a1b1b"}}
words:
  closing: Thank you for bringing it in.
  terms: ["Estimates hold for 60 days.", '{HOSTILE}']
  notice: Registered in Some town.
"""
DRAWING = (
    '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 40 20">'
    '<rect width="40" height="20" fill="#24463f"/></svg>'
)
PAPERS = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4)}


def _pixels() -> bytes:
    written = io.BytesIO()
    Image.new("RGB", (40, 20), "#24463f").save(written, "PNG")
    return written.getvalue()


@pytest.fixture(scope="module")
def of_shop(bench: Checklist, tmp_path_factory: pytest.TempPathFactory) -> Callable[..., Report]:
    """Return a maker of reports from a shop's file and the logo beside it."""

    def make(text: str = SHOP, logo: bytes = DRAWING.encode()) -> Report:
        path = tmp_path_factory.mktemp("shop") / "shop.yaml"
        path.write_text(text, encoding="utf-8")
        (path.parent / "logo").write_bytes(logo)
        inspection = store.from_bytes((HEAD + HOT_CAR).encode(), Path("job.yaml"), lambda _: bench)
        return build(examine(bench, inspection), shop=read_shop(path))

    return make


@pytest.fixture(scope="module")
def report(of_shop: Callable[..., Report]) -> Report:
    return of_shop()


def _pdf(report: Report, copy: Copy, paper: tuple[float, float] = PAPERS["A4"]) -> PdfReader:
    return PdfReader(io.BytesIO(to_pdf(report, copy=copy, paper=paper)))


@pytest.mark.parametrize("copy", ["player", "bench"])
def test_heading_and_own_words_stand_in_every_form(report: Report, copy: Copy) -> None:
    html = read(to_html(report, copy=copy)).text
    pdf = " ".join(page.extract_text() for page in _pdf(report, copy).pages)
    for text in (html, pdf):
        shown = words(text)
        for said in (
            "A bench & a river",
            "Some street 1 · Some town",
            "Thank you for bringing it in.",
            "Estimates hold for 60 days.",
            "Registered in Some town.",
        ):
            assert words(said) in shown
    markdown = to_markdown(report, copy=copy)
    assert markdown.startswith("A bench &amp; a river, Some street 1, Some town\n")
    assert "Thank you for bringing it in." in markdown


@pytest.mark.parametrize("copy", ["player", "bench"])
def test_own_words_are_text_whatever_they_look_like(report: Report, copy: Copy) -> None:
    page = read(to_html(report, copy=copy))
    assert HOSTILE in page.text
    assert not page.named("script", "a")
    assert HOSTILE in " ".join(
        " ".join(page.extract_text().split()) for page in _pdf(report, copy).pages
    )
    assert "{{ 7" not in to_markdown(report, copy=copy)  # its signs are escaped


def test_the_logo_is_in_the_page_with_its_words(report: Report) -> None:
    (logo,) = read(to_html(report)).named("img")
    assert logo.attributes["alt"] == "A plane over a wave"
    assert logo.attributes["src"].startswith("data:image/svg+xml;base64,")


def _alternatives(node: Any) -> list[str]:
    found = node.get_object() if hasattr(node, "get_object") else node
    if isinstance(found, list):
        return [text for one in found for text in _alternatives(one)]
    if not isinstance(found, dict):
        return []
    mine = [str(found["/Alt"])] if "/Alt" in found else []
    return mine + (_alternatives(found["/K"]) if "/K" in found else [])


@pytest.mark.parametrize("logo", [DRAWING.encode(), _pixels()], ids=["svg", "png"])
def test_the_logo_is_on_paper_with_its_words(of_shop: Callable[..., Report], logo: bytes) -> None:
    pdf = _pdf(of_shop(logo=logo), "player")
    assert "A plane over a wave" in _alternatives(pdf.root_object["/StructTreeRoot"])
    metadata: Any = pdf.root_object["/Metadata"]
    assert b"pdfuaid" in metadata.get_object().get_data()


def test_colours_are_the_shops(report: Report, hot_car: Report) -> None:
    style = read(to_html(report)).named("style")[0].text
    assert style.rindex("--deep: #5b2a86") > style.rindex("--deep: #24463f")
    assert style.rindex("--warn: #9a1b1b") > style.rindex("--warn: #8a2a12")
    assert "#5b2a86" not in to_html(hot_car)
    content = _pdf(report, "player").pages[0].get_contents()
    assert content is not None
    red = str(0x5B / 255)[:6]
    assert f"\n{red}".encode() in content.get_data() or f" {red}".encode() in content.get_data()


@pytest.mark.parametrize("paper", PAPERS.values(), ids=PAPERS)
def test_with_a_long_heading_the_first_page_is_one_page(
    of_shop: Callable[..., Report], paper: tuple[float, float]
) -> None:
    long = SHOP.replace("A bench & a river", "bench " * 300).replace(
        "Some street 1", "street " * 25
    )
    pdf = _pdf(of_shop(long), "bench", paper)
    assert "not an appraisal" in pdf.pages[0].extract_text()


def test_without_a_shop_nothing_of_it_is_there(hot_car: Report) -> None:
    assert hot_car.letterhead is None
    assert not read(to_html(hot_car)).named("img")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    folder = tmp_path / "templates"
    folder.mkdir()
    return folder


def test_a_shops_template_takes_the_place_of_ours(hot_car: Report, folder: Path) -> None:
    (folder / "own_words.html.j2").write_text("<p>Ours: {{ report.heading.job }}</p>", "utf-8")
    (folder / "report.md.j2").write_text("# {{ report.heading.instrument }}\n", "utf-8")
    page = read(to_html(hot_car, templates=folder))
    assert "Ours: 2031-014" in page.text
    assert "Inspection report" in page.text  # all others are ours
    assert to_markdown(hot_car, templates=folder) == "# Small dark guitar with a pin bridge"


@pytest.mark.parametrize(
    ("template", "said"),
    [
        ("\n{% if %}", "2: this template of the shop cannot be used: "),
        ("\n\n{{ report.headline }}", "3: this template of the shop cannot be used: "),
        ("{{ report.__class__.__mro__ }}", "1: this template of the shop cannot be used: "),
        ("{{ words.sure.__globals__ }}", "1: this template of the shop cannot be used: "),
        ("{{ words.sentences }}", "1: this template of the shop cannot be used: "),
        ("{% include '../shop.yaml' %}", "1: this template of the shop cannot be used: "),
        ("{% include '/etc/hostname' %}", "1: this template of the shop cannot be used: "),
        ("{% include 'linked.j2' %}", "1: this template of the shop cannot be used: it is a link"),
        ("{{ 1 / 0 }}", "1: this template of the shop cannot be used: division by zero"),
        ("{% for a in range(10 ** 9) %}{% endfor %}", "1: this template of the shop cannot be"),
        ("{{ report.heading.job | safe }}", "1: this template of the shop cannot be used: No"),
        ("{{ ''.join.__self__ }}", "1: this template of the shop cannot be used: "),
        ("{% set x = report.findings.append(1) %}", "1: this template of the shop cannot be"),
    ],
)  # fmt: skip
def test_a_template_that_cannot_be_used_is_named_with_its_line(
    hot_car: Report, folder: Path, template: str, said: str
) -> None:
    (folder.parent / "shop.yaml").write_text("secret", encoding="utf-8")
    (folder / "linked.j2").symlink_to(folder.parent / "shop.yaml")
    (folder / "own_words.html.j2").write_text(template, encoding="utf-8")
    with pytest.raises(BrokenTemplate) as caught:
        to_html(hot_car, templates=folder)
    told = str(caught.value)
    assert said in told
    name = "linked.j2" if "it is a link" in said else "own_words.html.j2"
    assert told.startswith(f"{folder / name}:")
    assert "secret" not in told


@pytest.mark.parametrize(
    "template",
    [
        "{{ report.heading.instrument }}",
        "{% autoescape false %}{{ report.heading.instrument }}{% endautoescape %}",
        "{% set x %}{{ report.heading.instrument }}{% endset %}{{ x }}",
        "{{ ('%s' | format(report.heading.instrument)) }}",
    ],
)
def test_no_template_can_make_markup_of_what_was_typed(
    of_shop: Callable[..., Report], folder: Path, template: str
) -> None:
    from dataclasses import replace  # noqa: PLC0415

    made = of_shop()
    typed = replace(made, heading=replace(made.heading, instrument="<script>1</script>"))
    (folder / "own_words.html.j2").write_text(template, encoding="utf-8")
    assert "<script>" not in to_html(typed, templates=folder)
