"""Trying vignettes, and the shipped checklist tried on those of this repository."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from demos import shipped
from tailblock.practice.format import read_vignette
from tailblock.practice.vignettes import try_vignette

if TYPE_CHECKING:
    from practice.conftest import Write
    from tailblock.knowledge.checklist import Checklist


def test_the_fault_that_the_readings_raise_most_leads(bench: Checklist, write: Write) -> None:
    tried = try_vignette(bench, read_vignette(write(), bench))
    assert tried.lead == "bridge-lifting"
    assert (tried.leads_right, tried.first_right, tried.next_right) == (True, True, True)
    assert tried.unsafe == ()
    assert tried.passed


def test_the_list_that_opens_every_visit_is_not_the_next_check(
    bench: Checklist, write: Write
) -> None:
    assert bench.stages["arrival"].opening == ("smell",)
    assert try_vignette(bench, read_vignette(write(), bench)).next_check != "smell"


@pytest.mark.parametrize(
    ("old", "new", "wrong"),
    [
        ("leads: [bridge-lifting]", "leads: [neck-bow]", "leads_right"),
        ("first_three: [bridge-lifting]", "first_three: [bridge-lifting, neck-bow]", "first_right"),
        ("next_among: [edge-warm, ledge-look]", "next_among: [relief]", "next_right"),
    ],
)
def test_what_is_not_as_expected_fails(
    old: str, new: str, wrong: str, bench: Checklist, write: Write
) -> None:
    tried = try_vignette(bench, read_vignette(write(old, new), bench))
    judged = {name: getattr(tried, name) for name in ("leads_right", "first_right", "next_right")}
    assert [name for name, right in judged.items() if not right] == [wrong]
    assert not tried.passed


def test_unsafe_advice_counts_from_the_reading_after_which_it_was_given(
    bench: Checklist, write: Write
) -> None:
    more = "value: light}\n  - {check: ledge-look, value: uneven}"
    path = write("value: light}", more)
    path.write_text(path.read_text().replace("[bring-to-pitch]", "[bridge-reglue]"))
    tried = try_vignette(bench, read_vignette(path, bench))
    assert [(each.after, each.what) for each in tried.unsafe] == [
        (1, "bridge-reglue"),
        (2, "bridge-reglue"),
    ]
    assert tried.leads_right
    assert not tried.passed


HARMLESS = """\
title: A ledge
written: bench
instrument: {traits: {bridge: pin}}
readings:
  - {check: edge-look, value: dark}
  - {check: ledge-look, value: even}
expect: {leads: [ledge]}
why: Even all round, no light.
"""


def test_a_harmless_fault_wins_by_the_verdict_that_nothing_is_wrong(
    bench: Checklist, tmp_path: Path
) -> None:
    path = tmp_path / "ledge.yaml"
    path.write_text(HARMLESS, encoding="utf-8")
    tried = try_vignette(bench, read_vignette(path, bench))
    assert tried.nothing_wrong == ("ledge",)
    assert tried.passed


def test_where_nothing_is_expected_to_lead_a_leading_fault_fails(
    bench: Checklist, tmp_path: Path
) -> None:
    path = tmp_path / "none.yaml"
    text = HARMLESS.replace("leads: [ledge]", "leads: []")
    path.write_text(text, encoding="utf-8")
    assert try_vignette(bench, read_vignette(path, bench)).leads_right
    path.write_text(text.replace("value: dark", "value: light"), encoding="utf-8")
    assert not try_vignette(bench, read_vignette(path, bench)).leads_right


# The shipped checklist. The list of what failed at first, and of what was then changed in the
# knowledge, is kept in docs/vignettes.md; a vignette is never changed.
FOLDER = Path(__file__).parents[1] / "vignettes"
BENCH = sorted(FOLDER.glob("*.yaml"))
# Written by somebody who had seen ids and words, but no chance. What came of their first run, and
# what was learned from it since, stands in docs/vignettes.md.
BLIND = sorted((FOLDER / "blind").glob("*.yaml")) + sorted((FOLDER / "blind-second").glob("*.yaml"))
BLIND_OTHERS_LEAD = {"blind-15", "second-14"}
BLIND_OTHERS_AMONG_FIRST = {"blind-01"}
OF_OTHERS = {
    name: sorted((FOLDER / name).glob("*.yaml")) for name in ("twelve-string", "nylon-string")
}
OTHERS_LEAD = {"shimmer-that-is-no-fault"}


@pytest.fixture(scope="session")
def flat_top() -> Checklist:
    return shipped("flat-top")


@pytest.mark.parametrize("path", BENCH, ids=lambda path: path.stem)
def test_flat_top_is_safe_and_right_on_the_vignettes_of_the_bench(
    path: Path, flat_top: Checklist
) -> None:
    tried = try_vignette(flat_top, read_vignette(path, flat_top))
    assert tried.unsafe == ()
    assert tried.leads_right, tried.first
    assert tried.first_right, tried.first


@pytest.mark.parametrize("path", BLIND, ids=lambda path: path.stem)
def test_the_blind_cases_are_safe_and_what_leads_is_what_is_reported(
    path: Path, flat_top: Checklist
) -> None:
    tried = try_vignette(flat_top, read_vignette(path, flat_top))
    assert tried.unsafe == ()
    assert tried.leads_right is (path.stem not in BLIND_OTHERS_LEAD), tried.first
    assert tried.first_right is (path.stem not in BLIND_OTHERS_AMONG_FIRST), tried.first


@pytest.mark.parametrize(
    ("name", "path"),
    [(name, path) for name, paths in OF_OTHERS.items() for path in paths],
    ids=lambda given: getattr(given, "stem", given),
)
def test_twelve_and_nylon_are_safe_and_right_on_theirs(name: str, path: Path) -> None:
    checklist = shipped(name)
    tried = try_vignette(checklist, read_vignette(path, checklist))
    assert tried.unsafe == ()
    assert tried.leads_right is (path.stem not in OTHERS_LEAD), tried.first
    assert tried.first_right or path.stem in OTHERS_LEAD


def test_each_of_the_others_has_four_cases_and_more() -> None:
    assert all(len(paths) >= 4 for paths in OF_OTHERS.values())


def test_the_lead_is_right_in_85_of_100_cases() -> None:
    cases = len(BENCH) + len(BLIND)
    assert cases >= 40
    assert cases - len(BLIND_OTHERS_LEAD) >= 0.85 * cases


def test_they_cover_the_builds_and_some_have_nothing_wrong(flat_top: Checklist) -> None:
    cases = [read_vignette(path, flat_top) for path in BENCH]
    assert len(cases) >= 28
    assert {case.written for case in cases} == {"bench"}
    traits = [case.inspection.instrument.traits for case in cases]
    for trait, wanted in {
        "bracing": {"x", "ladder"},
        "bridge": {"pin", "pinless", "floating"},
        "neck-joint": {"dovetail", "bolt-on", "spanish-heel"},
        "strings": {"steel", "twelve"},
    }.items():
        assert wanted <= {each[trait] for each in traits}
    harmless = [
        case
        for case in cases
        if all(flat_top.faults[fault].harm == "none" for fault in case.expect.leads)
    ]
    assert len(harmless) == 3
    for case in cases:
        assert 6 <= len(case.inspection.visits[0].readings) <= 14
