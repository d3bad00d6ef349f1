"""Trying vignettes, and the shipped checklist tried on those of this repository."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from tailblock.knowledge.library import Shelves
from tailblock.knowledge.ready import open_checklist
from tailblock.practice.format import read_vignette
from tailblock.practice.vignettes import Tried, try_vignette

if TYPE_CHECKING:
    from practice.conftest import Write
    from tailblock.knowledge.checklist import Checklist

FOLDER = Path(__file__).parents[1] / "vignettes"
NAMES = sorted(path.stem for path in FOLDER.glob("*.yaml"))


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


# The shipped checklist. What failed at first, and what was changed in the knowledge since, stands
# in docs/vignettes.md; a vignette is never changed.


@cache
def shipped() -> Checklist:
    return open_checklist("flat-top", Shelves())


@cache
def tried(name: str) -> Tried:
    return try_vignette(shipped(), read_vignette(FOLDER / f"{name}.yaml", shipped()))
