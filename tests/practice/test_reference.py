"""What an apprentice is measured against: the advised order, followed as far as was asked."""

from __future__ import annotations

from typing import TYPE_CHECKING

from practice.test_drill import case_of
from practice.test_self_consistency import TRAITS
from practice.test_self_consistency import shop as shop_of_lamps
from tailblock.practice.bench import Engine
from tailblock.practice.drill import begun
from tailblock.practice.policies import advised, inspect
from tailblock.practice.reference import Reference

if TYPE_CHECKING:
    from tailblock.knowledge.checklist import Checklist

shop = shop_of_lamps


def test_it_is_the_advice_on_the_same_instrument(shop: Checklist) -> None:
    case = case_of(shop, ("lifting",), 3)
    engine = Engine(shop, TRAITS, "arrival")
    bench = begun(case, engine)
    course = [(0.0, bench.known.missing({"lifting"}), "", bench.known.causes)]
    course.extend(
        (bench.minutes, bench.known.missing({"lifting"}), chosen.check, bench.known.causes)
        for chosen in inspect(bench, advised, 30.0)
    )
    reference = Reference(case, engine)
    assert reference.within(0.1) == (course[0],)  # the shorter asked first changes nothing
    assert reference.within(30.0) == tuple(course)
    assert reference.after(course[1][0]) == course[1][1]
    assert reference.after(course[1][0] - 0.1) == course[0][1]


def test_when_it_was_as_near(shop: Checklist) -> None:
    reference = Reference(case_of(shop, ("lifting",), 3), Engine(shop, TRAITS, "arrival"))
    start, *_, last = course = reference.within(30.0)
    nearest = min(each.missing for each in course)
    assert reference.as_near(start.missing, 30.0) == 0.0
    assert reference.as_near(nearest - 0.01, 30.0) is None
    assert reference.as_near(nearest, 30.0) in {each.minutes for each in course}
    assert reference.as_near(nearest, 0.0) in {None, 0.0}
    assert last.minutes <= 30.0
