"""`walk --stage`, `work`, `confirm`, `done`: one instrument, several visits, one file."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING, Any

import pytest
import yaml

if TYPE_CHECKING:
    from pathlib import Path

    from cli.conftest import Run


def visits(shop: Path) -> list[dict[str, Any]]:
    """Return the visits as they stand in the file."""
    text = (shop / "job.yaml").read_text(encoding="utf-8")
    found: list[dict[str, Any]] = yaml.load(text, yaml.BaseLoader)["visits"]  # noqa: S506
    return found


def chance(run: Run, fault: str) -> float:
    faults = run("causes", "job.yaml", "--json").data["faults"]
    found: float = next(one["probability"] for one in faults if one["id"] == fault)
    return found


def test_bench_hours_may_have_a_decimal_comma(shop: Path, run: Run) -> None:
    assert run("work", "job.yaml", "bridge-reglue", "--hours", "3,5").code == 0
    assert visits(shop)[-1]["work"] == [{"remedy": "bridge-reglue", "hours": "3.5"}]


def test_each_walk_with_a_stage_is_a_dated_visit_in_the_same_file(shop: Path, run: Run) -> None:
    before = (shop / "job.yaml").read_text(encoding="utf-8")
    run("record", "job.yaml", "bridge-light", "none")
    ran = run(
        "walk", "job.yaml", "--stage", "first-stringing", "--date", "2021-03-09", "--by", "Ada",
        "--setup", "strings=off",
    )  # fmt: skip
    assert (ran.code, ran.err) == (0, "")
    assert "Visit 2, First stringing, 2021-03-09." in ran.out
    assert visits(shop)[1] == {
        "stage": "first-stringing", "date": "2021-03-09", "by": "Ada", "setup": {"strings": "off"},
    }  # fmt: skip
    assert (shop / "job.yaml").read_text(encoding="utf-8").startswith(before.split("readings")[0])


def test_a_visit_without_a_day_is_of_today(shop: Path, run: Run) -> None:
    run("record", "job.yaml", "bridge-light", "none")
    run("walk", "job.yaml", "--stage", "first-stringing")
    assert visits(shop)[1]["date"] == date.today().isoformat()  # noqa: DTZ011


def test_a_visit_on_which_nothing_was_seen_goes_on(shop: Path, run: Run) -> None:
    run("walk", "job.yaml", "--stage", "first-stringing", "--date", "2021-03-09")
    run("walk", "job.yaml", "--stage", "first-stringing", "--date", "2021-03-09")
    assert [visit["stage"] for visit in visits(shop)] == ["arrival", "first-stringing"]


def test_readings_of_earlier_visits_still_speak(run: Run) -> None:
    run("record", "job.yaml", "bridge-feeler", "6 mm")
    found = chance(run, "bridge-lifting")
    run("walk", "job.yaml", "--stage", "first-stringing", "--date", "2021-03-09")
    assert chance(run, "bridge-lifting") == pytest.approx(found, abs=1e-12)


def test_work_done_leaves_what_it_does_not_cure(shop: Path, run: Run) -> None:
    run("record", "job.yaml", "bridge-feeler", "6 mm")
    found = chance(run, "bridge-lifting")
    ran = run(
        "work", "job.yaml", "bridge-reglue", "--hours", "3.5", "--stage", "first-stringing",
        "--date", "2021-03-09",
    )  # fmt: skip
    assert ran.out.startswith(
        "Reglue the bridge (bridge-reglue), 3.5 h. Saved on visit 2, 2021-03-09.\n"
    )
    assert visits(shop)[1]["work"] == [{"remedy": "bridge-reglue", "hours": "3.5"}]
    # `usually` cures 0.80 of what was there, and nothing is left by it
    assert chance(run, "bridge-lifting") == pytest.approx(found * 0.20, rel=1e-9)


def test_work_joins_a_visit_on_which_nothing_was_seen(shop: Path, run: Run) -> None:
    run("work", "job.yaml", "bridge-reglue")
    assert len(visits(shop)) == 1
    assert visits(shop)[0]["work"] == [{"remedy": "bridge-reglue"}]


def test_confirmed_on_its_visit_is_certain_there(run: Run) -> None:
    run("record", "job.yaml", "bridge-feeler", "6 mm")
    run(
        "work", "job.yaml", "bridge-reglue", "--stage", "first-stringing", "--date", "2021-03-09"
    )  # fmt: skip
    data = run("confirm", "job.yaml", "--present", "bridge-lifting@1", "--json").data
    assert data["confirmed"] == [{"visit": 1, "fault": "bridge-lifting", "present": True}]
    assert chance(run, "bridge-lifting") == pytest.approx(0.20, rel=1e-9)
    run("done", "job.yaml", "--absent", "bridge-lifting")
    assert chance(run, "bridge-lifting") == 0.0


def test_a_closed_job_takes_nothing_until_the_next_visit(shop: Path, run: Run) -> None:
    ran = run("done", "job.yaml", "--absent", "neck-bow")
    assert ran.out.splitlines()[0] == "Neck bowed (neck-bow): not there on visit 1. Saved."
    assert ran.out.splitlines()[-1] == "The job is closed with visit 1."
    assert visits(shop)[0]["closed"] == "true"
    for words in (
        ("record", "job.yaml", "bridge-light", "none"), ("walk", "job.yaml"), ("done", "job.yaml"),
    ):  # fmt: skip
        refused = run(*words)
        assert refused.code == 2
        assert "visit 1 of 2021-03-02 closed the job (`tailblock walk job.yaml" in refused.err
    assert run("walk", "job.yaml", "--stage", "first-stringing", "--date", "2021-09-01").code == 0
    assert run("record", "job.yaml", "bridge-light", "none").code == 0


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("walk", "job.yaml", "--stage", "sitting"), "there is no 'sitting' (there is arrival"),
        (("walk", "job.yaml", "--by", "Ada"), "say of which kind the new visit is"),
        (
            ("walk", "job.yaml", "--stage", "first-stringing", "--date", "2020-01-01"),
            "--date: 2020-01-01 is before the last visit, of 2021-03-02 (give --date 2021-03-02",
        ),
        (
            ("walk", "job.yaml", "--stage", "first-stringing", "--date", "soon"),
            "'soon' is no day (write it like 2031-03-02)",
        ),
        (
            ("walk", "job.yaml", "--stage", "first-stringing", "--setup", "strings=loose"),
            "strings cannot be 'loose'",
        ),
        (("work", "job.yaml", "bridge-reglu"), "no such remedy (did you mean `bridge-reglue`?)"),
        (("work", "job.yaml", "bridge-reglue", "--hours", "-1"), "'-1' is no number of hours"),
        (("work", "job.yaml", "bridge-reglue", "--hours", "four"), "above 0; write it like 3.5"),
        (("work", "job.yaml", "bridge-reglue", "--hours", "nan"), "'nan' is no number of hours"),
        (
            ("work", "job.yaml", "bridge-reglue", "--hours", "1", "--hours", "2"),
            "--hours: 2 figures for 1 remedies (give one for each",
        ),
        (("work", "job.yaml", "bridge-reglue", "bridge-reglue"), "bridge-reglue is given twice"),
        (("confirm", "job.yaml"), "nothing is confirmed (name a fault"),
        (("confirm", "job.yaml", "--present", "neck-bo"), "did you mean `neck-bow`?"),
        (("confirm", "job.yaml", "--present", "neck-bow@2"), "2: there is no such visit"),
        (("done", "job.yaml", "--absent", "neck-bow@"), "no such visit (there is visit 1)"),
        (
            ("done", "job.yaml", "--present", "neck-bow", "--absent", "neck-bow"),
            "keep the one that was seen",
        ),
    ],
)  # fmt: skip
def test_bad_input_names_the_mend_and_leaves_the_file(
    shop: Path, run: Run, words: tuple[str, ...], said: str
) -> None:
    before = (shop / "job.yaml").read_bytes()
    ran = run(*words)
    assert (ran.code, ran.out) == (2, "")
    assert said in ran.err
    assert (shop / "job.yaml").read_bytes() == before


def test_work_on_a_part_that_the_instrument_lacks_is_refused_at_its_place(
    shop: Path, run: Run
) -> None:
    knowledge = shop / "checklists" / "small" / "checklist.yaml"
    text = knowledge.read_text(encoding="utf-8")
    mark = "hours: {low: 2, likely: 3, high: 6},"
    knowledge.write_text(text.replace(mark, f"{mark} applies_when: {{bridge: pinless}},"), "utf-8")
    ran = run("work", "job.yaml", "bridge-reglue")
    assert ran.code == 2
    assert "bridge-reglue does not apply to this instrument: bridge is pin" in ran.err
    assert "job.yaml:11:18: " in ran.err


def test_two_confirmations_that_exclude_each_other_are_both_named(shop: Path, run: Run) -> None:
    run("confirm", "job.yaml", "--present", "neck-bow")
    run("walk", "job.yaml", "--stage", "first-stringing", "--date", "2021-03-09")
    before = (shop / "job.yaml").read_bytes()
    ran = run("confirm", "job.yaml", "--absent", "neck-bow")
    assert ran.code == 2
    assert "neck-bow confirmed as there on 2021-03-02 (line 11)" in ran.err
    assert "neck-bow confirmed as absent on 2021-03-09" in ran.err
    assert (shop / "job.yaml").read_bytes() == before


def test_compare_says_what_got_better_and_what_is_outside(run: Run) -> None:
    run("record", "job.yaml", "bridge-feeler", "6 mm")
    run(
        "work", "job.yaml", "bridge-reglue", "--stage", "first-stringing", "--date", "2021-03-09"
    )  # fmt: skip
    run("record", "job.yaml", "bridge-feeler", "1 mm")
    lines = run("compare", "job.yaml").out.splitlines()
    assert lines[0] == "Visit 1 (Arrival, 2021-03-02), and visit 2 (First stringing, 2021-03-09)."
    assert lines[2:6] == [
        "Better:",
        (
            "  Feel for an open seam, strings slack: 6.00 mm (15/64 in), open -> "
            "1.00 mm (2.5/64 in), slight (-5.00 mm (-12.5/64 in) ± 0.74 mm (.029 in))"
        ),
        "Still outside its limits:",
        "  Feel for an open seam (1.00 mm (2.5/64 in), slight)",
    ]
    data = run("compare", "job.yaml", "1", "2", "--json").data
    assert data["visits"] == [1, 2]
    (one,) = data["readings"]
    assert (one["id"], one["way"], one["value_before"], one["value_after"]) == (
        "bridge-feeler", "better", 6.0, 1.0,
    )  # fmt: skip


@pytest.mark.parametrize(
    ("visits_", "said"),
    [
        ((), "there is one visit, and nothing to compare it with"),
        (("1",), "1: these are no two visits"),
        (("1", "1"), "1 1: these are no two visits"),
        (("1", "3"), "3: there is no such visit"),
    ],
)
def test_what_cannot_be_compared(run: Run, visits_: tuple[str, ...], said: str) -> None:
    run("record", "job.yaml", "bridge-light", "none")
    ran = run("compare", "job.yaml", *visits_)
    assert (ran.code, ran.out) == (2, "")
    assert said in ran.err


def test_plan_offers_work_in_stages_and_doing_nothing(run: Run) -> None:
    run("record", "job.yaml", "bridge-feeler", "6 mm")
    lines = run("plan", "job.yaml").out.splitlines()
    assert lines[0] == "Do nothing"
    assert "  Bridge lifting (87 %): it gets worse within months" in lines
    at = lines.index("Needed before it may be strung: 2 / 3 / 6 h")
    assert lines[at + 2] == "  1. Reglue the bridge (bridge-reglue): 2 / 3 / 6 h"
    # `usually` cures 0.80: 0.20 of 87 %
    assert lines[at + 4].startswith("  17 % that this is not enough")
    data = run("plan", "job.yaml", "--json").data
    (offer,) = data["offers"]
    assert (offer["kind"], [work["id"] for work in offer["works"]]) == (
        "to-string", ["bridge-reglue"],
    )  # fmt: skip
    assert offer["insufficient"] == pytest.approx(0.2 * chance(run, "bridge-lifting"), rel=1e-9)


def test_plan_of_a_file_that_is_not_there(run: Run) -> None:
    ran = run("plan", "nowhere.yaml")
    assert (ran.code, ran.out) == (2, "")
    assert "there is no such file" in ran.err
