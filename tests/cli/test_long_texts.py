"""Very long texts in an inspection file: reported whole in every form, or refused in one line."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from pathlib import Path

    from cli.conftest import Run


def _write(shop: Path, note: str) -> None:
    text = (shop / "job.yaml").read_text(encoding="utf-8")
    reading = f"- {{check: bridge-light, value: slight, note: {note}}}"
    text = text.replace("readings: []", f"readings:\n      {reading}")
    (shop / "job.yaml").write_text(text, encoding="utf-8")


@pytest.mark.parametrize(
    ("form", "ending"), [("html", "html"), ("markdown", "md"), ("json", "json"), ("pdf", "pdf")]
)
def test_a_note_that_fills_the_file_is_reported(
    shop: Path, run: Run, form: str, ending: str
) -> None:
    _write(shop, "the bridge lifts at the back " * 130_000)
    assert run("report", "job.yaml", "--format", form).code == 0
    made = (shop / f"job.report.{ending}").read_bytes()
    assert form == "pdf" or made.count(b"the bridge lifts at the back") == 130_000


def test_a_file_of_ten_megabytes_is_refused(shop: Path, run: Run) -> None:
    _write(shop, "a" * 10_000_000)
    ran = run("report", "job.yaml")
    assert (ran.code, ran.out) == (2, "")
    assert ran.err == (
        "job.yaml:1:1: error [yaml] the file is larger than 4,000,000 bytes "
        "(shorten its texts, or split it)\n"
    )


def test_a_name_that_is_too_long_is_refused_where_it_stands(shop: Path, run: Run) -> None:
    text = (shop / "job.yaml").read_text(encoding="utf-8")
    (shop / "job.yaml").write_text(text.replace("a small guitar", "a" * 10_001), encoding="utf-8")
    ran = run("report", "job.yaml")
    assert (ran.code, ran.out) == (2, "")
    assert "`description` must be at most 10,000 characters long" in ran.err
