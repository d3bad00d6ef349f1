"""The demo inspections of the two kinds: the leading faults, and what must not be advised."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tailblock.report.build import build

if TYPE_CHECKING:
    from collections.abc import Callable

    from tailblock.pipeline import Examined


def leading(examined: Examined, number: int) -> list[str]:
    """Return the faults that lead, harmless explanations left out."""
    faults = examined.checklist.faults
    harmful = [cause for cause in examined.causes if faults[cause.id].harm != "none"]
    return [cause.id for cause in sorted(harmful, key=lambda cause: -cause.lead)[:number]]


@pytest.mark.parametrize(
    ("name", "number", "among"),
    [
        # as on the bench, before the numbers: load, block and slipped top belong together
        ("twelve-string-cracks", 3, {"top-sheared", "neck-block-loose", "string-overload",
                                     "transverse-bar-loose", "top-crack-tongue"}),
        ("nylon-dry-room", 1, {"climate-dry"}),
        ("childs-wrong-strings", 3, {"wrong-string-type", "bridge-lifting", "roller-bitten"}),
    ],
)  # fmt: skip
def test_the_leading_faults(
    demo: Callable[[str], Examined], name: str, number: int, among: set[str]
) -> None:
    assert set(leading(demo(name), number)) <= among


@pytest.mark.parametrize(
    ("name", "answer", "because"),
    [
        ("twelve-string-cracks", "no", {"top-sheared", "neck-block-loose"}),
        ("nylon-dry-room", "yes", set[str]()),
        ("childs-wrong-strings", "no", {"wrong-string-type", "bridge-lifting"}),
    ],
)
def test_whether_it_may_be_strung(
    demo: Callable[[str], Examined], name: str, answer: str, because: set[str]
) -> None:
    may = demo(name).may_string
    assert may.answer == answer
    assert because <= set(may.because)


def test_a_dry_room_calls_for_air_and_no_work(demo: Callable[[str], Examined]) -> None:
    examined = demo("nylon-dry-room")
    report = build(examined)
    offered = {work.name for offer in report.plan.offers for work in offer.works}
    works = [one for one in examined.checklist.remedies.values() if one.name in offered]
    assert works
    for work in works:
        assert "climate-dry" in {item.fault for item in work.fixes}, work.id
        assert work.reversible, work.id
        assert work.hours.high < 1.0, work.id
    assert [matter.plain for matter in report.first_page.matters] == ["The guitar has dried out."]


def test_fret_ends_felt_in_a_dry_room_are_not_called_sharp(
    demo: Callable[[str], Examined],
) -> None:
    chance = {cause.id: cause.probability for cause in demo("nylon-dry-room").causes}
    assert chance["ends-proud-while-dry"] > 0.8
    assert chance["fret-ends-sharp"] < 0.2


def test_steel_comes_off_the_childs_guitar_first(demo: Callable[[str], Examined]) -> None:
    examined = demo("childs-wrong-strings")
    first = next(offer for offer in build(examined).plan.offers if offer.works)
    assert first.works[0].name == examined.checklist.remedies["steel-off-now"].name


def test_the_slipped_top_is_not_drawn_back_before_its_block(
    demo: Callable[[str], Examined],
) -> None:
    examined = demo("twelve-string-cracks")
    works = [work.name for offer in build(examined).plan.offers for work in offer.works]
    remedies = examined.checklist.remedies
    block, top = remedies["block-reglue"].name, remedies["shear-repair"].name
    assert works.index(block) < works.index(top)
