"""What was read: the written answer, both units, the limits, the level, and why it is silent."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from report.visits import HEAD, HOT_CAR, Reported

if TYPE_CHECKING:
    from tailblock.report.model import Finding, Report


def _all(report: Report) -> dict[str, list[Finding]]:
    found: dict[str, list[Finding]] = {}
    for part in report.findings:
        for finding in part.findings:
            found.setdefault(finding.check, []).append(finding)
    return found


def _plain(text: str) -> str:
    return text.replace("\N{NO-BREAK SPACE}", " ")


def _one(reported: Reported, reading: str, setup: str = "at-pitch", head: str = HEAD) -> Finding:
    visit = f"""
      - stage: arrival
        date: 2031-03-02
        setup: {{strings: {setup}}}
        readings: [{reading}]
    """
    ((part),) = reported(visit, head).findings
    (finding,) = part.findings
    return finding


# 1 in = 25.4 mm exactly; u = sqrt(res^2/12 + rep^2) after JCGM 100:2008, F.2.2.1 and 4.2.3
@pytest.mark.parametrize(
    ("written", "value", "u", "level", "abnormal"),
    [
        ("9/64 in", "3.57 mm (9/64 in)", "0.10 mm (.004 in)", "The strings stand high", True),
        ("2.8 mm", "2.80 mm (7/64 in)", "0.10 mm (.004 in)", "normal", False),  # on the limit
        ("2 mm", "2.00 mm (5/64 in)", "0.10 mm (.004 in)", "normal", False),
        ("1.9 mm", "1.90 mm (5/64 in)", "0.10 mm (.004 in)", "low", True),
        ("1 mm", "1.00 mm (2.5/64 in)", "0.10 mm (.004 in)", "very low", True),
        ("4.1 mm", "4.10 mm (10.5/64 in)", "0.10 mm (.004 in)", "very high", True),
    ],
)
def test_a_length_is_shown_in_both_units_against_its_band(
    reported: Reported, written: str, value: str, u: str, level: str, *, abnormal: bool
) -> None:
    finding = _one(reported, f"{{check: action-12-bass, value: {written}}}")
    assert finding.written == written
    assert _plain(finding.value) == value
    assert _plain(finding.uncertainty) == u
    assert _plain(finding.normal) == "2.00 mm (5/64 in) to 2.80 mm (7/64 in)"
    assert (finding.level, finding.abnormal) == (level, abnormal)


def test_a_temperature_has_an_uncertainty_that_is_a_difference(reported: Reported) -> None:
    finding = _one(reported, "{check: room-heat, value: 70 F}")
    assert _plain(finding.value) == "21.1 °C (70 °F)"
    assert _plain(finding.uncertainty) == "0.5 °C (0.9 °F)"  # hypot(0.5/sqrt(12), 0.5) = 0.52 K


def test_a_gauge_carries_the_limits_and_says_them_in_words(reported: Reported) -> None:
    gauge = _one(reported, "{check: bridge-feeler, value: 6 mm}", "slack").gauge
    assert gauge is not None
    assert gauge.edges == (0.5, 3.0)
    assert gauge.normal == (None, 0.5)
    assert _plain(gauge.text) == (
        "6.00 mm (15/64 in) ± 0.52 mm (.020 in); normal is up to 0.50 mm (.020 in); "
        "this is: The seam is open far in. "
        "Limits between the levels: 0.50 mm (.020 in) and 3.00 mm (7.5/64 in)"
    )
    assert gauge.zones == ("normal", "watch", "outside")


def test_a_bare_number_says_which_unit_was_taken(reported: Reported) -> None:
    finding = _one(reported, "{check: action-12-bass, value: 2.5}")
    assert finding.remarks == ("no unit was written; taken as mm",)


def test_a_graded_answer_shows_what_the_level_means(reported: Reported) -> None:
    finding = _one(reported, "{check: heat-story, value: hot}")
    assert (finding.written, finding.level, finding.normal) == ("hot", "It was hot", "Never hot")
    assert finding.abnormal
    assert finding.gauge is None


def test_an_unknown_answer_is_neither_struck_through_nor_abnormal(hot_car: Report) -> None:
    (finding,) = _all(hot_car)["Look at the saddle from above"]
    assert (finding.written, finding.level) == ("unknown", "looked, and cannot say")
    assert (finding.silent, finding.abnormal, finding.note) == ("", False, "could not see it")


def test_a_reading_behind_a_shut_gate_is_silent_with_the_reason(reported: Reported) -> None:
    report = reported(HOT_CAR.replace("value: at-pitch}", "value: below}"))
    (finding,) = _all(report)["Action over the twelfth fret, bass side"]
    assert "a slack neck lies lower" in finding.silent
    assert finding.gauge is None


def test_a_reading_that_was_taken_back_stays_visible(reported: Reported) -> None:
    finding = _one(reported, "{check: heat-story, value: hot, retracted: true}")
    assert finding.silent == "it was taken back"


def test_repeated_values_are_averaged_and_say_so(reported: Reported) -> None:
    once = "      - {check: saddle-exposure, value: 4 mm}\n"
    report = reported(HOT_CAR.replace(once, once + once.replace("4 mm", "4.4 mm")))
    first, last = _all(report)["Saddle standing out of the bridge"]
    assert first.remarks == ("one of 2 readings that are averaged",)
    assert _plain(last.remarks[0]) == (
        "the mean of 2 readings counts: 4.20 mm (10.5/64 in) ± 0.08 mm (.003 in): normal"
    )  # hypot(0.1/sqrt(12), 0.1/sqrt(2)) mm


def test_limits_that_hang_on_an_unknown_trait_are_said_to(reported: Reported) -> None:
    head = HEAD.replace("bracing: x", "bracing: unknown")
    finding = _one(reported, "{check: belly-across, value: 2.5 mm}", head=head)
    assert any("not known" in remark for remark in finding.remarks)
    assert finding.level == "flat"  # 90 % of the shares have the wider limits
    ladder = HEAD.replace("bracing: x", "bracing: ladder")
    assert _one(reported, "{check: belly-across, value: 2.5 mm}", head=ladder).level == "bellied"


def test_findings_stand_by_part_in_the_order_of_the_checklist(hot_car: Report) -> None:
    assert [part.part for part in hot_car.findings] == [
        "Whole instrument", "Top", "Bridge", "Saddle", "Frets", "Neck joint", "Pins",
    ]  # fmt: skip


def test_photographs_are_named(hot_car: Report) -> None:
    (finding,) = _all(hot_car)["Rule across the top behind the bridge"]
    assert finding.remarks == ("photograph 1",)


def test_on_a_later_visit_every_reading_says_which_visit_it_is_from(reported: Reported) -> None:
    later = """
  - stage: first-stringing
    date: 2031-03-12
    setup: {strings: slack}
    work: [{remedy: bridge-reglue, hours: 3.5}]
    readings: [{check: bridge-feeler, value: 0 mm}]
    confirmed: [{fault: bridge-lifting, present: false}]
"""
    report = reported(HOT_CAR + later)
    assert [f.visit for f in _all(report)["Feel for an open seam under the bridge"]] == [
        "visit 1", "visit 2",
    ]  # fmt: skip
    assert [_plain(line) for line in report.work_done] == [
        "Take off, clean and reglue the bridge, 3.5 h (before visit 2, 2031-03-12)"
    ]
    assert report.confirmed == ("Bridge glue joint opening: not there (visit 2)",)
    assert report.heading.visit == "First stringing, visit 2 of 2"
    assert report.heading.day == "2031-03-12"


def test_a_computed_value_says_what_it_was_made_of(reported: Reported) -> None:
    slack = "      - {check: belly-slack, value: 2.5 mm}\n"
    found = _all(reported(HOT_CAR + slack))
    (gives,) = found["How far the top comes down without load"]
    assert (gives.written, _plain(gives.value)) == ("", "2.00 mm (5/64 in)")
    assert _plain(gives.uncertainty) == "0.44 mm (.017 in)"  # sqrt(2) x 0.3085 mm
    assert (gives.level, gives.abnormal) == ("It gives under load", True)
    assert gives.remarks == (
        (
            "computed from: Rule across the top behind the bridge; "
            "Rule across the top with the strings slack"
        ),
    )
    (serving,) = found["Rule across the top with the strings slack"]
    assert serving.remarks == ("counts through: How far the top comes down without load",)
    assert serving.silent == ""


def test_a_computed_value_is_among_the_reasons(reported: Reported) -> None:
    report = reported(HOT_CAR + "      - {check: belly-slack, value: 2.5 mm}\n")
    hump = next(cause for cause in report.causes.argued if cause.id == "top-hump")
    computed = next(w for w in hump.in_favour if w.check.startswith("How far the top comes down"))
    assert _plain(computed.reading) == (
        "2.00 mm (5/64 in) ± 0.44 mm (.017 in): It gives under load"
    )


def test_a_reading_that_a_gate_trusts_less_says_so_and_is_less_sure(reported: Reported) -> None:
    bent = "      - {check: rule-true, value: bent}\n"
    (finding,) = _all(reported(HOT_CAR + bent))["Rule across the top behind the bridge"]
    assert "trusted less: Hold the rule against the light" in finding.remarks
    assert _plain(finding.uncertainty) == "0.59 mm (.023 in)"  # hypot(0.3085, 0.5) mm
    assert finding.silent == ""
