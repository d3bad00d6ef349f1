"""A checklist past the limit of exact sums: the commands run, and say that they are approximate."""

from __future__ import annotations

import json
import random
from typing import TYPE_CHECKING, Any

import pytest

from cli.shapes import CAUSES, CAUSES_EXPLAINED, NEXT, RECORD, WHY, fits

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

FAULTS, CHECKS = 40, 50
INSPECTION = """\
tailblock: 1
job: "1"
checklist: tangled
instrument: {description: one, traits: {}}
visits:
  - stage: arrival
    date: 2031-03-02
    setup: {strings: slack}
    readings:
"""


def tangled() -> str:
    """Return a checklist in which every check looks at five faults from anywhere."""
    dice = random.Random(5)
    lines = ["tailblock: 1", "id: tangled", "title: Tangled", "version: 1.0.0",
             "parts: [{id: body, name: Body}]", "stages: [{id: arrival, budget: 50 min}]",
             "sources: [{id: m, kind: memory, citation: From memory, seen: from-memory}]",
             "faults:"]  # fmt: skip
    lines += [
        f"  - {{id: f{i}, part: body, name: Fault {i}, plain: Fault {i}., alone: seldom, "
        "harm: serious, pace: months, under_tension: watch, sources: [m]}"
        for i in range(FAULTS)
    ]
    lines.append("checks:")
    for k in range(CHECKS):
        shown = dice.sample(range(FAULTS), 5)
        links = ", ".join(f"{{fault: f{i}, at_least: {{yes: often}}}}" for i in shown)
        lines.append(
            f"  - {{id: c{k}, part: body, title: Check {k}, ask: A?, how: Look., minutes: 1, "
            f"choices: [{{level: no, text: N}}, {{level: yes, text: Y}}], sources: [m], "
            f"otherwise: {{yes: seldom}}, shows: [{links}]}}"
        )
    lines.append("remedies:")
    lines += [
        f"  - {{id: r{i}, part: body, name: R, plain: Mend it., sources: [m], reversible: true, "
        f"fixes: [{{fault: f{i}, how_well: usually}}], hours: {{low: 1, likely: 1, high: 2}}}}"
        for i in range(FAULTS)
    ]
    return "\n".join(lines) + "\n"


@pytest.fixture
def job(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    folder = tmp_path / "checklists" / "tangled"
    folder.mkdir(parents=True)
    (folder / "checklist.yaml").write_text(tangled(), encoding="utf-8")
    readings = "".join(f"      - {{check: c{k}, value: yes}}\n" for k in range(CHECKS - 10))
    (tmp_path / "wide.yaml").write_text(INSPECTION + readings, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    return tmp_path


SAID = "Approximate: probabilities are sampled, and any of them may be off by"


def test_the_lists_say_that_they_are_approximate(job: Path, run: Callable[..., Any]) -> None:
    ran = run("causes", str(job / "wide.yaml"), "--json")
    assert (ran.code, ran.err) == (0, "")
    data = ran.data
    fits(data, CAUSES)
    assert (data["exact"], data["approximate"]) == (False, True)
    assert 0.0 < data["error"] < 0.5
    data = run("next", str(job / "wide.yaml"), "--json").data
    fits(data, NEXT)
    assert data["approximate"]
    assert data["advice"]


@pytest.mark.parametrize(
    "words",
    [
        ("causes",),
        ("causes", "--explain"),
        ("next",),
        ("why", "f3"),
        ("record", "c45", "no"),
        ("walk",),
    ],
    ids=" ".join,
)
def test_so_does_the_text(job: Path, run: Callable[..., Any], words: tuple[str, ...]) -> None:
    command, *rest = words
    ran = run(command, str(job / "wide.yaml"), *rest, said="yes\nstop\n")
    assert ran.code == 0
    assert SAID in ran.out


def test_after_an_answer_in_a_walk_it_says_so_again(job: Path, run: Callable[..., Any]) -> None:
    out = run("walk", str(job / "wide.yaml"), said="yes\nstop\n").out
    before, after = out.split("Saved.")
    assert SAID in before
    assert SAID in after


def test_an_entry_written_by_a_script_says_so(job: Path, run: Callable[..., Any]) -> None:
    data = run("record", str(job / "wide.yaml"), "c45", "no", "--json").data
    fits(data, RECORD)
    assert data["approximate"]
    # sampled numbers differ by chance: only what stands out of both errors has moved
    assert all(abs(s["after"] - s["before"]) > data["error"] for s in data["moved"])


def test_an_answer_that_moves_nothing_beyond_the_error_says_that(
    job: Path, run: Callable[..., Any]
) -> None:
    ran = run("record", str(job / "wide.yaml"), "c45", "unknown")
    assert "It moved nothing by more than the error." in ran.out


def test_what_takes_exact_sums_is_said_to_be_out_of_reach(
    job: Path, run: Callable[..., Any]
) -> None:
    file = str(job / "wide.yaml")
    ran = run("causes", file, "--explain")
    assert (ran.code, ran.err) == (0, "")
    assert "Which faults together explain the readings, and which reading surprises, is" in ran.out
    data = run("causes", file, "--explain", "--json").data
    fits(data, CAUSES_EXPLAINED)
    assert data["explanations"] is data["surprises"] is None
    ran = run("why", file, "f3")
    assert "How likely repaired faults are to come back is not said here" in ran.out
    data = run("why", file, "f3", "--json").data
    fits(data, WHY)
    assert data["comes_back"] is None


def test_the_report_says_in_words_what_is_out_of_reach(job: Path, run: Callable[..., Any]) -> None:
    out = job / "report.md"
    ran = run("report", str(job / "wide.yaml"), "--format", "markdown", "--output", str(out))
    assert (ran.code, ran.err) == (0, "")
    text = " ".join(out.read_text(encoding="utf-8").split())
    for what in (
        "How far the ranking leans on the words of the checklist is not said here",
        "Which faults together explain the readings, and which reading surprises, is not said here",
        "How likely repaired faults are to come back is not said here",
        "How many hours the work takes, and how sure that is, is not said here",
    ):
        assert what in text
    assert "over the range of the words" not in text


def test_hours_and_line_items_are_out_of_reach_too(job: Path, run: Callable[..., Any]) -> None:
    file = str(job / "wide.yaml")
    assert run("hours", file).out == (
        "There are no hours to say: exact probabilities are out of reach.\n"
    )
    ran = run("report", file, "--lines")
    assert (ran.code, ran.out) == (2, "")
    assert "hours need exact probabilities, which are out of reach here (`tailblock" in ran.err


@pytest.mark.parametrize("form", ["html", "json"])
def test_so_does_the_first_page_of_the_report(
    job: Path, run: Callable[..., Any], form: str
) -> None:
    out = job / "report"
    ran = run("report", str(job / "wide.yaml"), "--format", form, "--output", str(out))
    assert ran.code == 0
    text = out.read_text(encoding="utf-8")
    assert SAID in text
    if form == "json":
        page = json.loads(text)["first_page"]
        assert page["approximate"]
        assert 0.0 < page["error"] < 0.5
