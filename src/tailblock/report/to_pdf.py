"""A report as PDF: bookmarked, tagged, with its fonts, and dated by the visit.

In: a `Report`, or any program of the typesetter with its data. Out: the bytes of a PDF. It is set
in the fonts that the compiler brings along, and is then the same on every machine; only a sign that
none of them has asks for the machine's fonts. This is the one place that knows how a PDF is made.
"""

from __future__ import annotations

from datetime import UTC, datetime
from typing import TYPE_CHECKING

import typst

from tailblock.report.to_typst import to_typst

if TYPE_CHECKING:
    from tailblock.report.model import Copy, Report
    from tailblock.report.to_typst import Typeset

PAPERS = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4)}  # mm
ACCESSIBLE: typst.PDFStandard = "ua-1"  # ISO 14289-1
NOT_ACCESSIBLE = "PDF/UA-1 error"  # how the compiler begins what it says of it


def to_pdf(
    report: Report,
    *,
    copy: Copy = "bench",
    paper: tuple[float, float] | None = None,
    stamp: str = "",
) -> bytes:
    """Return a copy of a report as PDF.

    It follows PDF/UA-1, unless a text has a sign that no font here can show: it is then tagged all
    the same, and does not claim the standard.

    Parameters
    ----------
    paper
        Width and height of a sheet [mm]; the one that is usual where the shop is if left out.
    stamp
        What stands in the margin above the first page.
    """
    sheet = paper or PAPERS[report.conventions.paper]
    made = to_typst(report, copy=copy, paper=sheet, stamp=stamp)
    day = datetime.fromisoformat(report.heading.day).replace(tzinfo=UTC)
    return typeset(made, day)


def typeset(made: Typeset, day: datetime) -> bytes:
    """Return what a program of the typesetter makes of its data, as PDF (see `to_pdf`)."""
    for system_fonts in (False, True):  # to look through a machine's fonts takes a while
        try:
            return _compile(made, day, [ACCESSIBLE], system_fonts=system_fonts)
        except typst.TypstError as error:
            if not error.message.startswith(NOT_ACCESSIBLE):
                raise
    return _compile(made, day, [], system_fonts=True)


def _compile(
    made: Typeset, day: datetime, standards: list[typst.PDFStandard], *, system_fonts: bool
) -> bytes:
    compiler = typst.Compiler(
        made.program.encode(),
        sys_inputs={"data": made.data, **made.pictures},
        ignore_system_fonts=not system_fonts,
    )
    pdf = compiler.compile(format="pdf", timestamp=day, pdf_standards=standards)
    if not isinstance(pdf, bytes):
        raise TypeError(f"one PDF was expected, not {type(pdf).__name__}")
    return pdf
