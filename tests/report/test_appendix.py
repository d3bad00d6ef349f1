"""Sources and method: every value and every rule says what it rests on."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from report.visits import HOT_CAR, Reported
from tailblock.measures.figures import FIGURES
from tailblock.report.to_json import to_json

if TYPE_CHECKING:
    from tailblock.report.model import Basis, Report

PLANNED = ("Checks", "Causes", "Work", "Safety")


@pytest.fixture(scope="module")
def values(hot_car: Report) -> dict[str, Basis]:
    return {basis.what: basis for basis in hot_car.appendix.values}


def test_every_measured_check_says_what_is_normal_and_from_where(
    hot_car: Report, values: dict[str, Basis]
) -> None:
    measured = [f for part in hot_car.findings for f in part.findings if f.gauge]
    assert measured
    for finding in measured:
        assert values[finding.check].value == f"normal: {finding.normal}"
        assert values[finding.check].rests_on


def test_every_formula_beside_work_has_its_source(hot_car: Report) -> None:
    works = [work for offer in hot_car.plan.offers for work in offer.works]
    used = {figure.figure for work in works for figure in work.figures}
    told = {
        source
        for basis in hot_car.appendix.values
        if basis.mark == "formula"
        for source in basis.rests_on
    }
    assert told == {FIGURES[name].source for name in used}


def test_every_rule_is_marked_once_by_what_stands_behind_it(hot_car: Report) -> None:
    by_kind: dict[str, list[str]] = {kind: [] for kind in PLANNED}
    for marked in hot_car.appendix.rules:
        by_kind[marked.entries] += marked.names
    assert sorted(by_kind["Causes"]) == sorted(cause.name for cause in hot_car.causes.argued)
    offered = [work.name for offer in hot_car.plan.offers for work in offer.works]
    assert sorted(by_kind["Work"]) == sorted(offered)
    assert by_kind["Safety"]
    assert len(by_kind["Safety"]) == len(hot_car.safety.notes)


def test_a_rule_counts_as_published_only_if_its_publication_was_read(hot_car: Report) -> None:
    # bench.yaml: the bridge's fault cites an invented book that counts as read; heat cites practice
    marks = {name: marked.mark for marked in hot_car.appendix.rules for name in marked.names}
    assert marks["Hot tools and joints"] == "rule of the trade"
    assert "published" in {marked.mark.split(" in")[0] for marked in hot_car.appendix.rules}


def test_the_constants_of_the_report_are_said_to_be_ours(values: dict[str, Basis]) -> None:
    danger = values["A danger is open above"]
    assert (danger.value, danger.mark) == ("10\N{NO-BREAK SPACE}%", "from memory")
    assert "replaced" in danger.rests_on[0]


def test_the_versions_and_digests_make_the_same_report_again(reported: Reported) -> None:
    one, other = reported(HOT_CAR), reported(HOT_CAR)
    head = one.heading
    assert len(head.file_digest) == len(head.checklist_digest) == 64
    assert head.checklist_version
    assert head.engine
    assert to_json(one) == to_json(other)
    changed = reported(HOT_CAR.replace("4.5 mm", "4.6 mm"))
    assert changed.heading.file_digest != head.file_digest
