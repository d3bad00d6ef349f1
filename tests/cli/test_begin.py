"""`begin`: what is known at the start, asked or given."""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from pathlib import Path

    from cli.conftest import Run

GIVEN = (
    "--checklist", "small", "--job", "2031-014", "--description", "a guitar: small, red",
    "--trait", "bracing=ladder", "--trait", "bridge=pinless", "--trait", "body-join=12",
    "--scale-length", "25.5 in", "--frets-clear", "12", "--by", "me",
    "--player", "A. Player", "--contact", "by letter",
    "--date", "2031-03-02", "--setup", "strings=slack",
)  # fmt: skip

WRITTEN = """\
tailblock: 1
job: 2031-014
checklist: small
player: {name: A. Player, contact: by letter}
instrument:
  description: "a guitar: small, red"
  traits: {bracing: ladder, bridge: pinless, body-join: 12}
  scale_length: 25.5 in
  frets_clear: 12
visits:
  - stage: arrival
    date: 2031-03-02
    by: me
    setup: {strings: slack}
"""


def test_everything_given_as_options_needs_no_question(shop: Path, run: Run) -> None:
    ran = run("begin", "new.yaml", *GIVEN)
    assert (ran.code, ran.err) == (0, "")
    assert ran.out == "new.yaml: written. `tailblock walk new.yaml` begins the inspection.\n"
    text = (shop / "new.yaml").read_text(encoding="utf-8")
    assert text == WRITTEN
    assert run("causes", "new.yaml").code == 0


def test_what_is_not_given_is_asked_and_an_empty_line_takes_what_is_offered(
    shop: Path, run: Run
) -> None:
    said = "J7\na guitar\n\n\n12\n648 mm\nme\n"
    ran = run("begin", "new.yaml", "--checklist", "small", said=said + "\n")
    assert (ran.code, ran.err) == (0, "")
    text = (shop / "new.yaml").read_text(encoding="utf-8")
    assert "traits: {bracing: unknown, bridge: pin, body-join: 12}" in text
    assert "scale_length: 648 mm" in text
    assert f"date: {datetime.now().astimezone().date()}" in text
    assert "player" not in text
    for shown in (
        "Which bracing?",
        "  Look through the soundhole.",
        "  2  ladder: bars straight across",
        "  3  unknown\n",
        "[unknown]",
    ):
        assert shown in ran.out


def test_a_wrong_answer_is_asked_again(shop: Path, run: Run) -> None:
    answers = ["", "a guitar", "fan", "2", "pin", "", "13", "14", "648", "648 mm", "", ""]
    ran = run("begin", "new.yaml", "--checklist", "small", said="\n".join(answers) + "\n")
    assert (ran.code, ran.err) == (0, "")
    assert "bracing cannot be 'fan' (it is one of x, ladder, unknown)" in ran.out
    assert "body-join cannot be '13' (it is one of 12, 14)" in ran.out
    assert "This is needed." in ran.out
    assert "'648' has no unit" in ran.out
    text = (shop / "new.yaml").read_text(encoding="utf-8")
    assert "job: new" in text
    assert "{bracing: ladder, bridge: pin, body-join: 14}" in text


def test_no_questions_takes_what_is_offered(shop: Path, run: Run) -> None:
    words = ("--checklist", "small", "--description", "x", "--trait", "body-join=14")
    ran = run("begin", "new.yaml", *words, "--no-questions")
    assert (ran.code, ran.out.count("\n")) == (0, 1)
    assert "{bracing: unknown, bridge: pin, body-join: 14}" in (shop / "new.yaml").read_text()


@pytest.mark.parametrize(
    ("words", "said", "expected"),
    [
        ((), "", "The instrument in a few words: no answer; nothing was written (give "),
        (("--description", "x"), "J\n", "body-join: no answer; nothing was written (give --trait"),
        (("--no-questions",), "", "The instrument in a few words: no answer"),
        (
            ("--description", "x", "--no-questions"),
            "",
            "body-join: no answer; nothing was written (give --trait body-join=...)",
        ),
        (("--trait", "bracing=fan"), "", "bracing cannot be 'fan' (it is one of x, ladder, unk"),
        (("--trait", "colour=red"), "", "--trait: there is no 'colour' (there is bracing, bridge"),
        (("--trait", "bracing"), "", "--trait bracing: this is no pair (write it like --trait bra"),
        (("--stage", "later"), "", "--stage: there is no 'later' (there is arrival, first-string"),
        (("--setup", "strings=wet"), "", "strings cannot be 'wet' (it is one of off, slack, at-"),
        (("--setup", "pegs=on"), "", "there is no 'pegs' in the setup (there is strings)"),
        (("--date", "2.3.31"), "", "--date: '2.3.31' is no day (write it like 2031-03-02)"),
        (("--scale-length", "3 kg"), "", "--scale-length: '3 kg' is a mass; a length is wanted"),
        (("--checklist", "banjo"), "", "there is no checklist 'banjo'; there is "),
        (("--checklists", "nowhere"), "", "nowhere: there is no such folder (a folder is wanted)"),
    ],
)
def test_bad_input_writes_nothing(
    words: tuple[str, ...], said: str, expected: str, shop: Path, run: Run
) -> None:
    checklist = () if "--checklist" in words else ("--checklist", "small")
    ran = run("begin", "new.yaml", *checklist, *words, said=said)
    assert ran.code == 2
    assert ran.err.startswith(expected)
    assert ran.err.count("\n") == 1
    assert sorted(path.name for path in shop.iterdir()) == ["checklists", "job.yaml"]


def test_a_file_that_is_there_is_not_overwritten_and_nothing_is_asked(shop: Path, run: Run) -> None:
    before = (shop / "job.yaml").read_bytes()
    ran = run("begin", "job.yaml", *GIVEN)
    assert (ran.code, ran.out) == (2, "")
    assert ran.err == "job.yaml: there is a file of that name already (choose another name)\n"
    assert (shop / "job.yaml").read_bytes() == before


def test_a_folder_that_is_missing(run: Run) -> None:
    ran = run("begin", "nowhere/new.yaml", *GIVEN)
    assert (ran.code, ran.out) == (2, "")
    assert ran.err == "nowhere: there is no such folder (a folder is wanted)\n"


def test_breaking_off_says_that_nothing_was_written(
    shop: Path, run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken_off(*_: object) -> str:
        raise KeyboardInterrupt

    monkeypatch.setattr("tailblock.cli.output.Screen.ask", broken_off)
    ran = run("begin", "new.yaml", "--checklist", "small")
    assert (ran.code, ran.err) == (130, "broken off; nothing was written\n")
    assert not (shop / "new.yaml").exists()
