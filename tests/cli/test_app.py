"""The command line as a whole: light to start, every command explained, the version."""

from __future__ import annotations

import os
import subprocess
import sys
from importlib.metadata import version
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from tailblock.cli.app import application

if TYPE_CHECKING:
    from cli.conftest import Run

HEAVY = ("numpy", "networkx", "pydantic", "yaml", "jinja2", "rich", "filelock", "markdown")
COMMANDS = [
    "accept", "attach", "begin", "book", "cards", "causes", "compare", "confirm", "demo", "diff",
    "done", "draw", "drill", "explain", "figure", "hours", "learn", "lint", "new-checklist",
    "next", "photo", "plan", "record", "report", "schema", "table", "test", "walk", "why", "work",
]  # fmt: skip


def test_the_commands_are_these() -> None:
    assert sorted(str(command.name) for command in application().registered_commands) == COMMANDS


def loaded(*words: str) -> list[str]:
    """Return the heavy modules that a command line has loaded."""
    program = (
        "import sys; from tailblock.cli.app import main; main(sys.argv[1:]);"
        f"print(' '.join(name for name in {HEAVY!r} if name in sys.modules))"
    )
    done = subprocess.run(
        [sys.executable, "-c", program, *words], capture_output=True, text=True, check=True
    )
    return done.stdout.splitlines()[-1].split()


@pytest.mark.parametrize("word", ["--help", "--version"])
def test_help_loads_nothing_heavy(word: str) -> None:
    assert loaded(word) == []


def test_the_help_of_a_command_loads_no_more_than_the_command_line_needs() -> None:
    assert set(loaded("record", "--help")) <= {"pydantic"}  # newer typers read parameters with it


# The table of figures, the renderers and the terminal's library: a person waits for the answer.
NOT_FOR_NEXT = ("tailblock.measures.figures", "tailblock.report.build", "jinja2", "rich",
                "networkx", "typst", "tailblock.knowledge.lint", "tailblock.cli.walk",
                "tailblock.inference.gibbs", "tailblock.network.return_risk",
                "tailblock.advice.hours", "sqlite3", "pypdf",
                "tailblock.advice.second_look", "tailblock.advice.comparison",
                "tailblock.advice.trends", "tailblock.advice.plan", "numpy.ma",
                "tailblock.practice", "tailblock.measures.rows", "PIL")  # fmt: skip


def test_next_loads_no_more_than_it_answers_with() -> None:
    demo = Path(__file__).parents[2] / "demo_inspections" / "hot-car.yaml"
    program = (
        "import sys; from tailblock.cli.app import main; main(sys.argv[1:]);"
        f"print(' '.join(name for name in {NOT_FOR_NEXT!r} if name in sys.modules))"
    )
    _, done = (  # the first time the checklist is read, judged and kept
        subprocess.run(
            [sys.executable, "-c", program, "next", str(demo)],
            capture_output=True, text=True, check=True,
        )
        for _ in range(2)
    )  # fmt: skip
    assert done.stdout.splitlines()[-1] == ""


@pytest.mark.parametrize("command", COMMANDS)
def test_every_command_says_what_it_does_and_what_it_takes(command: str, run: Run) -> None:
    ran = run(command, "--help")
    assert ran.code == 0
    usage, _, what, *_ = ran.out.splitlines()
    assert usage.startswith(f"Usage: tailblock {command}")
    assert what.strip().endswith((".", ";", ","))


def test_version(run: Run) -> None:
    assert run("--version").out == f"tailblock {version('tailblock')}\n"


def test_without_a_command_the_help_is_shown(run: Run) -> None:
    ran = run()
    assert ran.code == 2
    assert "Usage: tailblock" in ran.out + ran.err


def test_the_module_runs_like_the_command() -> None:
    done = subprocess.run(
        [sys.executable, "-m", "tailblock", "fly"], capture_output=True, text=True, check=False
    )
    assert done.returncode == 2
    assert done.stderr.startswith("tailblock: No such command 'fly'.")
    assert done.stdout == ""


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish"])
def test_a_shell_can_have_completion(shell: str) -> None:
    done = subprocess.run(
        [Path(sys.executable).with_name("tailblock")],
        env={**os.environ, "_TAILBLOCK_COMPLETE": f"source_{shell}"},
        capture_output=True, text=True, check=True,
    )  # fmt: skip
    assert "_TAILBLOCK_COMPLETE=complete_" in done.stdout


def test_what_a_shell_offers_for_the_beginning_of_a_command() -> None:
    done = subprocess.run(
        [Path(sys.executable).with_name("tailblock")],
        env={**os.environ, "_TAILBLOCK_COMPLETE": "complete_bash",
             "COMP_WORDS": "tailblock re", "COMP_CWORD": "1"},
        capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert done.stdout.split() == ["record", "report"]
