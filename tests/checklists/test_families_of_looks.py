"""Several looks at one place fail together: only an independent check clears a danger further.

A gap that is hidden from the feeler (filled with dirt, pressed shut) is hidden from the lamp as
well. So the looks of a family share a hidden symptom: after the first careful look a second and a
third say little, and all of them together never say more than the symptom itself is worth. A check
that puts the same place under another load, or sees another effect, still says what it is worth.
"""

from __future__ import annotations

from math import log10
from typing import TYPE_CHECKING, NamedTuple

import pytest

from bench import PLAIN, bench

if TYPE_CHECKING:
    from collections.abc import Iterable

    from tailblock.knowledge.checklist import Checklist


class Family(NamedTuple):
    """The looks at the place of a fault with their ordinary answers, best first, and another."""

    fault: str
    traits: dict[str, str]
    symptom: str
    looks: list[dict[str, str]]
    independent: dict[str, str]


FAMILIES = [
    Family(
        "bridge-lifting",
        {"climate-history": "hot-car"},
        "bridge-edge-gap",
        # feeler and lamp go round the edge together: one careful look takes both
        [
            {"bridge-feeler": "0 mm @ slack", "bridge-light": "solid"},
            {"bridge-squeeze": "still @ slack"},
            {"bridge-wing": "down @ slack"},
        ],
        {"bridge-move": "0 mm"},
    ),
    Family(
        "brace-loose-main",
        {"climate-history": "hot-car"},
        "main-brace-gap",
        [
            {"brace-film": "0 mm @ off"},
            {"brace-hand": "solid @ off"},
            {"brace-mirror": "tight @ off"},
        ],
        {"ridge-light": "smooth"},
    ),
    Family(
        "block-back-loose",
        {"bracing": "ladder", "age": "over-80"},
        "block-gap",
        [
            {"block-mirror": "sound @ off"},
            {"heel-back-seam": "closed"},
            {"inside-camera": "as-read @ off"},
        ],
        {"block-back-load": "same @ tone-down"},
    ),
    Family(
        "bridge-split-pins",
        {"bracing": "ladder", "age": "over-80"},
        "crack-at-pins",
        [
            {"bridge-crack-look": "none @ off"},
            {"pin-holes": "round @ off"},
            {"plate-crack": "none @ off"},
        ],
        {"bridge-crack-load": "closed"},
    ),
    Family(
        "neck-joint-loose",
        {"age": "over-40"},
        "heel-gap",
        [{"heel-feeler": "none"}, {"heel-look": "none"}, {"heel-cap-look": "tight"}],
        {"heel-rock": "solid"},
    ),
]


def together(looks: Iterable[dict[str, str]]) -> dict[str, str]:
    """Return the readings of several looks as those of one visit."""
    return {check: answer for look in looks for check, answer in look.items()}


@pytest.fixture(params=FAMILIES, ids=lambda family: family.fault)
def family(request: pytest.FixtureRequest) -> Family:
    found: Family = request.param
    return found


def test_a_second_and_a_third_look_clear_far_less_than_one_independent_check(
    family: Family, flat_top: Checklist
) -> None:
    traits = {**PLAIN, **family.traits}
    weights = [
        bench(flat_top, traits, together(family.looks[:n])).weight(family.fault) for n in (1, 2, 3)
    ]
    once = {**family.looks[0], **family.independent}
    independent = bench(flat_top, traits, once).weight(family.fault) - weights[0]
    second, third = weights[1] - weights[0], weights[2] - weights[1]
    assert weights[0] < -6.0  # the first careful look is worth taking
    assert independent < -3.5  # twice and more against it
    assert abs(second) < 0.45 * abs(independent)
    assert abs(third) < 0.45 * abs(independent)


def test_all_looks_together_say_no_more_than_the_symptom_is_worth(
    family: Family, flat_top: Checklist
) -> None:
    (strength,) = (
        cause.strength
        for cause in flat_top.symptoms[family.symptom].caused_by
        if cause.fault == family.fault
    )
    said = bench(flat_top, {**PLAIN, **family.traits}, together(family.looks))
    most = 10 * log10(1 - strength)
    # A little more, because what is absent beside it would have been its cause.
    assert most - 1.5 < said.weight(family.fault) < 0.6 * most


def test_the_independent_check_still_speaks_when_all_looks_are_in(
    family: Family, flat_top: Checklist
) -> None:
    traits = {**PLAIN, **family.traits}
    looks = together(family.looks)
    looked = bench(flat_top, traits, looks)
    both = bench(flat_top, traits, {**looks, **family.independent})
    assert both.weight(family.fault) - looked.weight(family.fault) < -3.5
