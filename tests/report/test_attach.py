"""PDFs that other programs made, with a report behind them or in them.

The files in `pdfs` are estimates of a page or two, made by the programs they are named after:
Chromium 156, LibreOffice 7.4, Typst 0.15, ReportLab 5.1 and fpdf2 2.8. What comes out is read by
Poppler, another library than the one that wrote it.
"""

from __future__ import annotations

import shutil
import subprocess
from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PdfReader, PdfWriter
from pypdf.generic import DictionaryObject, NameObject, NumberObject

from tailblock.report.attach import CannotAttach, Damaged, append, embed, paper_of

PDFS = Path(__file__).parent / "pdfs"
GOOD = ["chromium", "libreoffice", "typst", "reportlab", "fpdf2"]
ADDED = (PDFS / "chromium.pdf").read_bytes()


def original(name: str) -> bytes:
    return (PDFS / f"{name}.pdf").read_bytes()


def poppler(tool: str, pdf: bytes, folder: Path, *words: str) -> str:
    if shutil.which(tool) is None:
        pytest.skip(f"{tool} is not installed")
    path = folder / "made.pdf"
    path.write_bytes(pdf)
    done = subprocess.run(
        [tool, *words, str(path), *(["-"] if tool == "pdftotext" else [])],
        capture_output=True, text=True, check=True,
    )  # fmt: skip
    # Poppler looks for a number of a tagged file in the wrong place, in the original too
    assert done.stderr.replace("Syntax Error: Suspects object is wrong type (boolean)\n", "") == ""
    return done.stdout


def facts(pdf: bytes, folder: Path) -> dict[str, str]:
    lines = poppler("pdfinfo", pdf, folder, "-f", "1", "-l", "99").splitlines()
    return {
        name.strip(): value.strip() for name, _, value in (line.partition(":") for line in lines)
    }


@pytest.mark.parametrize("name", GOOD)
def test_the_original_is_kept_and_pages_follow(name: str, tmp_path: Path) -> None:
    before = original(name)
    after = append(before, ADDED, name)
    old, new = facts(before, tmp_path), facts(after, tmp_path)
    pages = int(old["Pages"])
    assert int(new["Pages"]) == pages + 1
    kept = ["Title", "Author", "Creator", "Producer", "CreationDate", "ModDate"]
    kept += [f"Page{number:5} {what}" for number in range(1, pages + 1) for what in ("size", "rot")]
    assert {key: new.get(key) for key in kept} == {key: old.get(key) for key in kept}
    assert new["PDF version"] == max(old["PDF version"], facts(ADDED, tmp_path)["PDF version"])
    texts = poppler("pdftotext", after, tmp_path).split("\f")
    assert texts[:pages] == poppler("pdftotext", before, tmp_path).split("\f")[:pages]
    assert "Estimate 15" in texts[pages]
    assert drawn(after, pages, tmp_path) == drawn(before, pages, tmp_path)


def drawn(pdf: bytes, pages: int, folder: Path) -> bytes:
    """Return the first pages as pixels."""
    if shutil.which("pdftoppm") is None:
        pytest.skip("pdftoppm is not installed")
    words = ["pdftoppm", "-r", "40", "-l", str(pages), "-"]
    return subprocess.run(words, input=pdf, capture_output=True, check=True).stdout


@pytest.mark.parametrize("name", GOOD)
def test_a_file_can_be_embedded_and_taken_out_again(name: str, tmp_path: Path) -> None:
    before = original(name)
    after = embed(before, ADDED, "inspection.pdf", name)
    assert facts(after, tmp_path)["Pages"] == facts(before, tmp_path)["Pages"]
    assert "1 embedded files" in poppler("pdfdetach", after, tmp_path, "-list")
    poppler("pdfdetach", after, tmp_path, "-save", "1", "-o", str(tmp_path / "out.pdf"))
    assert (tmp_path / "out.pdf").read_bytes() == ADDED


def test_what_was_made_can_be_added_to_again() -> None:
    twice = append(append(original("typst"), ADDED, "x"), ADDED, "x")
    assert len(PdfReader(BytesIO(twice)).pages) == 4


@pytest.mark.parametrize(
    ("name", "paper"),
    [("typst", (215.9, 279.4)), ("reportlab", (210, 297)), ("chromium", (210, 297))],
)
def test_the_paper_is_that_of_the_first_page(name: str, paper: tuple[float, float]) -> None:
    assert paper_of(original(name), name) == pytest.approx(paper, abs=0.2)


def test_a_turned_page_is_as_wide_as_it_is_shown() -> None:
    writer = PdfWriter()
    writer.add_blank_page(100 / 25.4 * 72, 200 / 25.4 * 72).rotate(90)
    out = BytesIO()
    writer.write(out)
    assert paper_of(out.getvalue(), "x") == pytest.approx((200, 100))


def _signed() -> bytes:
    writer = PdfWriter(clone_from=BytesIO(original("fpdf2")))
    form = DictionaryObject({NameObject("/SigFlags"): NumberObject(3)})
    writer.root_object[NameObject("/AcroForm")] = form
    out = BytesIO()
    writer.write(out)
    return out.getvalue()


@pytest.mark.parametrize(
    ("pdf", "said"),
    [
        (original("encrypted"), "it is encrypted; nothing was written (save a copy without a pass"),
        (original("no-changes-allowed"), "it is encrypted"),
        (_signed(), "it is signed, and a change would break that; nothing was written (send the"),
    ],
    ids=["encrypted", "no changes allowed", "signed"],
)
def test_what_may_not_be_changed_is_refused(pdf: bytes, said: str) -> None:
    for refuse in (
        lambda: append(pdf, ADDED, "estimate.pdf"),
        lambda: embed(pdf, ADDED, "i.pdf", "estimate.pdf"),
        lambda: paper_of(pdf, "estimate.pdf"),
    ):
        with pytest.raises(CannotAttach) as caught:
            refuse()
        assert str(caught.value).startswith(f"estimate.pdf: {said}")


@pytest.mark.parametrize("name", GOOD)
@pytest.mark.parametrize("share", [0.0, 0.1, 0.3, 0.5, 0.7, 0.9, 0.99])
def test_a_file_that_was_cut_off_is_refused(name: str, share: float) -> None:
    whole = original(name)
    with pytest.raises(Damaged, match="this is no whole PDF; nothing was written"):
        append(whole[: int(share * len(whole))], ADDED, name)


@pytest.mark.parametrize("pdf", [b"Dear customer,", b"%PDF-1.7\n%%EOF\n", b"\x00" * 3000])
def test_what_is_no_pdf_is_refused(pdf: bytes) -> None:
    with pytest.raises(Damaged):
        append(pdf, ADDED, "letter.pdf")


@pytest.mark.parametrize("name", GOOD)
@pytest.mark.parametrize("seed", range(8))
def test_a_file_with_a_hole_is_refused_or_has_all_its_pages(name: str, seed: int) -> None:
    """A hole may lie where nobody looks; nothing else than a refusal ends it."""
    whole = bytearray(original(name))
    at = (seed * len(whole)) // 8
    whole[at : at + 40] = b"\x00" * 40
    try:
        made = append(bytes(whole), ADDED, name)
    except CannotAttach:
        return
    assert len(PdfReader(BytesIO(made)).pages) == len(PdfReader(BytesIO(original(name))).pages) + 1
