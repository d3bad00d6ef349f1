"""The bench arithmetic beside recommended work, and what the climate explains."""

from __future__ import annotations

import json
from functools import cache
from math import hypot, pi, sqrt
from pathlib import Path
from typing import TYPE_CHECKING, get_args

import pytest
from markdown_it import MarkdownIt
from uncertainties import ufloat
from uncertainties.umath import atan

from demos import shipped
from report.pages import read, words
from tailblock.inspection import store
from tailblock.knowledge.entries import LengthName, SumName
from tailblock.measures.figures import FIGURES, evaluate
from tailblock.measures.geometry import QUANTITIES
from tailblock.pipeline import examine
from tailblock.report.arithmetic import LENGTHS, SUMS, Arithmetic
from tailblock.report.build import build
from tailblock.report.climate import RISES
from tailblock.report.neck_line import HEIGHTS
from tailblock.report.sentences import ARITHMETIC
from tailblock.report.to_html import to_html
from tailblock.report.to_json import to_json
from tailblock.report.to_markdown import to_markdown
from tailblock.report.wording import CLIMATE_METHOD

if TYPE_CHECKING:
    from tailblock.report.examined import Examined

HEAD = """
tailblock: 1
job: "2031-014"
checklist: flat-top
instrument:
  description: An invented guitar
  traits: {strings: steel, bridge: pin, neck-joint: dovetail, string-load: medium, dome: domed}
  scale_length: 648 mm
visits:
"""
LOST = """
  - stage: arrival
    date: 2031-03-02
    climate: {temperature: 21 C, humidity: 45 %}
    setup: {strings: at-pitch}
    readings:
      - {check: action-12-bass, value: 3.6 mm}
      - {check: action-12-treble, value: 3.0 mm}
      - {check: relief-bass, value: 0.15 mm}
      - {check: relief-treble, value: 0.15 mm}
      - {check: saddle-exposure, value: 1.6 mm}
      - {check: projection, value: -3.5 mm}
      - {check: projection-top, value: 5.5 mm}
      - {check: belly-across, value: 2.5 mm}
      - {check: bridge-thick, value: 9 mm, setup: {strings: slack}}
      - {check: fret-height, value: 0.95 mm, setup: {strings: slack}}
      - {check: fret-groove, value: 0.25 mm, setup: {strings: slack}}
"""


@cache
def examined(visits: str, head: str = HEAD) -> Examined:
    checklist = shipped("flat-top")
    inspection = store.from_bytes((head + visits).encode(), Path("job.yaml"), lambda _: checklist)
    return examine(checklist, inspection)


def plain(text: str) -> str:
    return text.replace("\N{NO-BREAK SPACE}", " ")


def beside(remedy: str, visits: str = LOST, head: str = HEAD) -> dict[str, tuple[float, float]]:
    """Return value and standard uncertainty of each figure that goes with a remedy."""
    figures, _ = Arithmetic(examined(visits, head)).beside(remedy)
    return {one.figure: (one.value, one.uncertainty) for one in figures}


def test_a_lost_neck_angle_gets_the_wood_to_take() -> None:
    """Against the `uncertainties` library: 3.5 mm of aim over 290.65 mm from fret 14."""
    found = beside("neck-reset")
    aim = ufloat(3.5, found["aim_lost"][1])
    reach = 648 * 2 ** (-14 / 12) + ufloat(2, 1)
    expected = {
        "aim_lost": aim,
        "neck_angle_lost": atan(aim / reach) * 180 / pi,
        "heel_cut": aim * ufloat(85, 8) / reach,
        "tongue_wedge": aim * ufloat(90, 8) / reach,
    }
    assert set(found) == set(expected)
    for name, number in expected.items():
        assert found[name] == pytest.approx((number.n, number.s), rel=0.01), name


def test_the_uncertainty_is_that_of_the_gauge() -> None:
    checklist = shipped("flat-top")
    gauge = checklist.checks["projection"].measure
    assert gauge is not None
    steps = (
        float(step.removesuffix(" mm"))
        for step in (gauge.gauge.resolution, gauge.gauge.repeatability)
    )
    resolution, repeatability = steps
    assert beside("neck-reset")["aim_lost"][1] == pytest.approx(
        hypot(resolution / sqrt(12), repeatability)
    )


def test_a_neck_that_aims_high_enough_gets_no_wood_to_take() -> None:
    high = LOST.replace("projection, value: -3.5 mm", "projection, value: 0.5 mm")
    assert beside("neck-reset", high) == {}


def test_a_saddle_gets_the_height_of_the_usual_action() -> None:
    # usual is the middle of the check's normal band, 1.9 to 2.7 mm; k = 0.4687 (648 mm)
    value, _ = beside("saddle-raise-or-new")["saddle_for_action"]
    assert value == pytest.approx(1.6 - (3.6 - 2.3) / 0.4687, abs=0.001)


def test_worn_frets_get_what_a_dressing_would_leave() -> None:
    # 0.95 - 0.25 - 0.03 - 0.05 mm
    assert beside("level-dress")["height_after_dressing"][0] == pytest.approx(0.62)


def test_a_lighter_load_gets_the_pull_that_it_saves() -> None:
    """A whole tone saves 1 - 2^(-4/12) of the pull; the next lighter set less than that."""
    figures, _ = Arithmetic(examined(LOST)).beside("detune-lighter")
    lighter, lower = (one.value for one in figures)
    whole, _ = evaluate("six_string_tension", {"first_gauge": 0.3302, "scale_length": 648.0}, {})
    assert lower == pytest.approx(whole * (1 - 2 ** (-4 / 12)))
    assert 0 < lighter < lower


def test_where_nothing_was_read_there_is_no_arithmetic() -> None:
    empty = "  - {stage: arrival, date: 2031-03-02, setup: {strings: at-pitch}}\n"
    head = HEAD.replace(", string-load: medium", "")
    checklist = shipped("flat-top")
    sized = [remedy for sum_ in checklist.arithmetic.values() for remedy in sum_.remedies]
    assert "neck-reset" in sized
    assert all(beside(remedy, empty, head) == {} for remedy in sized)


def test_the_table_names_what_there_is() -> None:
    checklist = shipped("flat-top")
    assert set(SUMS) == set(get_args(SumName)) == set(checklist.arithmetic)
    drawn = [length for lengths in HEIGHTS.values() for length in lengths]
    used = {
        *LENGTHS.values(),
        *RISES,
        *(name.replace("_", "-") for name in (*QUANTITIES, *drawn)),
    }
    assert used == set(get_args(LengthName)) == set(checklist.geometry)
    wanted = [one for group in SUMS.values() for one in group]
    assert {one.says or one.figure for one in wanted} == set(ARITHMETIC)
    assert {one.figure for one in wanted} <= set(FIGURES)


def test_page_and_markdown_say_all_of_it() -> None:
    report = build(examined(LOST))
    work = {work.name: work for offer in report.plan.offers for work in offer.works}
    saddle, reset = work["New saddle, fitted and shaped"], work["Glued neck reset"]
    assert "-1.17 mm" in plain(saddle.figures[0].text)
    assert "Under 2 mm the saddle cannot pay" in saddle.figures[0].text
    assert plain(reset.figures[2].text) == (
        "Wood off each cheek at the heel cap, out to nothing at the top: 1.02 mm (2.5/64 in) ± "
        "0.12 mm (.005 in); most of the ± is from height of the heel"
    )
    assert plain(reset.figures_from) == (
        "From aim of the neck at the bridge -3.50 mm (-9/64 in) ± 0.26 mm (.010 in). Not read, "
        "and taken as usual: body joint at fret 14, height of the heel 85.00 mm (3 11/32 in) ± "
        "8.00 mm (5/16 in) and board from the joint to the soundhole 90.00 mm (3 35/64 in) ± "
        "8.00 mm (5/16 in)."
    )
    page = words(read(to_html(report)).text)
    reader = MarkdownIt("commonmark").enable(["table", "strikethrough"])
    markdown = words(read(reader.render(to_markdown(report))).text)
    for one in (saddle, reset):
        for text in (*(figure.text for figure in one.figures), one.figures_from):
            assert words(text) in page
            assert words(text) in markdown
    assert json.loads(to_json(report))["plan"]["offers"]


LATER = """
  - stage: follow-up
    date: 2031-08-02
    climate: {{temperature: 21 C, humidity: {humidity} %}}
    setup: {{strings: at-pitch}}
    readings:
      - {{check: action-12-bass, value: {action} mm}}
"""


@pytest.mark.parametrize(
    ("action", "humidity", "explained"),
    [
        (4.0, 65, True),  # 0.42 mm by the climate (see `explained_by_climate`), 0.4 read
        (5.0, 65, False),
        (3.6, 45, True),  # nothing changed
    ],
)
def test_a_change_is_explained_by_the_climate_or_not(
    action: float, humidity: int, *, explained: bool
) -> None:
    later = LATER.format(action=action, humidity=humidity)
    report = build(examined(LOST + later))
    (change,) = report.climate
    assert change.explained is explained
    assert change.change == pytest.approx(action - 3.6)
    said = "that explains the change" if explained else "that does not explain it"
    assert said in change.text
    page = words(read(to_html(report)).text)
    assert words(change.text) in page
    assert words(CLIMATE_METHOD) in page
    assert "What does the climate explain?" in to_markdown(report)


@pytest.mark.parametrize(
    "later",
    [
        LATER.format(action=4.0, humidity=65).replace("humidity: 65 %", ""),
        LATER.format(action=4.0, humidity=90),  # no rule holds there
        LATER.format(action=4.0, humidity=65)
        + "    work: [{remedy: saddle-lower}]\n",  # the work has moved it
    ],
)
def test_without_two_airs_that_compare_nothing_is_said(later: str) -> None:
    report = build(examined(LOST + later))
    assert report.climate == ()
    assert "climate explain?" not in to_html(report)
