"""`learn`: what was thought probable, and what was then confirmed."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from cli.shapes import LEARN, fits

if TYPE_CHECKING:
    from pathlib import Path

    from cli.conftest import Run

# Arrival with an open seam, then a visit on which somebody looked under the bridge.
CASE = """\
tailblock: 1
job: "1"
checklist: small
instrument: {description: one, traits: {bridge: pin, body-join: "14"}}
visits:
  - stage: arrival
    date: 2031-03-02
    setup: {strings: slack}
    readings: [{check: bridge-feeler, value: 6 mm}]
    confirmed: [{fault: bridge-lifting, present: PRESENT}]
  - stage: first-stringing
    date: 2031-03-03
    setup: {strings: slack}
    confirmed: [{fault: neck-bow, present: false}]
"""


@pytest.fixture
def cases(shop: Path) -> Path:
    for name, present in (("a", "true"), ("b", "true"), ("c", "false")):
        text = CASE.replace("PRESENT", present)
        (shop / f"{name}.yaml").write_text(text, encoding="utf-8")
    return shop


def test_the_probability_is_that_before_the_confirmation(run: Run, cases: Path) -> None:
    data = run("learn", ".", "--json").data
    fits(data, LEARN)
    assert (data["cases"], data["confirmations"], data["left_out"]) == (3, 6, [])
    bow, lifting = data["table"]
    # neck-bow: starts at `sometimes` (0.30), and nothing read on it; never there
    assert (bow["count"], bow["seen"]) == (3, 0.0)
    assert bow["said"] == pytest.approx(0.30)
    # lifting by Bayes: at 6 mm 0.604 with the fault, 0.01 without it; it starts at 0.10
    odds = 0.10 / 0.90 * 0.604 / 0.01
    assert lifting["said"] == pytest.approx(odds / (1 + odds), rel=1e-6)
    assert lifting["seen"] == pytest.approx(2 / 3)
    said = lifting["said"]
    score = (3 * 0.30**2 + 2 * (1 - said) ** 2 + said**2) / 6
    assert data["brier"]["score"] == pytest.approx(score, rel=1e-6)


def test_in_words(run: Run, cases: Path) -> None:
    shown = run("learn", ".").out
    assert shown.startswith("6 confirmations in 3 inspections.\n")
    assert " 20 to 40 %        30 %        0 %" in shown
    assert "(few)" in shown
    assert "Brier score " in shown


def test_nothing_confirmed_and_broken_files_are_said(run: Run, shop: Path) -> None:
    (shop / "torn.yaml").write_text("tailblock: 1\njob: [\n", encoding="utf-8")
    ran = run("learn", ".")
    assert ran.code == 0
    assert ran.out.splitlines()[0].startswith("left out: torn.yaml:")
    assert "0 confirmations in 0 inspections." in ran.out
    data = run("learn", ".", "--json").data
    fits(data, LEARN)
    assert (data["brier"], data["log_loss"], data["table"]) == (None, None, [])


def test_a_folder_is_wanted(run: Run) -> None:
    ran = run("learn", "job.yaml")
    assert (ran.code, ran.err) == (2, "job.yaml: this is a file (a folder is wanted)\n")


# Of 60 instruments 45 had a bridge that lifts, where the checklist says `seldom`; what it says of
# the pin holes (`often` behind one that lifts) is borne out.
@pytest.fixture
def many(shop: Path) -> Path:
    for number in range(60):
        there = "true" if number % 4 else "false"
        worn = "true" if number % 4 and number % 5 < 3 else "false"
        head, _ = CASE.split("visits:")
        seen = (
            f"{{fault: bridge-lifting, present: {there}}}, "
            f"{{fault: pin-holes-worn, present: {worn}}}"
        )
        (shop / f"{number}.yaml").write_text(
            f"{head}visits:\n  - {{stage: arrival, date: 2031-03-02, setup: {{strings: slack}},\n"
            f"     confirmed: [{seen}]}}\n",
            encoding="utf-8",
        )
    return shop


def test_what_the_cases_would_change(run: Run, many: Path) -> None:
    data = run("learn", ".", "--json").data
    fits(data, LEARN)
    (lesson,) = data["learned"]
    assert (lesson["checklist"], lesson["cases"]) == ("small", 60)
    lifting = next(c for c in lesson["chances"] if c["says"] == "bridge-lifting alone")
    # 45 of 60, and the word `seldom` as 2 of 20
    assert lifting["after"] == pytest.approx((45 + 2) / (60 + 20), abs=0.01)
    assert (lifting["word_before"], lifting["word_after"]) == ("seldom", "often")
    assert lifting["trials"] == pytest.approx(60, rel=0.02)
    assert lifting["proposed"]
    link = next(c for c in lesson["chances"] if c["says"].startswith("bridge-lifting brings"))
    assert not link["proposed"]
    assert link["met"] == pytest.approx(45)
    assert 30 <= link["trials"] < 45  # worn holes may have come by themselves


def test_in_words_nothing_is_changed(run: Run, many: Path) -> None:
    before = {path: path.read_bytes() for path in many.rglob("*") if path.is_file()}
    shown = run("learn", ".").out
    assert "small: what 60 confirmed cases would change" in shown
    assert "bridge-lifting alone\n  seldom -> 0.59 (often), 90 % interval " in shown
    assert "--propose FOLDER writes a checklist to review." in shown
    assert {path: path.read_bytes() for path in many.rglob("*") if path.is_file()} == before


def test_a_proposal_is_a_checklist_that_lints(run: Run, many: Path) -> None:
    said = run("learn", ".", "--propose", "checklists/ours")
    assert said.code == 0, said.err
    assert said.out.splitlines()[-1] == "checklists/ours"
    text = (many / "checklists/ours/checklist.yaml").read_text(encoding="utf-8")
    assert "extends: small" in text
    assert "# bridge-lifting alone: was seldom, now 0.59 (nearest word: often)" in text
    small, ours = (
        run("lint", f"checklists/{name}", "--checklists", "checklists")
        for name in ("small", "ours")
    )
    assert ours.code == small.code == 0
    again = run("learn", ".", "--propose", "checklists/ours")
    assert (again.code, "there is something of that name already" in again.err) == (2, True)


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--propose", "Ours!"), "Ours!: the name of the folder becomes the id of a checklist"),
        (("--propose", "ours", "--for", "ukulele"), "--for: no case of 'ukulele' is confirmed"),
    ],
)
def test_a_proposal_that_cannot_be(words: tuple[str, ...], said: str, run: Run, many: Path) -> None:
    ran = run("learn", ".", *words)
    assert ran.code == 2
    assert ran.err.startswith(said)
    assert not (many / "ours").exists()


def test_too_few_cases_change_nothing(run: Run, cases: Path) -> None:
    (lesson,) = run("learn", ".", "--json").data["learned"]
    assert (lesson["cases"], lesson["chances"]) == (3, [])


def test_the_plot_is_a_picture(run: Run, cases: Path) -> None:
    assert run("learn", ".", "--plot", "plot.svg").out.splitlines()[-1] == "plot.svg"
    assert (cases / "plot.svg").read_text(encoding="utf-8").startswith("<svg ")
