"""`attach` and `report --lines`: what a shop puts into its estimates."""

from __future__ import annotations

import csv
import json
import shutil
from io import BytesIO, StringIO
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from pypdf import PdfReader

if TYPE_CHECKING:
    from cli.conftest import Run

OPEN = ("record", "job.yaml", "bridge-feeler", "6 mm")
PDFS = Path(__file__).parents[1] / "report" / "pdfs"


@pytest.fixture
def estimate(shop: Path) -> Path:
    return Path(shutil.copy(PDFS / "typst.pdf", shop / "estimate.pdf"))


ATTACH = ("attach", "estimate.pdf", "--inspection", "job.yaml", "-o", "out.pdf")


def test_the_report_follows_the_estimate_on_its_paper(run: Run, shop: Path, estimate: Path) -> None:
    before = estimate.read_bytes()
    run(*OPEN)
    ran = run(*ATTACH)
    assert (ran.code, ran.out) == (0, "out.pdf\n")
    assert estimate.read_bytes() == before
    pages = PdfReader(shop / "out.pdf").pages
    first, later = PdfReader(BytesIO(before)).pages, pages[2:]
    assert [page.extract_text() for page in pages[:2]] == [page.extract_text() for page in first]
    for page in later:
        size = float(page.mediabox.width), float(page.mediabox.height)
        assert size == pytest.approx((612, 792), abs=1)  # Letter, as the estimate
    text = " ".join(later[0].extract_text().split())
    run("report", "job.yaml", "--format", "json", "-o", "r.json")
    job = json.loads((shop / "r.json").read_text(encoding="utf-8"))["heading"]
    assert (
        f"Job {job['job']} · {job['visit']} · {job['day']} · found on this date; "
        "may change once opened"
    ) in text
    assert "may change once opened" not in later[1].extract_text()


def test_the_bench_copy_says_more_and_an_embedded_one_changes_no_page(
    run: Run, shop: Path, estimate: Path
) -> None:
    run(*OPEN)
    assert run(*ATTACH[:-1], "player.pdf").code == 0
    assert run(*ATTACH[:-1], "bench.pdf", "--copy", "bench").code == 0
    assert run(*ATTACH[:-1], "embedded.pdf", "--embed").code == 0
    player, bench = (
        "".join(page.extract_text() for page in PdfReader(shop / name).pages[2:])
        for name in ("player.pdf", "bench.pdf")
    )
    assert "Findings" in bench
    assert "Findings" not in player
    assert "What can be done about it" in player
    embedded = PdfReader(shop / "embedded.pdf")
    assert len(embedded.pages) == 2
    ((name, (content,)),) = embedded.attachments.items()
    assert name.startswith("inspection-")
    assert "Ada" not in name
    assert "What can be done about it" in "".join(
        p.extract_text() for p in PdfReader(BytesIO(content)).pages
    )


@pytest.mark.parametrize("target", ["estimate.pdf", "./job.yaml", "link.pdf"])
def test_it_is_never_done_in_place(run: Run, shop: Path, estimate: Path, target: str) -> None:
    before = estimate.read_bytes(), (shop / "job.yaml").read_bytes()
    (shop / "link.pdf").hardlink_to(estimate)
    ran = run(*ATTACH[:-1], target)
    assert (ran.code, ran.out) == (2, "")
    assert ran.err == (
        f"{Path(target)}: this is what the new PDF is made from (give it another name)\n"
    )
    assert (estimate.read_bytes(), (shop / "job.yaml").read_bytes()) == before


@pytest.mark.parametrize(
    ("content", "said"),
    [
        ((PDFS / "encrypted.pdf").read_bytes(), "it is encrypted; nothing was written"),
        ((PDFS / "typst.pdf").read_bytes()[:5000], "this is no whole PDF; nothing was written"),
    ],
    ids=["encrypted", "damaged"],
)
def test_a_pdf_that_cannot_be_kept_is_refused(
    run: Run, shop: Path, estimate: Path, content: bytes, said: str
) -> None:
    estimate.write_bytes(content)
    ran = run(*ATTACH)
    assert (ran.code, ran.out) == (2, "")
    assert ran.err.startswith(f"estimate.pdf: {said}")
    assert estimate.read_bytes() == content
    assert not (shop / "out.pdf").exists()


def test_a_missing_estimate(run: Run, shop: Path) -> None:
    assert run("attach", "no.pdf", *ATTACH[2:]).err == (
        "no.pdf: there is no such file (look at its name and folder)\n"
    )


def test_line_items_as_csv_and_json(run: Run, shop: Path) -> None:
    run(*OPEN)
    (shop / "shop.yaml").write_text(
        "tailblock: 1\ncurrency: EUR\nrate: 60\nmaterials: {bridge-reglue: 12.1}\n",
        encoding="utf-8",
    )
    ran = run("report", "job.yaml", "--lines")
    assert ran.out.splitlines() == ["job.lines.csv", "job.lines.json"]
    text = (shop / "job.lines.csv").read_bytes().decode()
    (row,) = csv.DictReader(StringIO(text, newline=""))
    assert text.count("\r\n") == 2  # RFC 4180
    wanted = {
        "kind": "work", "remedy": "bridge-reglue", "part": "Bridge", "hours_low": "2",
        "hours_likely": "3", "hours_high": "6", "material_allowance": "12.10", "currency": "EUR",
        "stop_point": "false", "reversible": "true",
    }  # fmt: skip
    assert {name: row[name] for name in wanted} == wanted
    data = json.loads((shop / "job.lines.json").read_text(encoding="utf-8"))
    assert (data["option"], data["visit"]) == ("to-string", 1)
    (item,) = data["items"]
    assert item["hours_average"] == pytest.approx(data["hours"]["mean"], abs=0.005)
    assert [one["share"] for one in data["hours"]["enough"]] == [0.5, 0.8, 0.95]


@pytest.mark.parametrize(
    ("output", "written"),
    [("e.csv", ["e.csv"]), ("e.json", ["e.json"]), ("e", ["e.csv", "e.json"])],
)
def test_where_line_items_go(run: Run, shop: Path, output: str, written: list[str]) -> None:
    run(*OPEN)
    assert run("report", "job.yaml", "--lines", "-o", output).out.splitlines() == written
    assert all((shop / name).is_file() for name in written)


def test_no_work_no_lines(run: Run, shop: Path) -> None:
    run("record", "job.yaml", "bridge-feeler", "0 mm")
    ran = run("report", "job.yaml", "--lines")
    assert (ran.code, ran.out) == (2, "")
    assert ran.err == "job.yaml: no work is offered, so there are no lines (see the report)\n"
