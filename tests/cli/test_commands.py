"""`record`, `next`, `causes`, `why`, `accept` and `report` on one inspection file."""

from __future__ import annotations

import json
import math
import re
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from cli.shapes import ACCEPT, CAUSES, CAUSES_EXPLAINED, NEXT, RECORD, WHY, fits
from pictures import plain

if TYPE_CHECKING:
    from cli.conftest import Run

OPEN = ("record", "job.yaml", "bridge-feeler", "6 mm")


def test_causes_lists_all_faults_that_apply_by_probability(run: Run) -> None:
    run(*OPEN)
    data = run("causes", "job.yaml", "--json").data
    fits(data, CAUSES)
    assert data["visit"] == 1
    assert {fault["id"] for fault in data["faults"]} == {
        "bridge-lifting",
        "pin-holes-worn",
        "neck-bow",
    }
    chances = [fault["probability"] for fault in data["faults"]]
    assert chances == sorted(chances, reverse=True)
    (lifting,) = [fault for fault in data["faults"] if fault["id"] == "bridge-lifting"]
    assert lifting["prior"] == pytest.approx(0.10)
    # Bayes: at 6 mm the level is `open`, 0.6 + 0.4 x 0.01 given the fault and 0.01 without it
    odds = 0.10 / 0.90 * (1 - (1 - 0.6) * (1 - 0.01)) / 0.01
    assert lifting["probability"] == pytest.approx(odds / (1 + odds), rel=1e-6)


def test_causes_in_words(run: Run) -> None:
    run(*OPEN)
    lines = run("causes", "job.yaml").out.splitlines()
    assert re.fullmatch(r" +87 % +10 %  Bridge lifting \(bridge-lifting\)", lines[1])


def test_causes_explained_adds_keys_and_changes_none(run: Run) -> None:
    run(*OPEN)
    plain = run("causes", "job.yaml", "--json").data
    data = run("causes", "job.yaml", "--explain", "--json").data
    fits(data, CAUSES_EXPLAINED)
    assert {name: data[name] for name in plain} == plain
    assert data["explanations"]["in_question"] == ["bridge-lifting"]
    first, other = data["explanations"]["sets"]
    assert first["faults"] == ["bridge-lifting"]
    assert first["probability"] == pytest.approx(plain["faults"][0]["probability"])
    assert other["faults"] == []
    assert first["probability"] + other["probability"] == pytest.approx(1.0)
    (covered,) = first["readings"]
    # the level `open` has 0.604 with the fault and 0.01 without it (see above)
    assert (covered["check"], covered["visit"]) == ("bridge-feeler", 1)
    assert covered["fault"] == "bridge-lifting"
    assert covered["bits"] == pytest.approx(math.log2(0.604 / 0.01), rel=1e-6)
    # before any reading: 0.1 x 0.604 + 0.9 x 0.01
    (surprise,) = data["surprises"]
    assert surprise["bits"] == pytest.approx(-math.log2(0.0694), rel=1e-6)
    assert surprise["named"] is False


def test_causes_explained_in_words(run: Run) -> None:
    run(*OPEN)
    lines = run("causes", "job.yaml", "--explain").out.splitlines()
    at = lines.index("Together, with 87 %:")
    assert lines[at + 1 : at + 4] == [
        "  Bridge lifting (bridge-lifting)",
        "    covers Feel for an open seam",
        "Or, with 13 %: without Bridge lifting.",
    ]
    assert lines[-1] == "No reading surprises by more than 6.6 bits, given all others."


def test_nothing_off_normal_is_nothing_to_explain(run: Run) -> None:
    run("record", "job.yaml", "bridge-light", "none")
    assert "nothing to explain" in run("causes", "job.yaml", "--explain").out


def test_next_names_checks_and_what_is_held_back(run: Run) -> None:
    run(*OPEN)
    data = run("next", "job.yaml", "--json").data
    fits(data, NEXT)
    assert {"setup": {"strings": "at-pitch"}}.items() <= data["held_back"][0].items()
    assert data["held_back"][0]["because"] == ["bridge-lifting"]
    checks = [entry["check"] for entry in data["advice"]]
    assert checks[:2] == ["bridge-light", "bridge-creak"]
    assert "relief" not in checks  # it needs pitch


def test_next_in_words_says_first_what_not_to_do(run: Run) -> None:
    run(*OPEN)
    first, *rest = run("next", "job.yaml").out.splitlines()
    assert first.startswith("Do not bring it to pitch: Bridge lifting (87 %). ")
    assert rest[0].startswith("A move is held back while a danger under tension stands above 10 %")
    assert rest[3] == "1. Shine along the bridge edge (bridge-light), 1 min"


def test_next_in_words_says_why_in_this_order_and_when_to_stop(run: Run) -> None:
    run(*OPEN)
    lines = run("next", "job.yaml").out.splitlines()
    assert [line for line in lines if not line.startswith("   ")][2:-1] == [
        (
            "As it stands (strings slack): 3 checks, 3 min; they tell most about worn pin holes; "
            "after it about bridge lifting."
        ),
        "The first looks of this visit:",
        "1. Shine along the bridge edge (bridge-light), 1 min",
        "2. Does it creak (bridge-creak), 1 min",
        "What tells most for each minute:",
        "3. Look at the pin holes (pin-look), 1 min",
        "As it stands (strings slack): 1 check, 1 min; it tells most about neck bowed.",
        "Under 0.02 bits a minute: not worth the time.",
        "What tells most for each minute:",
        "4. Sight along the neck (neck-sight), 1 min",
    ]
    assert re.fullmatch(
        r"It is enough once no look brings 0.02 bits a minute and none could clear a danger; "
        r"the best now brings \d.\d+.",
        lines[-1],
    )


def test_why_says_whether_repairs_last_and_through_what_not(run: Run) -> None:
    demo = str(Path(__file__).parents[2] / "demo_inspections" / "hot-car.yaml")
    data = run("why", demo, "bridge-lifting", "--json").data
    fits(data, WHY)
    alone = {one["remedy"]: one for one in data["comes_back"]}
    assert alone.keys() == {"bridge-reglue", "bridge-replace"}
    assert alone["bridge-reglue"]["causes"][0]["fault"] == "top-hump"
    assert alone["bridge-reglue"]["with"] == []
    more = ("--with", "debelly-heat", "--with", "brace-reglue")
    together = run("why", demo, "bridge-lifting", "--json", *more).data["comes_back"]
    for one in together:
        assert one["with"] == ["debelly-heat", "brace-reglue"]
        assert one["chance"] < alone[one["remedy"]]["chance"]
    shown = run("why", demo, "bridge-lifting", *more).out
    _, told = shown.split("Whether it comes back after a repair; this does not say when:\n")
    line = r"  Take off, .* \(bridge-reglue\), with debelly-heat and brace-reglue: \d\d % while "
    assert re.match(line, told)


def test_what_nothing_brings_back_is_said_to_stay_away(run: Run) -> None:
    shown = run("why", "job.yaml", "bridge-lifting").out
    assert "(bridge-reglue): nothing that the checklist knows brings it back." in shown
    assert "comes back" not in run("why", "job.yaml", "neck-bow").out  # no remedy


def test_a_remedy_that_is_not_there_is_named_with_the_nearest(run: Run) -> None:
    ran = run("why", "job.yaml", "bridge-lifting", "--with", "bridge-regleu")
    assert ran.code == 2
    assert "no such remedy in the checklist small (did you mean `bridge-reglue`?)" in ran.err


def test_why_weighs_the_readings_for_and_against(run: Run) -> None:
    run(*OPEN)
    run("record", "job.yaml", "bridge-light", "none")
    data = run("why", "job.yaml", "bridge-lifting", "--json").data
    fits(data, WHY)
    assert [entry["check"] for entry in data["for"]] == ["bridge-feeler"]
    assert [entry["check"] for entry in data["against"]] == ["bridge-light"]
    assert data["for"][0]["decibans"] > 0 > data["against"][0]["decibans"]
    shown = run("why", "job.yaml", "bridge-lifting").out
    assert "The bridge is coming off." in shown
    assert re.search(r"For it, in decibans:\n +\+\d+\.\d  Feel for an open seam", shown)
    assert re.search(r"Against it, in decibans:\n +-\d+\.\d  Shine along the bridge edge", shown)


def test_why_names_the_causes_and_what_would_tell_most(run: Run) -> None:
    run(*OPEN)
    shown = run("why", "job.yaml", "pin-holes-worn").out
    assert "Probably brought about by Bridge lifting." in shown
    assert "To settle it: Look at the pin holes (pin-look); it can be done now." in shown


def test_weights_say_their_visit_where_there_are_several(run: Run) -> None:
    run(*OPEN)
    run("walk", "job.yaml", "--stage", "first-stringing", said="none\n" * 3)
    shown = run("why", "job.yaml", "bridge-lifting").out
    assert "Feel for an open seam (bridge-feeler), visit 1" in shown
    assert ", visit 2" in shown


def test_at_pitch_with_a_likely_danger_the_first_line_is_to_slacken(shop: Path, run: Run) -> None:
    run(*OPEN)
    ran = run("record", "job.yaml", "bridge-light", "marked", "--setup", "strings=at-pitch")
    first = "Slacken the strings now: Bridge lifting (over 99 %)."
    assert ran.out.splitlines()[1] == first
    assert run("next", "job.yaml").out.splitlines()[0] == first


def test_when_it_is_enough_it_says_what_stays_open(shop: Path, run: Run) -> None:
    for check, value in (("bridge-light", "none"), ("bridge-creak", "never"), ("pin-look", "worn")):
        run("record", "job.yaml", check, value)
    run("record", "job.yaml", "bridge-feeler", "0 mm")
    run("record", "job.yaml", "neck-sight", "0 mm")
    run("record", "job.yaml", "relief", "0.3 mm", "--setup", "strings=at-pitch")
    run("record", "job.yaml", "neck-sight", "0 mm")
    assert run("next", "job.yaml", "--json").data["enough"] is True
    shown = run("next", "job.yaml").out
    assert "Enough: nothing more that can be looked at is worth its minutes." in shown
    assert "Still open: Worn pin holes (" in shown


def test_why_without_a_reading_says_so(run: Run) -> None:
    assert "No reading speaks for it or against it." in run("why", "job.yaml", "neck-bow").out


def test_record_says_what_was_understood_and_what_it_moved(shop: Path, run: Run) -> None:
    ran = run(*OPEN, "--note", "dry: glue", "--setup", "strings=off")
    assert (ran.code, ran.err) == (0, "")
    assert ran.out.splitlines() == [
        "bridge-feeler: 6 mm = 6.00 mm (15/64 in). Saved.",
        (
            "Do not bring it to pitch, nor up to slack: Bridge lifting (87 %). "
            "What would clear it: Shine along the bridge edge (bridge-light)."
        ),
        "It moved Bridge lifting 10 % to 87 %; Worn pin holes 15 % to 57 %.",
    ]
    text = (shop / "job.yaml").read_text(encoding="utf-8")
    line = next(line for line in text.splitlines() if "bridge-feeler" in line)
    wanted = '{check: bridge-feeler, value: 6 mm, setup: {strings: off}, note: "dry: glue", at: '
    assert wanted in line
    assert "# a cold day" in text


def test_record_tells_when_a_move_becomes_held_back_and_when_no_longer(run: Run) -> None:
    ran = run("record", "job.yaml", "bridge-creak", "once")
    assert ran.out.splitlines()[1].startswith("Do not bring it to pitch: Bridge lifting (")
    assert "What would clear it: " in ran.out
    ran = run("record", "job.yaml", "bridge-feeler", "0 mm")
    assert "No longer held back: strings at pitch." in ran.out


def test_a_bare_number_takes_the_checks_unit_and_it_says_so(run: Run) -> None:
    ran = run("record", "job.yaml", "bridge-feeler", "2")
    assert ran.out.startswith("bridge-feeler: 2 (taken as 2 mm) = 2.00 mm (5/64 in). Saved.\n")


def test_record_as_json(run: Run) -> None:
    data = run(*OPEN, "--json").data
    fits(data, RECORD)
    assert data["understood"] == "6 mm = 6.00 mm (15/64 in)"
    assert data["moved"][0]["id"] == "bridge-lifting"
    assert data["held_back"][0]["setup"] == {"strings": "at-pitch"}


def test_a_photograph_is_kept_as_seen_from_the_file(shop: Path, run: Run) -> None:
    (shop / "photos").mkdir()
    (shop / "photos" / "a.jpg").write_bytes(plain())
    assert run(*OPEN, "--photo", str(shop / "photos" / "a.jpg")).code == 0
    assert "photos: [photos/a.jpg]" in (shop / "job.yaml").read_text(encoding="utf-8")


def test_accepting_lifts_what_is_held_back_and_leaves_the_probabilities(
    shop: Path, run: Run
) -> None:
    run(*OPEN)
    before = run("causes", "job.yaml", "--json").data["faults"]
    words = ("accept", "job.yaml", "bridge-lifting", "--by", "me", "--why", "it is to be seen")
    ran = run(*words)
    assert (ran.code, ran.err) == (0, "")
    assert "No longer held back: strings at pitch." in ran.out
    assert run("causes", "job.yaml", "--json").data["faults"] == before
    assert run("next", "job.yaml", "--json").data["held_back"] == []
    text = (shop / "job.yaml").read_text(encoding="utf-8")
    assert "accepted:" in text
    assert "{fault: bridge-lifting, by: me, why: it is to be seen, at: " in text


def test_accept_as_json(run: Run) -> None:
    run(*OPEN)
    words = ("accept", "job.yaml", "bridge-lifting", "--by", "me", "--why", "so")
    fits(run(*words, "--json").data, ACCEPT)


@pytest.mark.parametrize(
    ("form", "name", "begins"),
    [("html", "job.report.html", "<!doctype html>"), ("markdown", "job.report.md", "#")],
)
def test_the_report_lies_beside_the_file_and_its_path_is_printed(
    form: str, name: str, begins: str, shop: Path, run: Run
) -> None:
    run(*OPEN)
    ran = run("report", "job.yaml", "--format", form)
    assert (ran.code, ran.out, ran.err) == (0, f"{name}\n", "")
    text = (shop / name).read_text(encoding="utf-8")
    assert text.lower().startswith(begins)
    assert "The bridge is coming off" in text


def test_the_report_as_pdf_lies_beside_the_file(shop: Path, run: Run) -> None:
    ran = run("report", "job.yaml", "--format", "pdf", "--copy", "both")
    assert ran.out.split() == ["job.report.player.pdf", "job.report.pdf"]
    assert all((shop / name).read_bytes().startswith(b"%PDF-") for name in ran.out.split())


def test_the_report_as_json_goes_where_it_is_told(shop: Path, run: Run) -> None:
    ran = run("report", "job.yaml", "--format", "json", "-o", "out.json")
    assert (ran.code, ran.out) == (0, "out.json\n")
    assert json.loads((shop / "out.json").read_text(encoding="utf-8"))


@pytest.mark.parametrize(
    ("copy", "names"),
    [
        ("player", ["job.report.player.html"]),
        ("bench", ["job.report.html"]),
        ("both", ["job.report.player.html", "job.report.html"]),
    ],
)
def test_each_copy_of_the_report_is_a_file_of_its_own(
    shop: Path, run: Run, copy: str, names: list[str]
) -> None:
    ran = run("report", "job.yaml", "--copy", copy)
    assert ran.out.split() == names
    for name in names:
        page = (shop / name).read_text(encoding="utf-8")
        assert ("decibans" in page) == ("player" not in name)


def test_the_report_overwrites_an_older_one_and_never_the_inspection(shop: Path, run: Run) -> None:
    (shop / "job.report.html").write_text("old")
    assert run("report", "job.yaml").code == 0
    assert (shop / "job.report.html").read_text(encoding="utf-8") != "old"
    before = (shop / "job.yaml").read_bytes()
    ran = run("report", "job.yaml", "-o", "./job.yaml")
    assert (ran.code, ran.out) == (2, "")
    assert ran.err == "job.yaml: this is the inspection itself (give the report another name)\n"
    assert (shop / "job.yaml").read_bytes() == before


def test_the_checklist_is_found_by_option_environment_and_beside_the_file_in_this_order(
    shop: Path, run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    def shelf(name: str, prior: str) -> Path:
        text = (shop / "checklists" / "small" / "checklist.yaml").read_text(encoding="utf-8")
        folder = shop / name / "small"
        folder.mkdir(parents=True)
        text = text.replace("alone: seldom, harm: serious", f"alone: {prior}, harm: serious")
        (folder / "checklist.yaml").write_text(text, encoding="utf-8")
        return shop / name

    def prior(*words: str) -> float:
        faults = run("causes", "job.yaml", "--json", *words).data["faults"]
        return next(float(f["prior"]) for f in faults if f["id"] == "bridge-lifting")

    option, environment = shelf("option", "0.2"), shelf("environment", "0.4")
    assert prior() == pytest.approx(0.1)
    monkeypatch.setenv("TAILBLOCK_CHECKLISTS", str(environment))
    assert prior() == pytest.approx(0.4)
    assert prior("--checklists", str(option)) == pytest.approx(0.2)
