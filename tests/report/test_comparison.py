"""Two visits side by side: what is better, worse, outside; settling; trends; when to look again."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from tailblock.inspection import store
from tailblock.knowledge.loader import load
from tailblock.pipeline import examine
from tailblock.report.comparison import comparison

if TYPE_CHECKING:
    from tailblock.knowledge.checklist import Checklist
    from tailblock.report.model import Comparison

BENCH = """
tailblock: 1
id: bench
title: A bench
version: 1.0.0
parts: [{id: bridge, name: Bridge}, {id: neck, name: Neck}]
stages:
  - {id: arrival, name: Arrival, budget: 20 min}
  - {id: first-stringing, name: First stringing, budget: 60 min}
  - {id: settled, name: Settled, budget: 60 min}
  - {id: follow-up, name: Follow-up, budget: 60 min}
faults:
  - {id: lifting, part: bridge, name: Bridge lifting, plain: It lifts., alone: 0.1, harm: serious,
     pace: months, under_tension: danger}
  - {id: lost-angle, part: neck, name: Lost angle, plain: It folds., alone: 0.1, harm: serious,
     pace: years, under_tension: fine}
checks:
  - {id: edge, part: bridge, title: Edge, ask: A?, how: Look., minutes: 1,
     choices: [{level: shut, text: Shut}, {level: slight, text: Light}, {level: open, text: Open}],
     shows: [{fault: lifting, at_least: {slight: 0.9, open: 0.5}}]}
  - id: action
    part: neck
    title: Action
    ask: How high?
    how: Measure.
    minutes: 1
    measure:
      quantity: length
      unit: mm
      possible: {from: 0 mm, to: 9 mm}
      gauge: {resolution: 0 mm, repeatability: 0.05 mm}
      normal: {from: 2 mm, to: 2.8 mm}
      levels_low: [{level: low}]
      levels_high: [{level: high, up_to: 3.5 mm}, {level: extreme}]
    shows: [{fault: lost-angle, at_least_high: {high: 0.8, extreme: 0.5}}]
geometry: [{id: action-bass, check: action}]
remedies:
  - {id: reglue, part: bridge, name: Reglue the bridge, plain: R, reversible: true,
     hours: {low: 1, likely: 2, high: 3}, fixes: [{fault: lifting, how_well: 0.95}],
     watch: [{check: edge, after: 14 d}, {check: edge, after: 6 months}]}
  - {id: reset, part: neck, name: Reset, plain: R, hours: {low: 1, likely: 2, high: 3},
     fixes: [{fault: lost-angle, how_well: 0.95}], reversible: true}
"""
HEAD = 'tailblock: 1\njob: "1"\nchecklist: bench\ninstrument: {description: a guitar}\nvisits:\n'


@pytest.fixture(scope="module")
def bench(tmp_path_factory: pytest.TempPathFactory) -> Checklist:
    folder = tmp_path_factory.mktemp("bench")
    (folder / "checklist.yaml").write_text(BENCH, encoding="utf-8")
    loaded = load(folder)
    assert loaded.checklist is not None, "\n".join(map(str, loaded.problems))
    return loaded.checklist


def visit(stage: str, day: str, *readings: str, more: str = "") -> str:
    listed = "".join(f"      - {{check: {one}}}\n" for one in readings)
    head = f"  - stage: {stage}\n    date: {day}\n    setup: {{strings: at-pitch}}\n"
    return f"{head}{more}    readings:\n{listed}"


def compared(
    bench: Checklist, *visits: str, which: tuple[int, int] | None = None
) -> Comparison | None:
    text = (HEAD + "".join(visits)).encode()
    record = store.from_bytes(text, Path("job.yaml"), lambda _: bench)
    return comparison(examine(bench, record), which)


def side_by_side(bench: Checklist, before: str, after: str) -> tuple[str, bool]:
    found = compared(
        bench, visit("arrival", "2031-03-02", before), visit("follow-up", "2031-03-20", after)
    )
    assert found is not None
    (one,) = found.readings
    return one.way, one.outside


@pytest.mark.parametrize(
    ("before", "after", "way", "outside"),
    [
        ("edge, value: open", "edge, value: shut", "better", False),
        ("edge, value: shut", "edge, value: slight", "worse", True),
        ("edge, value: slight", "edge, value: slight", "same", True),
        # normal is 2 to 2.8 mm; a change under 2 x 0.0707 mm is none
        ("action, value: 3.4 mm", "action, value: 2.5 mm", "better", False),
        ("action, value: 3.4 mm", "action, value: 3.0 mm", "better", True),
        ("action, value: 3.4 mm", "action, value: 3.3 mm", "same", True),
        ("action, value: 2.75 mm", "action, value: 2.85 mm", "same", True),
        ("action, value: 2.1 mm", "action, value: 2.6 mm", "same", False),  # moved within normal
        ("action, value: 2.5 mm", "action, value: 3.6 mm", "worse", True),
        ("action, value: 3.0 mm", "action, value: 1.5 mm", "worse", True),  # out at the other side
        ("action, value: 1.5 mm", "action, value: 1.8 mm", "better", True),
    ],
)
def test_nearer_to_normal_is_better_and_within_the_gauge_is_the_same(
    bench: Checklist, before: str, after: str, way: str, outside: bool
) -> None:
    assert side_by_side(bench, before, after) == (way, outside)


def test_readings_say_both_units_and_the_change_its_spread(bench: Checklist) -> None:
    found = compared(
        bench,
        visit("arrival", "2031-03-02", "action, value: 3.4 mm"),
        visit("follow-up", "2031-03-20", "action, value: 2.5 mm"),
    )
    assert found is not None
    (one,) = found.readings
    plain = {name: str(getattr(one, name)).replace("\N{NO-BREAK SPACE}", " ") for name in
             ("before", "after", "change")}  # fmt: skip
    # u of the difference: 0.05 x sqrt(2)
    assert plain == {
        "before": "3.40 mm (8.5/64 in), high",
        "after": "2.50 mm (6.5/64 in), normal",
        "change": "-0.90 mm (-.035 in) ± 0.07 mm (.003 in)",
    }


@pytest.mark.parametrize(
    ("humidity", "said"),
    [
        (("45 %", "49 %"), "near enough to compare"),
        (("45 %", "51 %"), "too far apart, part of every change below may be the air alone"),
        (("45 %", ""), "is not known"),
    ],
)
def test_the_comparison_is_marked_where_the_air_was_another(
    bench: Checklist, humidity: tuple[str, str], said: str
) -> None:
    air = [f"    climate: {{humidity: {one}}}\n" if one else "" for one in humidity]
    found = compared(
        bench,
        visit("arrival", "2031-03-02", "edge, value: shut", more=air[0]),
        visit("settled", "2031-03-20", "edge, value: shut", more=air[1]),
    )
    assert found is not None
    assert said in found.air


@pytest.mark.parametrize(
    ("later", "verdict"),
    [("2.6 mm", "which explains it"), ("3.3 mm", "which does not explain it")],
)
def test_settling_is_told_against_what_was_seen(bench: Checklist, later: str, verdict: str) -> None:
    # 0.2 (1 - exp(-7 x 24/48)) = 0.194 mm, u = 0.1 mm from the rise and less from the time
    found = compared(
        bench,
        visit("first-stringing", "2031-03-02", "action, value: 2.4 mm"),
        visit("settled", "2031-03-09", f"action, value: {later}"),
    )
    assert found is not None
    (one,) = found.readings
    assert "about 0.19 mm" in one.settling.replace("\N{NO-BREAK SPACE}", " ")
    assert one.settling.endswith(f"{verdict}.")


def test_work_in_between_is_no_settling(bench: Checklist) -> None:
    found = compared(
        bench,
        visit("first-stringing", "2031-03-02", "action, value: 2.4 mm"),
        visit(
            "settled", "2031-03-09", "action, value: 2.6 mm", more="    work: [{remedy: reset}]\n"
        ),
    )
    assert found is not None
    assert found.readings[0].settling == ""


YEARS = [
    visit("follow-up", f"{year}-05-01", f"action, value: {value}")
    for year, value in ((2031, "2.2 mm"), (2032, "2.3 mm"), (2033, "2.4 mm"), (2034, "2.5 mm"))
]


def test_a_trend_names_the_day_on_which_a_limit_is_reached(bench: Checklist) -> None:
    found = compared(bench, *YEARS)
    assert found is not None
    (line,) = found.trends
    # 0.1 mm a year from 2.5 mm in May 2034: 2.8 mm three years later, to the few leap days
    assert line.crosses.startswith("2037-0")
    assert line.earliest < line.crosses < line.latest
    assert "4 readings from 2031-05-01 to 2034-05-01" in line.text


def test_what_could_stand_still_has_no_day(bench: Checklist) -> None:
    still = [one.replace("2.5 mm", "2.2 mm").replace("2.4 mm", "2.2 mm") for one in YEARS]
    found = compared(bench, *still)
    assert found is not None
    (line,) = found.trends
    assert (line.crosses, line.latest) == ("", "")
    assert line.text.endswith("it could as well stand still.")


def test_work_begins_a_trend_anew(bench: Checklist) -> None:
    worked = [YEARS[0], YEARS[1], YEARS[2].replace("    readings", "    work: [{remedy: reset}]\n    readings"), YEARS[3]]  # noqa: E501  # fmt: skip
    found = compared(bench, *worked)
    assert found is not None
    assert found.trends == ()


def test_each_thing_to_watch_has_its_day_and_whether_it_was_done(bench: Checklist) -> None:
    found = compared(
        bench,
        visit("arrival", "2031-03-02", "edge, value: open"),
        visit("first-stringing", "2031-03-10", "edge, value: shut",
              more="    work: [{remedy: reglue}]\n"),
        visit("settled", "2031-03-26", "edge, value: shut"),
    )  # fmt: skip
    assert found is not None
    after = [(one.due, one.done) for one in found.look_again if "after: reglue" in one.text]
    # 14 days and 6 mean months of 30.4 days after the work
    assert after[0] == ("2031-03-24", "2031-03-26")
    assert after[1][0].startswith("2031-09-0")
    assert after[1][1] == ""


def test_a_second_inspection_that_overturns_the_first_says_so(bench: Checklist) -> None:
    found = compared(
        bench,
        visit("arrival", "2031-03-02", "edge, value: shut"),
        visit("follow-up", "2031-03-04", "edge, value: open",
              more="    confirmed: [{fault: lifting, present: true}]\n"),
    )  # fmt: skip
    assert found is not None
    (lifting,) = [one for one in found.faults if one.id == "lifting"]
    assert lifting.overturned
    assert lifting.known == lifting.now == pytest.approx(1.0)  # no work: the same fault
    # by Bayes: shut has 0.1 with the fault, and 0.9 of both goes without the usual leak, seldom
    assert lifting.then == pytest.approx(0.1 * 0.1 * 0.9 / (0.1 * 0.1 * 0.9 + 0.9 * 0.9), rel=1e-9)
    assert "thought " in lifting.text


def test_one_visit_is_compared_with_nothing(bench: Checklist) -> None:
    assert compared(bench, visit("arrival", "2031-03-02", "edge, value: shut")) is None
