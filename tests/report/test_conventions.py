"""Numbers, days, money, units and paper by the locale of a shop; JSON and CSV never change.

How a locale writes is data of CLDR, looked up here by hand from what each country is known to do.
"""

from __future__ import annotations

import io
import json
import re
import subprocess
import sys
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from pypdf import PdfReader

from pictures import plain
from report.pages import read
from report.visits import HEAD, HOT_CAR
from tailblock.cli.report import Format, write_report
from tailblock.errors import ProblemsFound
from tailblock.inspection import store
from tailblock.inspection.shop import read_shop
from tailblock.pipeline import examine
from tailblock.report.build import build
from tailblock.report.conventions import Conventions, day, grouped, number, speaking, value
from tailblock.report.to_html import to_html
from tailblock.report.to_markdown import to_markdown
from tailblock.report.to_pdf import to_pdf

if TYPE_CHECKING:
    from collections.abc import Callable

    from tailblock.inspection.look import Look
    from tailblock.knowledge.checklist import Checklist
    from tailblock.report.model import Report

SHOP = "tailblock: 1\ncurrency: EUR\nrate: 1250.5\ntax: {name: VAT, percent: 8.1}\n"


def _plain(text: str) -> str:
    """Return a text with every kind of blank as a space."""
    return re.sub(r"[\u00a0\u202f]", " ", text)


@pytest.mark.parametrize(
    ("tag", "decimal", "percent", "thousands", "written"),
    [
        ("", "2.5 mm (.012 in)", "40 %", "20,000", "2031-03-02"),
        ("en-US", "2.5 mm (.012 in)", "40%", "20,000", "3/2/2031"),
        ("en-GB", "2.5 mm (.012 in)", "40%", "20,000", "02/03/2031"),
        ("de-DE", "2,5 mm (0,012 in)", "40 %", "20.000", "2.3.2031"),
        ("de-CH", "2.5 mm (.012 in)", "40%", "20'000", "2.3.2031"),
        ("fr-FR", "2,5 mm (0,012 in)", "40 %", "20 000", "02/03/2031"),
        ("sv-SE", "2,5 mm (0,012 in)", "40 %", "20 000", "2031-03-02"),
        ("ja-JP", "2.5 mm (.012 in)", "40%", "20,000", "2031/3/2"),
        ("tr-TR", "2,5 mm (0,012 in)", "%40", "20.000", "2.3.2031"),
    ],
)
def test_numbers_and_days(
    tag: str, decimal: str, percent: str, thousands: str, written: str
) -> None:
    with speaking(Conventions(tag)):
        assert number("2.5 mm (.012 in)") == decimal
        assert _plain(number("40 %")) == percent
        assert _plain(grouped(20_000)) == thousands
        assert day("2031-03-02") == written


def test_both_units_stay_and_only_their_order_changes() -> None:
    with speaking(Conventions("en-US", inch_first=True)):
        assert value("2.78 mm (7/64 in)") == "7/64 in (2.78 mm)"
        assert value("40°") == "40°"


def test_what_holds_within_does_not_hold_after() -> None:
    with speaking(Conventions("de-DE")):
        pass
    assert number("2.5") == "2.5"


def _look(folder: Path, fields: str) -> Look:
    path = folder / "shop.yaml"
    path.write_text(SHOP + fields, encoding="utf-8")
    return read_shop(path).look


@pytest.mark.parametrize(
    ("fields", "inch_first", "paper"),
    [
        ("", False, "A4"),
        ("locale: de-DE\n", False, "A4"),
        ("locale: en-US\n", True, "Letter"),
        ("locale: en-CA\n", False, "Letter"),
        ("locale: en\n", False, "A4"),
        ("locale: en-US\nfirst_unit: mm\npaper: A4\n", False, "A4"),
        ("first_unit: inch\npaper: Letter\n", True, "Letter"),
    ],
)
def test_units_and_paper_follow_the_locale_unless_said(
    tmp_path: Path, fields: str, inch_first: bool, paper: str
) -> None:
    look = _look(tmp_path, fields)
    assert (look.inch_first, look.paper) == (inch_first, paper)


@pytest.mark.parametrize(
    ("fields", "said"),
    [
        ("locale: de-XXXX\n", "5:9: error [bad-value] `de-XXXX` is no locale that is known ("),
        ("locale: deutsch\n", "5:9: error [bad-value] `deutsch` is no locale that is known ("),
        ("locale: dee-DE\n", "5:9: error [bad-value] `dee-DE` is no locale that is known (did you"),
        ("locale: '!'\n", "5:9: error [bad-value] `!` is no locale that is known (write it like"),
        ("first_unit: cm\n", "5:13: error [bad-value] `cm` is not one of mm, inch"),
        ("paper: A5\n", "5:8: error [bad-value] `A5` is not one of A4, Letter"),
    ],
)
def test_a_slip_is_named_with_its_place_and_mend(tmp_path: Path, fields: str, said: str) -> None:
    with pytest.raises(ProblemsFound) as caught:
        _look(tmp_path, fields)
    assert f"shop.yaml:{said}" in str(caught.value)


@pytest.fixture(scope="module")
def localised(
    bench: Checklist, tmp_path_factory: pytest.TempPathFactory
) -> Callable[[str], Report]:
    def make(tag: str) -> Report:
        path = tmp_path_factory.mktemp("shop") / "shop.yaml"
        path.write_text(f"{SHOP}locale: {tag}\n", encoding="utf-8")
        inspection = store.from_bytes((HEAD + HOT_CAR).encode(), Path("job.yaml"), lambda _: bench)
        return build(examine(bench, inspection), shop=read_shop(path))

    return make


@pytest.mark.parametrize("form", [to_markdown, to_html])
def test_a_german_report_has_no_decimal_point_of_ours(
    localised: Callable[[str], Report], form: Callable[[Report], str]
) -> None:
    report = localised("de-DE")
    text = _plain(form(report) if form is to_markdown else read(to_html(report)).text)
    assert "1.250,50 €" in text
    assert "8,1 %" in text
    assert "632,0 mm (24 " in text
    assert "2.3.2031" in text
    assert re.findall(r"\d\.\d+ (?:mm|h|min|%)", text) == ["4.5 mm"]  # as it was typed


def test_an_american_report_has_inches_first_and_letter_paper(
    localised: Callable[[str], Report],
) -> None:
    report = localised("en-US")
    text = _plain(read(to_html(report)).text)
    assert "€1,250.50" in text
    assert re.search(r"\d in \(632\.0 mm\)", text)
    page = PdfReader(io.BytesIO(to_pdf(report))).pages[0]
    assert [round(float(side)) for side in page.mediabox[2:]] == [612, 792]
    assert "3/2/2031" in page.extract_text()


def test_json_is_the_same_wherever_the_shop_is(bench: Checklist, tmp_path: Path) -> None:
    job = tmp_path / "job.yaml"
    inspection = store.from_bytes((HEAD + HOT_CAR).encode(), job, lambda _: bench)
    (tmp_path / "photos").mkdir()
    (tmp_path / "photos/a.jpg").write_bytes(plain())
    examined = examine(bench, inspection)
    made = set()
    for tag in ("", "locale: de-DE\n", "locale: en-US\n"):
        (tmp_path / "shop.yaml").write_text(SHOP + tag, encoding="utf-8")
        shop = read_shop(tmp_path / "shop.yaml")
        write_report(examined, {"bench": tmp_path / "report.json"}, Format.JSON, "", shop)
        made.add((tmp_path / "report.json").read_text(encoding="utf-8"))
    (text,) = made
    assert json.loads(text)["heading"]["day"] == "2031-03-02"


def test_without_a_locale_the_library_of_locales_is_not_loaded() -> None:
    code = (
        "import sys; import tailblock.report.build, tailblock.report.to_html; "
        "import tailblock.inspection.shop; print('babel' in sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "False"
