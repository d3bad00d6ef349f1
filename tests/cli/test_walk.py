"""`walk` from end to end: what is shown, what is written, how it stops and goes on."""

from __future__ import annotations

import os
import pty
import select
import signal
import subprocess
import sys
import time
from contextlib import suppress
from typing import TYPE_CHECKING

import pytest
import yaml

from pictures import plain

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from cli.conftest import Run


def readings(shop: Path) -> list[dict[str, object]]:
    """Return the readings of the last visit as they stand in the file."""
    data = yaml.load((shop / "job.yaml").read_text(encoding="utf-8"), yaml.BaseLoader)  # noqa: S506
    found: list[dict[str, object]] = data["visits"][-1].get("readings") or []
    return [{name: value for name, value in each.items() if name != "at"} for each in found]


def test_a_question_shows_why_how_and_what_can_be_answered(run: Run) -> None:
    shown = run("walk", "job.yaml").out
    lines = [
        "0012: a small guitar",
        "Visit 1, Arrival, 2021-03-02.",
        "Bridge: Shine along the bridge edge  [bridge-light, 1 min]",
        "  Hold a lamp behind the bridge.",
        "  Tools: lamp.",
        "  Wait: a minute for the lamp.",
        "  Does light show under the edge?",
        "    1  none    No gap",
        "    3  marked  A gap",
        "bridge-light> ",
    ]
    places = [shown.find(line) for line in lines]
    assert -1 not in places
    assert places == sorted(places)
    assert "  Arrival, 0 of 8 min used. Belongs to the first looks of this visit" in shown


def test_every_answer_is_saved_and_what_it_moved_is_told(shop: Path, run: Run) -> None:
    ran = run("walk", "job.yaml", said="marked\nonce\nstop\n")
    assert (ran.code, ran.err) == (0, "")
    assert readings(shop) == [
        {"check": "bridge-light", "value": "marked"},
        {"check": "bridge-creak", "value": "once"},
    ]
    held = ran.out.index("Do not bring it to pitch: Bridge lifting (")
    moved = ran.out.index("It moved Bridge lifting 10 % to ")
    assert ran.out.index("marked. Saved.") < held < moved
    assert "Ask the player: Has it creaked?" in ran.out
    assert "Stopped. 2 answers are saved in job.yaml; `tailblock walk job.yaml` goes on." in ran.out


def test_cautions_come_first_and_in_full_only_once(run: Run) -> None:
    said = "marked\nonce\n0.5\nback\nstop\n"
    shown = run("walk", "job.yaml", said=said).out
    caution = shown.index("Caution: Strings under tension. A string can whip.")
    assert caution < shown.index("Slide it along the back edge.")
    assert shown.count("A string can whip.") == 1
    assert shown.count("Wear glasses.") == 1
    assert "Caution: Strings under tension (as above)." in shown


def test_a_measurement_shows_its_unit_and_normal_in_both_systems(run: Run) -> None:
    shown = run("walk", "job.yaml", said="marked\nonce\n").out
    assert "Write it like 0.3 mm or 5/64 in; a bare number is taken in mm." in shown
    assert "Normal: up to 0.50 mm (.020 in)." in shown


def test_a_number_chooses_a_level_and_unknown_is_an_answer(shop: Path, run: Run) -> None:
    run("walk", "job.yaml", said="2\nunknown\nstop\n")
    assert [each["value"] for each in readings(shop)] == ["slight", "unknown"]


def test_what_is_not_understood_is_asked_again_and_writes_nothing(shop: Path, run: Run) -> None:
    ran = run("walk", "job.yaml", said="bright\n\nnone\n")
    assert "'bright' is none of its answers: none, slight, marked or unknown" in ran.out
    assert ran.out.count("bridge-light> ") == 3
    assert readings(shop) == [{"check": "bridge-light", "value": "none"}]


def test_going_back_keeps_the_reading_and_marks_it(shop: Path, run: Run) -> None:
    ran = run("walk", "job.yaml", said="marked\nback\nnone\nstop\n")
    assert "Taken back: Shine along the bridge edge." in ran.out
    assert "Stopped. 1 answer is saved" in ran.out
    assert readings(shop) == [
        {"check": "bridge-light", "value": "marked", "retracted": "true"},
        {"check": "bridge-light", "value": "none"},
    ]


def test_skip_why_causes_and_help(shop: Path, run: Run) -> None:
    shown = run("walk", "job.yaml", said="why\ncauses\nhelp\nskip\nnever\nstop\n").out
    assert "It shows Bridge lifting (10 %)." in shown
    assert "Trap: Glue in the corner shines too." in shown
    assert "Mistaken for it: A shadow of the lamp." in shown
    assert "Bridge lifting (bridge-lifting)" in shown
    assert "  stop           go on another day" in shown
    assert "  strings STATE  tell what it is now: off, slack, at-pitch" in shown
    assert "Left out for today." in shown
    assert readings(shop) == [{"check": "bridge-creak", "value": "never"}]


def test_notes_and_photographs_go_into_the_file(shop: Path, run: Run) -> None:
    (shop / "a.jpg").write_bytes(plain())
    said = "note hide glue, old\nphoto b.jpg\nphoto a.jpg\nslight\nstop\n"
    ran = run("walk", "job.yaml", said=said)
    assert "b.jpg: there is no such photograph" in ran.out
    assert readings(shop) == [
        {
            "check": "bridge-light",
            "value": "slight",
            "note": "hide glue, old",
            "photos": ["a.jpg"],
        }
    ]


def test_a_change_of_setup_is_asked_for_with_its_minutes_and_written(shop: Path, run: Run) -> None:
    text = (shop / "job.yaml").read_text(encoding="utf-8")
    (shop / "job.yaml").write_text(text.replace("strings: slack", "strings: at-pitch"))
    ran = run("walk", "job.yaml", said="marked\nonce\n1/4\nstop\n")
    assert "  First bring strings from at pitch to slack (3 min)." in ran.out
    assert readings(shop)[2] == {
        "check": "bridge-feeler",
        "value": "1/4",
        "setup": {"strings": "slack"},
    }


def test_what_the_strings_are_now_can_be_told(shop: Path, run: Run) -> None:
    ran = run("walk", "job.yaml", said="strings wet\nstrings off\nslight\nstop\n")
    assert "strings can be off, slack, at-pitch" in ran.out
    assert readings(shop) == [
        {"check": "bridge-light", "value": "slight", "setup": {"strings": "off"}}
    ]


def test_told_behind_a_reading_it_stands_in_the_next_one(shop: Path, run: Run) -> None:
    run("walk", "job.yaml", said="slight\nstrings off\nnever\nstop\n")
    assert readings(shop)[1] == {
        "check": "bridge-creak",
        "value": "never",
        "setup": {"strings": "off"},
    }


def test_told_against_what_is_held_back_it_warns(run: Run) -> None:
    ran = run("walk", "job.yaml", said="marked\nstrings at-pitch\nstop\n")
    assert "Slacken the strings now: Bridge lifting (" in ran.out


def test_at_the_stages_minutes_it_says_what_they_could_not_buy(shop: Path, run: Run) -> None:
    file = shop / "checklists" / "small" / "checklist.yaml"
    text = file.read_text(encoding="utf-8").replace("budget: 8 min", "budget: 4 min")
    file.write_text(text, encoding="utf-8")
    ran = run("walk", "job.yaml", said="marked\nonce\n0.2 in\nstop\n")
    assert "The 4 min of this visit (4 used) could not buy:\n  " in ran.out
    assert "Go on? (yes, or stop)> stop" in ran.out
    assert len(readings(shop)) == 3
    ran = run("walk", "job.yaml", said="perhaps\nyes\n1\n")
    assert "say yes to go on, or stop" in ran.out
    assert "Going on." in ran.out
    assert len(readings(shop)) == 4


def test_starting_again_goes_on_where_it_stopped(run: Run) -> None:
    run("walk", "job.yaml", said="none\n")
    shown = run("walk", "job.yaml").out
    assert "Visit 1, Arrival, 2021-03-02, 1 reading so far." in shown
    assert "bridge-light> " not in shown
    assert "bridge-creak> " in shown


def test_another_stage_begins_a_new_visit(shop: Path, run: Run) -> None:
    ran = run("walk", "job.yaml", "--stage", "first-stringing", "--by", "me", said="skip\n")
    assert "Visit 2, First stringing, " in ran.out
    data = yaml.safe_load((shop / "job.yaml").read_text(encoding="utf-8"))
    assert (data["visits"][1]["stage"], data["visits"][1]["by"]) == ("first-stringing", "me")


def test_when_nothing_is_left_it_ends(run: Run) -> None:
    ran = run("walk", "job.yaml", said="skip\n" * 10)
    assert "What is left was skipped today." in ran.out
    assert ran.code == 0


def _hearing() -> None:
    """Let Ctrl-C be heard where the shell that began the tests has them ignore it."""
    signal.signal(signal.SIGINT, signal.SIG_DFL)


class Terminal:
    """A `walk` in a real process on a real terminal."""

    def __init__(self, *words: str) -> None:
        ours, theirs = pty.openpty()
        self._ours = ours
        self.process = subprocess.Popen(
            [sys.executable, "-m", "tailblock", *words],
            stdin=theirs, stdout=theirs, stderr=subprocess.PIPE, start_new_session=True,
            preexec_fn=_hearing,  # noqa: PLW1509
        )  # fmt: skip
        os.close(theirs)

    def wait_for(self, text: str) -> str:
        """Read until a text is shown."""
        seen = ""
        end = time.monotonic() + 20
        while text not in seen:
            ready, _, _ = select.select([self._ours], [], [], end - time.monotonic())
            assert ready, seen
            seen += os.read(self._ours, 4096).decode()
        return seen

    def say(self, line: str) -> None:
        os.write(self._ours, f"{line}\n".encode())

    def interrupt(self) -> None:
        """Send Ctrl-C until it is noticed: one that comes between prompt and reading waits."""
        for _ in range(10):
            self.process.send_signal(signal.SIGINT)
            with suppress(subprocess.TimeoutExpired):
                self.process.wait(timeout=3)
                return

    def close(self) -> None:
        self.process.kill()
        self.process.communicate()
        os.close(self._ours)


@pytest.fixture
def terminal(shop: Path) -> Iterator[Terminal]:
    walk = Terminal("walk", "job.yaml")
    yield walk
    walk.close()


def test_ctrl_c_loses_nothing_that_was_answered(shop: Path, terminal: Terminal) -> None:
    terminal.wait_for("bridge-light> ")
    terminal.say("marked")
    terminal.wait_for("bridge-creak> ")
    terminal.interrupt()
    _, err = terminal.process.communicate(timeout=20)
    assert terminal.process.returncode == 130
    said = "Broken off. 1 answer is saved in job.yaml; `tailblock walk job.yaml` goes on.\n"
    assert err.decode() == said
    assert readings(shop) == [{"check": "bridge-light", "value": "marked"}]


def test_the_end_of_the_input_stops(shop: Path, terminal: Terminal) -> None:
    terminal.wait_for("bridge-light> ")
    os.write(terminal._ours, b"\x04")
    terminal.wait_for("Stopped. 0 answers are saved")
    assert terminal.process.wait(timeout=20) == 0
    assert readings(shop) == []


def test_a_terminal_is_wrapped_and_styled_and_no_color_is_plain(
    shop: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("TERM", "xterm")
    styled = Terminal("causes", "job.yaml")
    assert "\x1b[" in styled.wait_for("bridge-lifting")
    styled.close()
    monkeypatch.setenv("NO_COLOR", "1")
    plain = Terminal("causes", "job.yaml")
    assert "\x1b[" not in plain.wait_for("bridge-lifting")
    plain.close()


def test_a_pipe_that_closes_early_is_no_error(shop: Path) -> None:
    walk = subprocess.Popen(
        [sys.executable, "-m", "tailblock", "walk", "job.yaml"],
        stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE,
    )  # fmt: skip
    assert walk.stdout
    assert walk.stdin
    assert walk.stderr
    walk.stdout.readline()
    walk.stdout.close()
    walk.stdin.write(b"none\n" * 3)
    walk.stdin.close()
    assert walk.wait(timeout=20) == 141
    assert walk.stderr.read() == b""
    walk.stderr.close()
