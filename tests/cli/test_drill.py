"""`drill` from end to end: what is asked, what is told, how it stops, what is kept."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

import pytest

from cli.test_app import loaded

if TYPE_CHECKING:
    from pathlib import Path

    from cli.conftest import Run

HERE = ("checklists/small", "--seed", "1", "--theme", "part:bridge")
WHOLE = "bridge-light\nbridge-feeler\ndone\nbridge-lifting\nslacken\n"


def test_a_drill_goes_from_the_complaint_to_the_debrief(run: Run) -> None:
    ran = run("drill", *HERE, said=WHOLE)
    assert (ran.code, ran.err) == (0, "")
    lines = [
        "A drill on A small checklist: seed 1, level 1, part:bridge",
        "The player says: Does it creak: Once or more.",
        "check> bridge-light",
        "Does light show under the edge? ",
        "(1 min, 1 min in all)",
        "First brought to strings slack.",
        "How far does the feeler go in? ",
        "Which faults are there?",
        "What do you do first?",
        "Debrief",
        "Found: Bridge lifting (bridge-lifting).",
        "Score, after ",
        "bits ",
    ]
    places = [ran.out.find(line) for line in lines]
    assert -1 not in places
    assert places == sorted(places)


def test_the_same_seed_gives_the_same_drill(run: Run) -> None:
    assert run("drill", *HERE, said=WHOLE).out == run("drill", *HERE, said=WHOLE).out


def test_feedback_hint_list_how_and_help_choose_nothing(run: Run) -> None:
    said = "feedback\nunknown\nlist\nlist bridge\nlist nowhere\nhow bridge-light\nback\nhelp\n"
    out = run("drill", *HERE, said=f"{said}bridge-light\nfeedback\nstop\n").out
    assert "Nothing was checked yet." in out
    assert "The advice: Shine along the bridge edge (bridge-light). Belongs to the first" in out
    assert "  bridge-light: Shine along the bridge edge, 1 min" in out
    assert "There is nothing to check at 'nowhere'; `list` names the parts." in out
    assert "  Hold a lamp behind the bridge." in out
    assert "What was read stays read" in out
    assert "  set NAME STATE  bring it into another setup" in out
    assert "Shine along the bridge edge: expected to tell " in out
    assert "The advice would have done the same." in out
    assert "  Trap: Glue in the corner shines too." in out
    assert out.endswith("Stopped. Nothing is kept of a drill without its end.\n")


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("bridge-lite", "there is no such check"),
        ("neck-change", "neck-change"),  # follows from others
        ("set strings loose", "strings cannot be 'loose' (it is one of off, slack, at-pitch)"),
        ("set", "there is no '' in the setup (there is strings)"),
        ("how nothing", "there is no such check"),
        ("done\nbridge-liftin", "there is no fault 'bridge-liftin' in small (did you mean"),
        ("done\nunknown\nglue it", "there is no 'glue-it' to do (say slacken, bring-to-pitch"),
    ],
)
def test_what_cannot_be_taken_is_said_and_asked_again(line: str, told: str, run: Run) -> None:
    ran = run("drill", *HERE, said=f"{line}\n")
    assert ran.code == 0
    assert told in ran.out
    assert ran.out.endswith("Stopped. Nothing is kept of a drill without its end.\n")


def test_back_leads_from_naming_to_the_bench(run: Run) -> None:
    said = "done\nlist bridge\nback\nbridge-light\ndone\nbridge-lifting\nlist\nback\nunknown\n"
    out = run("drill", *HERE, said=f"{said}unknown\n").out
    assert "  bridge-lifting: Bridge lifting" in out
    assert "At the bench again." in out
    assert "Missed: Bridge lifting (bridge-lifting)." in out
    assert "You did not say what comes first." in out


def test_unsafe_moves_are_told_with_why_they_matter(run: Run) -> None:
    said = "set strings slack\nset strings at-pitch\ndone\nunknown\nbring to pitch\n"
    out = run("drill", *HERE, said=said).out
    assert "Unsafe after 0 checks: more tension (bring to pitch) while a danger" in out
    assert "  Bridge lifting: The bridge is coming off." in out
    assert "First of all bring-to-pitch: Not to pitch, because of Bridge lifting" in out


def test_progress_is_kept_and_plotted(run: Run, shop: Path) -> None:
    run("drill", *HERE, "--progress", "p.jsonl", said=WHOLE)
    ran = run("drill", *HERE, "--progress", "p.jsonl", said=WHOLE)
    assert "Kept in p.jsonl, 2 drills so far:" in ran.out
    kept = [json.loads(line) for line in (shop / "p.jsonl").read_text().splitlines()]
    assert [each["case"] for each in kept] == ["seed 1, level 1, part:bridge"] * 2
    assert kept[0]["found"] == 1
    run("drill", *HERE, "--progress", "p.jsonl", said="bridge-light\nstop\n")
    assert len((shop / "p.jsonl").read_text().splitlines()) == 2
    ran = run("drill", "--progress", "p.jsonl", "--plot", "p.svg")
    assert (ran.code, ran.out) == (0, "p.svg\n")
    assert (shop / "p.svg").read_text().startswith("<svg ")


def test_a_closed_case_is_practised_on_without_its_names(run: Run, shop: Path) -> None:
    text = (shop / "job.yaml").read_text(encoding="utf-8")
    assert "0012" in text
    text = text.replace(
        "    readings: []\n",
        "    readings: []\n    confirmed: [{fault: bridge-lifting, present: true}]\n",
    )
    (shop / "closed.yaml").write_text(text, encoding="utf-8")
    ran = run("drill", "--case", "closed.yaml", said="done\nbridge-lifting\nunknown\n")
    assert (ran.code, ran.err) == (0, "")
    assert "A drill on A small checklist: closed case" in ran.out
    assert "It stands with strings slack." in ran.out
    assert "The player complains of nothing." in ran.out
    assert "Found: Bridge lifting (bridge-lifting)." in ran.out
    assert "0012" not in ran.out
    assert "a small guitar" not in ran.out


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--theme", "bridge"), ("there is no theme 'bridge' (write one of part:PART, after:FAULT, "
         "climate, danger, harmless)\n")),
        (("--theme", "part:brigde"),
         "there is no part 'brigde' in small (did you mean `bridge`?)\n"),
        (("--theme", "part:neck"), None),
        (("--level", "4"), None),
        (("--seed", "-1"), None),
        (("--case", "job.yaml"), ("job.yaml: no fault is confirmed as there (write what was seen "
         "with `tailblock confirm job.yaml --present FAULT`)\n")),
        (("--case", "job.yaml", "--level", "2"),
         "drill: --case is an instrument of its own (leave out --level and --theme)\n"),
        (("--case", "nothing.yaml"), None),
        (("--plot", "p.svg"), "drill: --plot needs the file of the drills: --progress FILE\n"),
        (("--plot", "p.svg", "--progress", "none.jsonl"), None),
        (("--progress", "job.yaml"), ("job.yaml:1: this is no drill that was done (name another "
         "file, or take the line out)\n")),
    ],
)  # fmt: skip
def test_bad_input_ends_with_exit_code_2(
    words: tuple[str, ...], said: str | None, run: Run
) -> None:
    ran = run("drill", "checklists/small", *words)
    assert (ran.code, ran.out) == (2, "")
    assert ran.err == said if said else len(ran.err.splitlines()) == 1


def test_breaking_off_leaves_no_traceback(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(*_: object) -> str:
        raise KeyboardInterrupt

    monkeypatch.setattr("tailblock.cli.output.Screen.ask", broken)
    ran = run("drill", *HERE)
    assert (ran.code, ran.err) == (130, "Broken off. Nothing is kept of a drill without its end.\n")


def test_its_help_loads_nothing_heavy() -> None:
    assert set(loaded("drill", "--help")) <= {"pydantic"}  # newer typers read parameters with it
