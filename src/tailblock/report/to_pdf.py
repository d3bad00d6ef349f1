"""A report page as PDF, printed by the Chromium of this computer.

In: a page of `to_html` and the paper. Out: the bytes of a PDF. This is the one place that knows how
a PDF is made.
"""

from __future__ import annotations

import shutil
import subprocess
import tempfile
from pathlib import Path

from tailblock.errors import TailblockError

BROWSERS = ("chromium", "chromium-browser")
PATIENCE = 120.0  # seconds; it takes two on an idle computer
A4 = (210.0, 297.0)  # mm


class NoPrinter(TailblockError):
    """Nothing on this computer can print a page to PDF."""

    def __init__(self) -> None:
        super().__init__(
            "there is no Chromium to print the report with (install it, or write the report with "
            "`tailblock report` and print it from any browser)"
        )


class PrintingFailed(TailblockError):
    """The browser was started and no PDF came out."""

    def __init__(self, why: str) -> None:
        self.why = why
        super().__init__(f"the report could not be printed: {why} (try again)")


def to_pdf(page: str, paper: tuple[float, float] = A4) -> bytes:
    """Return a page as PDF on paper of a width and height [mm].

    Raises
    ------
    NoPrinter, PrintingFailed
    """
    browser = next(filter(None, map(shutil.which, BROWSERS)), None)
    if browser is None:
        raise NoPrinter
    width, height = paper
    style = f"<style>@page {{ size: {width:.2f}mm {height:.2f}mm; }}</style></head>"
    with tempfile.TemporaryDirectory(prefix="tailblock-") as folder:
        source, made = Path(folder, "report.html"), Path(folder, "report.pdf")
        source.write_text(page.replace("</head>", style, 1), encoding="utf-8")
        command = [
            browser, "--headless", "--disable-gpu", "--no-sandbox", "--no-pdf-header-footer",
            f"--user-data-dir={folder}/profile", f"--print-to-pdf={made}", source.as_uri(),
        ]  # fmt: skip
        try:
            done = subprocess.run(  # noqa: S603  (our own page, which loads nothing)
                command, capture_output=True, timeout=PATIENCE, check=False
            )
        except subprocess.TimeoutExpired:
            raise PrintingFailed("it took too long") from None
        if done.returncode or not made.is_file():
            raise PrintingFailed(f"Chromium ended with {done.returncode}")
        return made.read_bytes()
