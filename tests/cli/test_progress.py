"""The bar of a long work: on a terminal only, on the error stream only, gone when it is done."""

from __future__ import annotations

import io
import subprocess
import sys
from typing import TYPE_CHECKING

import pytest
from rich.console import Console
from rich.progress import Progress

from tailblock.cli import progress
from tailblock.cli.progress import going_through

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from cli.conftest import Run


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


@pytest.fixture
def clock(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let a second go by at each look at the clock."""
    seconds = iter(range(1000))
    monkeypatch.setattr(progress, "monotonic", lambda: float(next(seconds)))


@pytest.mark.usefixtures("clock")
def test_a_terminal_sees_how_far_it_has_come(monkeypatch: pytest.MonkeyPatch) -> None:
    terminal = Terminal()
    monkeypatch.setattr(sys, "stderr", terminal)
    monkeypatch.setenv("TERM", "xterm")
    assert list(going_through("Photographs")(range(20))) == list(range(20))
    assert "Photographs" in terminal.getvalue()
    assert "/20" in terminal.getvalue()
    assert terminal.getvalue().endswith("\x1b[2K")  # the line is cleared: ECMA-48, erase in line


@pytest.mark.usefixtures("clock")
def test_a_pipe_sees_nothing(capsys: pytest.CaptureFixture[str]) -> None:
    assert [*going_through("Photographs")(range(20))] == [*range(20)]
    assert capsys.readouterr() == ("", "")


def test_what_is_done_at_once_needs_no_bar(monkeypatch: pytest.MonkeyPatch) -> None:
    terminal = Terminal()
    monkeypatch.setattr(sys, "stderr", terminal)
    assert [*going_through("Photographs")(range(20))] == [*range(20)]
    assert terminal.getvalue() == ""


@pytest.mark.usefixtures("clock")
def test_the_bar_goes_with_the_work_that_fails(monkeypatch: pytest.MonkeyPatch) -> None:
    terminal = Terminal()
    monkeypatch.setattr(sys, "stderr", terminal)
    monkeypatch.setenv("TERM", "xterm")
    things = iter(going_through("Photographs")(range(20)))
    assert [next(things) for _ in range(5)] == [0, 1, 2, 3, 4]
    del things  # as what works through them does when it fails
    assert terminal.getvalue().endswith("\x1b[2K")


def test_its_library_is_not_loaded_for_a_pipe() -> None:
    program = (
        "import sys; from tailblock.cli.progress import going_through; "
        "list(going_through('x')(range(3))); sys.exit('rich.progress' in sys.modules)"
    )
    subprocess.run([sys.executable, "-c", program], check=True)


@pytest.mark.usefixtures("clock")
@pytest.mark.parametrize("words", [("book", "."), ("learn", ".")])
def test_a_folder_is_gone_through_with_a_bar(
    shop: Path, run: Run, monkeypatch: pytest.MonkeyPatch, tmp_path: Path, words: tuple[str, ...]
) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    text = (shop / "job.yaml").read_text(encoding="utf-8")
    for number in range(5):
        (shop / f"job-{number}.yaml").write_text(text, encoding="utf-8")
    shown = Terminal()
    monkeypatch.setenv("TERM", "xterm")
    monkeypatch.setattr(sys.stderr, "isatty", lambda: True, raising=False)
    monkeypatch.setattr(progress, "_bar", _plain_bar(shown))
    assert run(*words).code == 0
    assert "Inspections" in shown.getvalue()


def _plain_bar(shown: Terminal) -> Callable[[], Progress]:
    return lambda: Progress(console=Console(file=shown), transient=True)
