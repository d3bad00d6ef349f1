"""`draw`."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from cli.test_app import loaded

if TYPE_CHECKING:
    from pathlib import Path

    from cli.conftest import Run

HERE = ("checklists/small",)


def test_a_fault_is_drawn_on_the_screen(run: Run) -> None:
    ran = run("draw", *HERE, "--fault", "bridge-lifting")
    assert ran.code == 0
    assert ran.out.startswith("<svg ")
    assert ran.out.endswith("</svg>\n")


def test_a_part_is_drawn_into_a_file_and_its_path_is_said(run: Run, shop: Path) -> None:
    ran = run("draw", *HERE, "--part", "bridge", "--form", "mermaid", "-o", "bridge.mmd")
    assert (ran.code, ran.out) == (0, "bridge.mmd\n")
    assert (shop / "bridge.mmd").read_text(encoding="utf-8").startswith("flowchart LR\n")


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ((), "draw: give --part PART or --fault FAULT, one of the two\n"),
        (("--part", "bridge", "--fault", "bridge-lifting"),
         "draw: give --part PART or --fault FAULT, one of the two\n"),
        (("--fault", "bridge-liftin"),
         "there is no fault 'bridge-liftin' in small (did you mean `bridge-lifting`?)\n"),
        (("--part", "brigde"), "there is no part 'brigde' in small (did you mean `bridge`?)\n"),
        (("--part", "bridge", "-o", "nowhere/a.svg"), None),
        (("--part", "bridge", "--depth", "-1"), None),
    ],
)  # fmt: skip
def test_bad_input_ends_with_exit_code_2(
    words: tuple[str, ...], said: str | None, run: Run
) -> None:
    ran = run("draw", *HERE, *words)
    assert (ran.code, ran.out) == (2, "")
    assert ran.err == said if said else len(ran.err.splitlines()) == 1


def test_its_help_loads_nothing_heavy() -> None:
    assert set(loaded("draw", "--help")) <= {"pydantic"}  # newer typers read parameters with it
