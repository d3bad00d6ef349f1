"""A checklist that extends another: what it inherits, overrides, withdraws."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from tailblock.knowledge.checklist import Checklist
from tailblock.knowledge.library import Shelves
from tailblock.knowledge.lint import SOUND, lint
from tailblock.knowledge.loader import load

Write = Callable[..., Path]

BASE = """\
tailblock: 1
id: base
title: Base
version: 1.0.0
parts: [{id: bridge, name: Bridge}, {id: neck, name: Neck}]
traits: [{id: bridge, ask: Which?, values: [pin, tie]}]
stages: [{id: arrival, budget: 12 min, opening: [look, feel]}]
limits: {danger: 0.2, event_weight: 0.5}
faults:
  - {id: hot, part: bridge, name: Hot, plain: Hot., alone: seldom, harm: serious, pace: stable,
     under_tension: fine, kind: event, sources: [bench, memory]}
  - {id: hump, part: bridge, name: Hump, plain: Up., alone: seldom, harm: serious, pace: years,
     under_tension: watch, caused_by: [{fault: hot, strength: often}], sources: [bench]}
  - {id: dome, part: bridge, name: Dome, plain: Made., alone: seldom, harm: none, pace: stable,
     under_tension: fine, rivals: [hot, hump], sources: [bench]}
symptoms:
  - {id: gap, part: bridge, name: Gap, alone: rarely, caused_by:
     [{fault: hot, strength: often}, {fault: hump, strength: usually, when: {bridge: [pin]}}],
     sources: [bench]}
checks:
  - {id: look, part: bridge, title: Look, ask: Up?, how: Look., minutes: 1, sources: [bench],
     choices: [{level: flat, text: Flat}, {level: up, text: Up}],
     gate: {from: up, of: [feel, height], then: no-evidence},
     shows: [{fault: hot, at_least: {up: often}}, {symptom: gap, at_least: {up: usually}}]}
  - {id: feel, part: bridge, title: Feel, ask: Up?, how: Feel., minutes: 1, sources: [bench],
     choices: [{level: flat, text: Flat}, {level: up, text: Up}], cautions: [sharp],
     follows: {check: look, from: up}, shows: [{fault: hump, at_least: {up: often}}]}
  - {id: height, part: bridge, title: Height, ask: How high?, how: Rule., minutes: 1,
     sources: [bench], shows: [{fault: hump, at_least: {high: often}}],
     measure: &mm {quantity: length, unit: mm, possible: {from: 0 mm, to: 9 mm},
               gauge: {resolution: 0.5, repeatability: 0.5},
               levels: [{level: usual, up_to: 2 mm}, {level: high}]}}
  - {id: change, part: bridge, title: Change, ask: Sum., sources: [bench], measure: *mm,
     derived: belly_change, from: {pitch: {check: height}, slack: {check: height}},
     shows: [{fault: hump, at_least: {high: often}}]}
families: [{id: heights, checks: [change, height]}]
remedies:
  - {id: press, part: bridge, name: Press, plain: Press., fixes: [{fault: hump, how_well: often}],
     hours: {low: 1, likely: 2, high: 3}, reversible: true, sources: [bench],
     may_reveal: [{fault: dome, chance: often}], watch: [{check: feel, after: 1 y}]}
  - {id: cool, part: bridge, name: Cool, plain: Cool., fixes: [{fault: hot, how_well: often}],
     needs: {remedies: [press]}, hours: {low: 1, likely: 2, high: 3}, reversible: true,
     sources: [bench], may_leave: [{fault: hump, chance: rarely}], cautions: [sharp]}
cautions:
  - {id: sharp, title: Sharp, hazard: sharp, text: Cuts., controls: [Away.], sources: [bench]}
sources:
  - {id: bench, kind: common-practice, citation: Bench, seen: not-applicable}
  - {id: memory, kind: memory, citation: Memory, seen: from-memory}
"""
OWN = """\
tailblock: 1
id: own
title: Own
version: 2.0.0
extends: base
"""


@pytest.fixture
def own(checklist_folder: Write) -> Callable[[str], Checklist]:
    """Return a reader of the checklist that extends the base, whatever is added to it sound."""

    def read(text: str) -> Checklist:
        checklist_folder(BASE, "base")
        loaded = load(checklist_folder(OWN + text, "own"))
        assert loaded.checklist is not None, "\n".join(map(str, loaded.problems))
        assert [str(p) for p in lint(loaded.checklist, SOUND)] == []
        return loaded.checklist

    return read


Own = Callable[[str], Checklist]


def said(write: Write, text: str) -> list[str]:
    write(BASE, "base")
    loaded = load(write(OWN + text, "own"))
    assert loaded.checklist is None
    return [f"{p.line}:{p.column} {p.message}" for p in loaded.problems]


def test_everything_is_inherited_but_who_it_is(
    own: Own, checklist: Callable[..., Checklist]
) -> None:
    base, read = checklist(BASE, "base"), own("")
    assert (read.id, read.title, read.version) == ("own", "Own", "2.0.0")
    assert (read.faults, read.checks, read.remedies) == (base.faults, base.checks, base.remedies)
    assert (read.stages, read.limits, read.setups) == (base.stages, base.limits, base.setups)
    assert read.places["fault", "hump"].file.endswith("base/checklist.yaml")
    assert read.digest != base.digest


def test_entries_of_its_own_come_after(own: Own) -> None:
    read = own("traits: [{id: age, ask: How old?, values: [new, old]}]\n")
    assert list(read.traits) == ["bridge", "age"]


def test_constants_replace_those_given(own: Own) -> None:
    read = own(
        "limits: {danger: 0.05}\nsetups: {states: {strings: [slack, at-pitch]}, moves: []}\n"
    )
    assert (read.limits.danger, read.limits.event_weight) == (0.05, 0.5)
    assert read.setups.states == {"strings": ("slack", "at-pitch")}


def test_an_override_replaces_top_level_fields_whole(own: Own) -> None:
    read = own("override: [{id: hump, alone: often, caused_by: []}]\n")
    hump = read.faults["hump"]
    assert (hump.alone, hump.caused_by, hump.name) == (0.6, (), "Hump")
    assert list(read.faults) == ["hot", "hump", "dome"]  # it keeps its place
    place = read.places.within("fault", "hump", "alone")
    assert (place.file.endswith("own/checklist.yaml"), place.line, place.column) == (True, 6, 30)
    assert read.places.within("fault", "hump", "name").file.endswith("base/checklist.yaml")


def test_the_fields_tell_which_of_two_entries_is_meant(own: Own) -> None:
    """`bridge` is a part and a trait; only a trait has values, only a part has a name."""
    read = own("override: [{id: bridge, values: [pin, tie, floating]}, {id: bridge, name: Bar}]\n")
    assert read.traits["bridge"].values == ("pin", "tie", "floating")
    assert read.parts["bridge"].name == "Bar"


@pytest.mark.parametrize(
    ("text", "place", "message"),
    [
        (
            "override: [{id: humb, alone: often}]",
            "6:17",
            "there is no inherited entry `humb` to override",
        ),
        (
            "override: [{id: bridge}]",
            "6:17",
            "`bridge` is a part and a trait, and these fields do not tell which is meant",
        ),
        ("override: [{id: hump, alnoe: often}]", "6:23", "unknown field `alnoe`"),
        (
            "override: [{id: hump, harm: some}]",
            "6:29",
            "`some` is not one of none, cosmetic, playability, serious, destructive",
        ),
        ("override: [{alone: often}]", "6:12", "this override has no id"),
        ("withdraw: [humb]", "6:12", "there is no inherited entry `humb` to withdraw"),
        ("withdraw: [bridge]", "6:12", "there is no inherited entry `bridge` to withdraw"),
    ],
)
def test_a_change_that_cannot_be_made(
    checklist_folder: Write, text: str, place: str, message: str
) -> None:
    assert said(checklist_folder, text) == [f"{place} {message}"]


def test_an_id_of_two_kinds_cannot_be_withdrawn_by_id_alone(checklist_folder: Write) -> None:
    checklist_folder(BASE.replace("id: sharp,", "id: hump,"), "base")
    loaded = load(checklist_folder(OWN + "withdraw: [hump]\n", "own"))
    assert [p.message for p in loaded.problems] == ["`hump` is a fault and a caution"]


def test_an_inherited_id_is_overridden_not_repeated(checklist_folder: Write) -> None:
    checklist_folder(BASE, "base")
    text = "sources: [{id: bench, kind: memory, citation: X, seen: from-memory}]\n"
    [problem] = load(checklist_folder(OWN + text, "own")).problems
    assert problem.message.startswith("the source `bench` is there already, at ")
    assert problem.mend == "list what changes under `override`"


def test_a_withdrawn_fault_goes_with_every_link_to_it(own: Own) -> None:
    read = own("withdraw: [hot]\n")
    assert list(read.faults) == ["hump", "dome"]
    assert read.faults["hump"].caused_by == ()
    assert read.faults["dome"].rivals == ("hump",)
    assert [cause.fault for cause in read.symptoms["gap"].caused_by] == ["hump"]
    assert [link.target for link in read.checks["look"].shows] == ["gap"]
    assert list(read.remedies) == ["press"]  # the other one fixed nothing else


def test_what_goes_with_it_goes_with_its_own_links(own: Own) -> None:
    """Without `hot`, `cool` fixes nothing; without `cool`, `warm` needs only `press`."""
    text = """\
remedies:
  - {id: warm, part: bridge, name: Warm, plain: W., fixes: [{fault: hump, how_well: often}],
     hours: {low: 1, likely: 2, high: 3}, reversible: true, needs: {remedies: [cool, press]}}
"""
    middle = own(text)
    assert middle.remedies["warm"].needs.remedies == ("cool", "press")
    # entries of its own are linked to what it withdraws, too
    read = own(text + "withdraw: [hot]\n")
    assert read.remedies["warm"].needs.remedies == ("press",)
    assert list(read.remedies) == ["press", "warm"]
    assert read.checks["look"].shows[0].target == "gap"


def test_places_stay_true_beside_what_was_withdrawn(own: Own) -> None:
    place = own("withdraw: [hot]\n").places.within("symptom", "gap", "caused_by", 0, "fault")
    assert BASE.splitlines()[place.line - 1][place.column - 1 :].startswith("hump, strength")


def test_a_withdrawn_check_goes_with_what_needs_it(own: Own) -> None:
    read = own("withdraw: [feel, height]\n")
    assert list(read.checks) == ["look"]  # `change` was worked out from `height`
    assert read.families == {}
    assert read.stages["arrival"].opening == ("look",)
    assert read.checks["look"].gate[0].of == ()
    assert read.remedies["press"].watch == ()


def test_a_withdrawn_check_is_followed_by_none(own: Own) -> None:
    read = own("withdraw: [look]\n")
    assert read.checks["feel"].follows is None
    assert read.stages["arrival"].opening == ("feel",)


BENCH = """\
geometry: [{id: projection, check: height}]
arithmetic: [{id: aim, remedies: [press, cool]}, {id: reset, remedies: [cool]}]
"""


@pytest.mark.parametrize(
    ("change", "lengths", "sums"),
    [
        ("", {"projection": "height"}, {"aim": ("press", "cool"), "reset": ("cool",)}),
        ("withdraw: [height, cool]", {}, {"aim": ("press",)}),
        (
            "override: [{id: reset, remedies: [press]}]",
            {"projection": "height"},
            {"aim": ("press", "cool"), "reset": ("press",)},
        ),
    ],
)
def test_geometry_and_arithmetic_are_inherited(
    checklist_folder: Write, change: str, lengths: dict[str, str], sums: dict[str, tuple[str, ...]]
) -> None:
    checklist_folder(BASE + BENCH, "base")
    read = load(checklist_folder(f"{OWN}{change}\n", "own")).checklist
    assert read is not None
    assert {name: one.check for name, one in read.geometry.items()} == lengths
    assert {name: one.remedies for name, one in read.arithmetic.items()} == sums


@pytest.mark.parametrize(
    ("withdrawn", "left"),
    [
        ("gap", lambda c: [link.target for link in c.checks["look"].shows] == ["hot"]),
        ("press", lambda c: c.remedies["cool"].needs.remedies == ()),
        ("sharp", lambda c: c.checks["feel"].cautions == c.remedies["cool"].cautions == ()),
        ("memory", lambda c: c.faults["hot"].sources == ("bench",)),
        ("heights", lambda c: c.families == {} and "height" in c.checks),
    ],
)
def test_any_kind_of_entry_can_be_withdrawn(
    own: Own, withdrawn: str, left: Callable[[Checklist], bool]
) -> None:
    assert left(own(f"withdraw: [{withdrawn}]\n"))


def test_an_extension_of_an_extension(checklist_folder: Write, own: Own) -> None:
    own("override: [{id: hump, alone: often}]\nwithdraw: [dome]\n")
    text = OWN.replace("id: own", "id: third").replace("extends: base", "extends: own")
    read = load(checklist_folder(text, "third")).checklist
    assert read is not None
    assert (list(read.faults), read.faults["hump"].alone) == (["hot", "hump"], 0.6)


def test_nothing_extends_itself(checklist_folder: Write) -> None:
    checklist_folder(BASE.replace("version: 1.0.0", "version: 1\nextends: own"), "base")
    loaded = load(checklist_folder(OWN, "own"))
    assert [p.message for p in loaded.problems] == [
        "own extends base extends own: nothing extends itself"
    ]


def test_problems_of_the_base_are_told_in_its_file(checklist_folder: Write) -> None:
    checklist_folder(BASE.replace("minutes: 1,", "minutes: x,", 1), "base")
    [problem] = load(checklist_folder(OWN, "own")).problems
    assert problem.file.endswith("base/checklist.yaml")


def test_a_base_that_has_no_head_is_a_problem_of_the_base(checklist_folder: Write) -> None:
    checklist_folder(BASE.replace("title: Base\n", ""), "base")
    loaded = load(checklist_folder(OWN, "own"))
    assert [(p.message, p.file.split("/")[-2]) for p in loaded.problems] == [
        ("`title` is missing", "base")
    ]


def test_the_base_is_also_found_on_the_shelves(checklist_folder: Write, tmp_path: Path) -> None:
    checklist_folder(BASE, "elsewhere/base")
    folder = checklist_folder(OWN, "here/own")
    assert load(folder).checklist is None
    assert load(folder, Shelves(given=tmp_path / "elsewhere")).checklist is not None
