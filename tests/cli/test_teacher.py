"""`walk --teach`: the apprentice speaks first, then both stand side by side."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from cli.test_walk import readings

if TYPE_CHECKING:
    from pathlib import Path

    from cli.conftest import Run


def test_the_apprentice_speaks_before_the_advice_is_shown(shop: Path, run: Run) -> None:
    ran = run("walk", "job.yaml", "--teach", said="bridge-feeler, it shows the gap\nmarked\nstop\n")
    assert (ran.code, ran.err) == (0, "")
    lines = [
        "What would you look at, and why?",
        "you> bridge-feeler, it shows the gap",
        "You: Feel for an open seam (bridge-feeler): it shows the gap",
        " bits for 2 min; ",
        "The advice: Shine along the bridge edge (bridge-light): Belongs to the first looks",
        " bits for 1 min; ",
        "  Trap: Glue in the corner shines too.",
        "Bridge: Shine along the bridge edge  [bridge-light, 1 min]",
        "bridge-light> marked",
        "What would you look at, and why?",
    ]
    place = 0
    for line in lines:
        assert line in ran.out[place:], line
        place += ran.out[place:].index(line) + len(line)
    assert readings(shop) == [{"check": "bridge-light", "value": "marked"}]


def test_what_the_own_check_could_not_tell(run: Run) -> None:
    ran = run("walk", "job.yaml", "--teach", said="neck-sight, the neck looks bent\nstop\n")
    assert "Yours could tell nothing of: Bridge lifting" in ran.out


def test_the_same_check_is_said_to_be_the_same(run: Run) -> None:
    ran = run("walk", "job.yaml", "--teach", said="bridge-light, light shows a gap\nstop\n")
    assert "The advice is the same." in ran.out
    assert "Yours could tell nothing" not in ran.out


def test_why_the_visit_begins_so_is_said_once(run: Run, shop: Path) -> None:
    path = shop / "checklists" / "small" / "checklist.yaml"
    text = path.read_text(encoding="utf-8")
    text = text.replace("budget: 8 min, opening", "budget: 8 min, why_this_order: By eye., opening")
    path.write_text(text, encoding="utf-8")
    ran = run("walk", "job.yaml", "--teach", said="unknown\nmarked\nunknown\nstop\n")
    assert ran.out.count("Why the visit begins so: By eye.") == 1


@pytest.mark.parametrize(
    ("said", "told"),
    [
        ("nothing, so\n", "there is no such check"),
        ("bridge-feeler\n", "And why? Write it behind the check"),
        ("\n", "What would you look at, and why? (CHECK, WHY"),
        ("list\n", "  bridge: Bridge"),
        ("list bridge\n", "  bridge-light: Shine along the bridge edge, 1 min"),
    ],
)
def test_what_is_no_opinion_is_asked_again_and_nothing_is_written(
    said: str, told: str, run: Run, shop: Path
) -> None:
    ran = run("walk", "job.yaml", "--teach", said=said)
    assert ran.code == 0
    assert told in ran.out
    assert ran.out.count("you> ") == 2
    assert "bridge-light> " not in ran.out
    assert readings(shop) == []


def test_stop_ends_the_walk_before_the_advice(run: Run) -> None:
    ran = run("walk", "job.yaml", "--teach", said="stop\n")
    assert "The advice:" not in ran.out
    assert "Stopped. 0 answers are saved" in ran.out
