"""What a person gets wrong: a line that says where and what would be right, the file untouched."""

from __future__ import annotations

import errno
import os
from typing import TYPE_CHECKING

import pytest
from filelock import FileLock

from cli.conftest import JOB
from tailblock.api import NothingToTakeBack
from tailblock.cli.session import Session

if TYPE_CHECKING:
    from pathlib import Path

    from cli.conftest import Ran, Run

READ = ("causes", "job.yaml")


def refused(ran: Ran, said: str) -> None:
    """Check that a command ended with one line that says this, and with exit code 2."""
    assert (ran.code, ran.out) == (2, "")
    assert said in ran.err
    assert ran.err.count("\n") == 1
    assert "Traceback" not in ran.err


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (
            ["record", "gone.yaml", "pin-look", "round"],
            "gone.yaml: there is no such file (`tailblock begin gone.yaml` makes one)",
        ),
        (["causes", "gone.yaml"], "gone.yaml: there is no such file"),
        (["walk", "gone.yaml"], "gone.yaml: there is no such file"),
        (
            ["record", "job.yaml", "bridge-feeler", "6", "mm"],
            '(mm) (a value of several words stands in quotes: "0.2 mm")',
        ),
        (["report", "job.yaml", "--format", "md"], "(did you mean markdown?)"),
        (["record", "job.yaml", "bridge-feeler", "-6 mm"], "with a minus stands last, behind `--`"),
        (
            ["photo", "job.yaml", "checklists", "--check", "bridge-feeler"],
            "checklists: this is a folder (name one photograph in it)",
        ),
        (
            ["report", "job.yaml", "--shop", "checklists"],
            "checklists: this is a folder (name the file in it)",
        ),
        (["report", "job.yaml", "-o", "checklists"], "it is a folder; nothing was changed (name"),
        (
            ["begin", "checklists", "--checklist", "small"],
            "checklists: this is a folder (name a file in it)",
        ),
        (
            ["begin", "new.yaml", "--checklist", "small", "--scale-length", "632"],
            "--scale-length: '632' has no unit",
        ),
        (
            ["learn", ".", "--propose", "ours"],
            "--propose: no case is confirmed yet, and nothing can be learned (`tailblock confirm",
        ),
        (["causes", "checklists"], "checklists: this is a folder; name the inspection file itself"),
        (["record", "job.yaml", "bridge-feler", "6 mm"], "did you mean `bridge-feeler`?"),
        (
            ["record", "job.yaml", "neck-change", "1 mm"],
            "neck-change: it is computed, never asked; give the readings it is made from",
        ),
        (
            ["record", "job.yaml", "bridge-feeler", "6 kg"],
            "bridge-feeler: '6 kg' is a mass; a length is wanted, such as 0.3 mm or 5/64 in",
        ),
        (
            ["record", "job.yaml", "bridge-feeler", "6 furlongs"],
            "bridge-feeler: '6 furlongs': 'furlongs' is not a unit; a length is wanted",
        ),
        (["record", "job.yaml", "bridge-feeler", "wide"], "'wide' is not a length; write it like"),
        (
            ["record", "job.yaml", "bridge-feeler", "40 mm"],
            "40.00 mm (1 37/64 in) cannot be; possible is from 0.00 mm (.000 in) up to 30.00 mm",
        ),
        (
            ["record", "job.yaml", "bridge-light", "bright"],
            "'bright' is none of its answers: none, slight, marked or unknown",
        ),
        (
            ["record", "job.yaml", "relief", "0.2 mm"],
            "relief: it cannot be read with strings slack (it needs strings at-pitch; say the ",
        ),
        (
            ["record", "job.yaml", "pin-look", "round", "--setup", "strings=wet"],
            "strings cannot be 'wet' (it is one of off, slack, at-pitch)",
        ),
        (
            ["record", "job.yaml", "pin-look", "round", "--setup", "wet"],
            "--setup wet: this is no pair (write it like --setup strings=slack)",
        ),
        (
            ["record", "job.yaml", "pin-look", "round", "--photo", "gone.jpg"],
            "gone.jpg: there is no such photograph",
        ),
        (
            ["record", "job.yaml", "pin-look", "round", "--checklists", "nowhere"],
            "nowhere: there is no such folder (a folder is wanted)",
        ),
        (["why", "job.yaml", "bridge-liftin"], "did you mean `bridge-lifting`?"),
        (
            ["accept", "job.yaml", "neck-bow", "--by", "me", "--why", "so"],
            "neck-bow: it holds nothing back, so there is nothing to accept (",
        ),
        (
            ["accept", "job.yaml", "rust", "--by", "me", "--why", "so"],
            "rust: there is no such fault",
        ),
        (
            ["walk", "job.yaml", "--stage", "later"],
            "--stage: there is no 'later' (there is arrival",
        ),
        (["report", "job.yaml", "-o", "nowhere/out.html"], "nowhere/out.html: "),
        (["report", "job.yaml", "-o", "checklists"], "checklists: "),
        (["demo", "--inspection", "nobody"], "there is no demo inspection 'nobody' ("),
    ],
)
def test_bad_words(words: list[str], said: str, shop: Path, run: Run) -> None:
    refused(run(*words), said)
    assert (shop / "job.yaml").read_text(encoding="utf-8") == JOB


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (JOB.replace("bridge: pin,", "bridge: pinless,"), "pin-look: it does not apply to this in"),
    ],
)
def test_a_reading_for_another_kind_of_instrument(
    text: str, said: str, shop: Path, run: Run
) -> None:
    (shop / "job.yaml").write_text(text, encoding="utf-8")
    refused(run("record", "job.yaml", "pin-look", "round"), said)
    refused(run("why", "job.yaml", "pin-holes-worn"), "this fault does not apply to this")
    assert (shop / "job.yaml").read_text(encoding="utf-8") == text


def test_what_is_gone_from_the_file_cannot_be_taken_back(shop: Path) -> None:
    session = Session.open(shop / "job.yaml", None)
    with pytest.raises(NothingToTakeBack, match="pin-look has no reading on the last visit"):
        session.take_back("pin-look")
    assert (shop / "job.yaml").read_text(encoding="utf-8") == JOB


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (JOB.replace("tailblock: 1", "tailblock: 2"), "job.yaml:1:12: "),
        (JOB.replace("tailblock: 1", "tailblock: 2"), "newer version"),
        (JOB.replace('"0012"', '"0012'), "job.yaml:"),
        (JOB.replace("checklist: small", "checklist: banjo"), "job.yaml:3:12: "),
        (JOB.replace("date: 2021-03-02", "date: yesterday"), "job.yaml:7:11: "),
        (JOB.replace("stage: arrival", "stage: later"), "job.yaml:6:12: "),
        (JOB.replace("strings: slack", "strings: wet"), "job.yaml:8:22: "),
        (JOB.replace("readings: []", "readings: [{check: rust, value: 1}]"), "job.yaml:9:24: "),
        (JOB.replace("bracing: x", "bracing: fan"), "bracing cannot be 'fan'"),
        ("", "job.yaml:1:1: "),
        ("just text\n", "job.yaml:1:1: "),
        ("\x00", "job.yaml:1:1: "),
    ],
)
def test_a_file_that_cannot_be_used_is_named_with_line_and_column(
    text: str, said: str, shop: Path, run: Run
) -> None:
    (shop / "job.yaml").write_text(text, encoding="utf-8")
    refused(run(*READ), said)
    refused(run("record", "job.yaml", "pin-look", "round"), said)
    assert (shop / "job.yaml").read_text(encoding="utf-8") == text


def test_every_problem_of_a_file_is_listed_one_a_line(shop: Path, run: Run) -> None:
    text = JOB.replace("stage: arrival", "stage: later").replace("bracing: x", "bracing: fan")
    (shop / "job.yaml").write_text(text, encoding="utf-8")
    ran = run(*READ)
    assert ran.code == 2
    assert [line.split(": ")[0] for line in ran.err.splitlines()] == [
        "job.yaml:4:61",
        "job.yaml:6:12",
    ]


def test_a_broken_checklist_is_the_checklists_fault_and_is_placed_there(
    shop: Path, run: Run
) -> None:
    file = shop / "checklists" / "small" / "checklist.yaml"
    text = file.read_text(encoding="utf-8").replace("harm: serious", "harm: terrible", 1)
    file.write_text(text, encoding="utf-8")
    refused(run(*READ), "checklists/small/checklist.yaml:")


@pytest.mark.parametrize(
    "words",
    [
        ("record", "job.yaml", "pin-look", "round"),
        ("walk", "job.yaml"),
        ("accept", "job.yaml", "bridge-lifting", "--by", "me", "--why", "so"),
    ],
    ids=lambda words: words[0],
)
@pytest.mark.parametrize("trouble", ["read-only", "locked", "disk full"])
def test_a_file_that_cannot_be_written(
    words: tuple[str, ...],
    trouble: str,
    shop: Path,
    run: Run,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    if words[0] == "accept":
        run("record", "job.yaml", "bridge-light", "marked")
    file = shop / "job.yaml"
    before = file.read_bytes()
    monkeypatch.setattr("tailblock.inspection.write.LOCK_PATIENCE", 0.05)
    lock = FileLock(shop / ".job.yaml.lock")
    said = {
        "read-only": "job.yaml: cannot be written: it is read-only for you; nothing was changed",
        "locked": "job.yaml: another Tailblock is writing to this file; nothing was changed",
        "disk full": "job.yaml: cannot be written: the disk is full; nothing was changed",
    }[trouble]
    if trouble == "read-only":
        file.chmod(0o444)
    elif trouble == "locked":
        lock.acquire()
    else:

        def full(*_: object) -> None:
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

        monkeypatch.setattr("os.fsync", full)
    ran = run(*words, said="slight\nnone\n")
    lock.release()
    assert ran.code == 2
    assert said in ran.err
    assert ran.err.count("\n") == 1
    assert file.read_bytes() == before
    assert [path.name for path in shop.iterdir() if path.name.endswith(".new")] == []


def test_a_full_disk_leaves_an_older_report_as_it_was(
    shop: Path, run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    (shop / "job.report.html").write_text("old")

    def full(*_: object) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr("os.fsync", full)
    ran = run("report", "job.yaml")
    assert (ran.code, ran.out) == (2, "")
    assert "job.report.html: cannot be written: the disk is full; nothing was changed" in ran.err
    assert (shop / "job.report.html").read_text() == "old"


@pytest.mark.parametrize("note", ["tab\there", "two\nlines", "\u2028", "a: b, {c}"])
def test_odd_characters_in_a_note_come_back_as_they_were(note: str, run: Run) -> None:
    assert run("record", "job.yaml", "pin-look", "round", "--note", note).code == 0
    assert run(*READ).code == 0


@pytest.mark.parametrize(
    ("note", "said"),
    [("\udcff", "give it in UTF-8"), ("\x1b[31mred", "holds the control character U+001B")],
)
def test_a_note_that_is_no_text_is_refused(note: str, said: str, shop: Path, run: Run) -> None:
    refused(run("record", "job.yaml", "pin-look", "round", "--note", note), said)
    assert (shop / "job.yaml").read_text(encoding="utf-8") == JOB
