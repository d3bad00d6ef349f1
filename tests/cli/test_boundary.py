"""Every failure becomes one line and an exit code, and no traceback."""

from __future__ import annotations

import errno
from typing import TYPE_CHECKING

import pytest
import typer

from tailblock.cli.boundary import Interrupted, guarded
from tailblock.errors import Problem, ProblemsFound, TailblockError

if TYPE_CHECKING:
    from cli.conftest import Run


def raising(error: BaseException) -> int:
    def run() -> None:
        raise error

    return guarded(run)


@pytest.mark.parametrize(
    ("error", "code", "said"),
    [
        (TailblockError("job.yaml: no (do this)"), 2, "job.yaml: no (do this)\n"),
        (
            ProblemsFound((Problem("a", 1, 2, "x", "r", "bad"), Problem("b", 3, 4, "", "r", "s"))),
            2,
            "a:1:2: error [r] x: bad\nb:3:4: error [r] s\n",
        ),
        (
            OSError(errno.ENOSPC, "No space left on device", "out.html"),
            2,
            "out.html: the disk is full; make room and try again\n",
        ),
        (
            PermissionError(errno.EACCES, "Permission denied", "out.html"),
            2,
            (
                "out.html: you may not do that here; look at the permissions of the file and its "
                "folder\n"
            ),
        ),
        (FileNotFoundError(errno.ENOENT, "No", "x"), 2, "x: there is no such file or folder\n"),
        (OSError(errno.EIO, "Input/output error", "x"), 2, "x: Input/output error\n"),
        (OSError("odd"), 2, "odd\n"),
        (KeyboardInterrupt(), 130, "broken off\n"),
        (Interrupted("2 answers are saved"), 130, "2 answers are saved\n"),
        (typer.Abort(), 130, "broken off\n"),
        (typer.Exit(1), 1, ""),
        (
            UnicodeEncodeError("utf-8", "\udcff", 0, 1, "no"),
            2,
            "'\\udcff' holds characters that cannot be written; give it in UTF-8\n",
        ),
    ],
    ids=lambda value: type(value).__name__ if isinstance(value, BaseException) else None,
)
def test_a_failure_is_one_line_on_the_error_stream(
    error: BaseException, code: int, said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert raising(error) == code
    assert capsys.readouterr() == ("", said)


def test_a_defect_of_ours_is_not_dressed_up() -> None:
    with pytest.raises(ZeroDivisionError):
        raising(ZeroDivisionError())


@pytest.mark.parametrize(("result", "code"), [(None, 0), (0, 0), (1, 1), (130, 130), ("text", 0)])
def test_what_goes_well_hands_its_code_on(result: object, code: int) -> None:
    assert guarded(lambda: result) == code


def test_a_closed_pipe_ends_quietly() -> None:
    assert raising(BrokenPipeError()) == 141


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["fly"], "tailblock: No such command 'fly'."),
        (["record", "job.yaml"], "tailblock record: Missing argument 'CHECK'."),
        (["causes", "job.yaml", "--jsn"], "tailblock causes: No such option: --jsn"),
        (["report", "job.yaml", "--format", "text"], "Invalid value for '--format': 'text' is not"),
        (["accept", "job.yaml", "x", "--by", "me"], "Missing option '--why'"),
    ],
    ids=lambda value: value[0] if isinstance(value, list) else "",
)
def test_bad_usage_is_one_line_that_names_the_help(words: list[str], said: str, run: Run) -> None:
    ran = run(*words)
    assert ran.code == 2
    assert said in ran.err
    assert "--help` says what it takes)" in ran.err
    assert ran.err.count("\n") == 1
    assert ran.out == ""
