"""Cards: the tree is what the network says, and shorter than what it replaces."""

from __future__ import annotations

from dataclasses import replace
from io import BytesIO
from itertools import permutations
from typing import TYPE_CHECKING
from xml.etree import ElementTree as ET

import numpy as np
import pytest
from pypdf import PdfReader

from practice.test_self_consistency import shop as shop_of_lamps
from tailblock.advice.gain import entropy
from tailblock.inspection.answers import NoSuchCheck
from tailblock.inspection.record import Visit
from tailblock.knowledge.graph import NotInTheChecklist
from tailblock.practice import card_making as cards
from tailblock.practice.bench import Engine
from tailblock.practice.card import Card, Step, Stop, steps
from tailblock.practice.card_making import (
    Choose,
    NotAComplaint,
    NothingInQuestion,
    card_of_complaint,
    card_of_part,
    usual_traits,
)
from tailblock.practice.card_markdown import to_markdown
from tailblock.practice.card_outline import LETTER
from tailblock.practice.card_pdf import to_pdf
from tailblock.practice.card_svg import to_svg
from tailblock.practice.days import DAY, NOWHERE

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from tailblock.knowledge.checklist import Checklist
    from tailblock.practice.card_options import Option

shop = shop_of_lamps
NOTHING_READ = Visit("arrival", DAY, NOWHERE)


def leaves(node: Step | Stop, reach: float = 1.0) -> Iterator[tuple[Stop, float]]:
    if isinstance(node, Stop):
        yield node, reach
        return
    for branch in node.branches:
        yield from leaves(branch.then, reach * branch.chance)


def in_order(names: Sequence[str]) -> Choose:
    """Return a chooser that knows no answer: the first of a list that has not been read."""

    def choose(options: Sequence[Option], done: Sequence[str]) -> Option | None:
        by_check = {option.check: option for option in options}
        left = (name for name in names if name not in done)
        return next((by_check[name] for name in left if name in by_check), None)

    return choose


@pytest.mark.parametrize("depth", [3, 5])
def test_chances_add_up_and_beliefs_come_back_to_where_they_began(
    depth: int, shop: Checklist, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(cards, "NAMED", 0.0)
    monkeypatch.setattr(cards, "RARE", 0.0)
    card = card_of_part(shop, "top", depth, {})
    for step in steps(card.root):
        assert sum(branch.chance for branch in step.branches) == pytest.approx(1.0)
    traits = usual_traits(shop, {})
    engine = Engine(shop, traits, "arrival")
    start = engine.known(NOTHING_READ).probability
    for fault in ("hump", "dome"):
        ends = sum(reach * dict(stop.standing)[fault] for stop, reach in leaves(card.root))
        assert ends == pytest.approx(start[fault], abs=1e-9)


def test_what_a_card_tells_is_what_its_doubt_falls_by(shop: Checklist) -> None:
    told: list[Option] = []

    def first(options: Sequence[Option], done: Sequence[str]) -> Option | None:
        told.extend(options if not done else ())
        return max(options, key=lambda option: option.rate, default=None)

    card = card_of_part(shop, "top", 1, {}, first)
    best = max(told, key=lambda option: option.rate)
    assert isinstance(card.root, Step)
    assert card.root.check == best.check
    assert card.bits - card.open_bits == pytest.approx(best.bits)
    assert card.minutes == best.minutes + best.way.minutes
    prior = card_of_part(shop, "top", 1, {}, lambda *_: None)
    assert (prior.minutes, prior.bits) == (0.0, prior.open_bits)
    # hump weighs 1, the dome nothing; the heat is past
    engine = Engine(shop, usual_traits(shop, {}), "arrival")
    hump = engine.known(NOTHING_READ).probability["hump"]
    assert prior.bits == pytest.approx(float(entropy(np.array([hump]))[0]))


def test_expected_minutes_against_the_whole_advice_and_the_best_fixed_order(
    bench: Checklist,
) -> None:
    """A card is a cut-off advice: as fast as that, and no fixed order tells more for a minute."""

    def made(depth: int, choose: Choose = cards.by_rate) -> Card:
        return card_of_part(bench, "bridge", depth, {}, choose)

    card, whole = made(3), made(12)
    assert card.minutes <= whole.minutes
    assert card.open_bits >= whole.open_bits - 1e-12
    looks = ("edge-look", "ledge-look", "smell")
    fixed = [made(3, in_order(names)) for names in permutations(looks)]

    def rate(one: Card) -> float:
        return (one.bits - one.open_bits) / one.minutes if one.minutes else 0.0

    assert rate(card) >= max(map(rate, fixed)) - 1e-12
    near = [one.minutes for one in fixed if one.open_bits <= card.open_bits + 1e-9]
    assert all(card.minutes <= minutes + 1e-9 for minutes in near)


def test_a_complaint_is_where_the_card_begins(shop: Checklist) -> None:
    card = card_of_complaint(shop, "c-creak", 3, {})
    assert (card.about, card.title) == ("c-creak", "It creaks")
    assert "c-creak" not in card.checks
    assert card.bits > card_of_part(shop, "bridge", 3, {}).bits  # lifting is likelier now


def test_nothing_risky_stands_on_a_card_and_nothing_tightens_with_a_danger_open(
    bench: Checklist,
) -> None:
    bridge, neck = (card_of_part(bench, part, 5, {}) for part in ("bridge", "neck"))
    assert "edge-warm" not in bridge.checks
    assert "neck-load" not in neck.checks
    slack = {step.check for step in steps(neck.root) if step.setup["strings"] != "at-pitch"}
    assert "relief" not in slack


def test_a_likely_danger_at_pitch_means_slacken_once_and_nothing_for_pitch_behind_it(
    bench: Checklist,
) -> None:
    card = card_of_part(bench, "bridge", 3, {})
    assert isinstance(card.root, Step)
    dark, light = sorted(card.root.branches, key=lambda branch: branch.levels)
    assert (dark.slacken, light.slacken) == ((), ("bridge-lifting",))
    below = list(steps(light.then))
    assert not any(branch.slacken for step in below for branch in step.branches)
    assert "relief" not in {step.check for step in below}


def test_every_form_says_the_same(bench: Checklist) -> None:
    card = card_of_part(bench, "bridge", 3, {"bridge": "pinless"})
    root = ET.fromstring(to_svg(card))  # noqa: S314  (ours)
    drawn = "".join(root.itertext())
    written = to_markdown(card)
    (page,) = PdfReader(BytesIO(to_pdf(card))).pages
    printed = " ".join(page.extract_text().split())
    for text in (
        *(bench.checks[name].title for name in card.checks),
        "Bridge: what to look at, in which order",
        "For bridge: pinless.",
        "smell.",
    ):
        assert text in drawn
        assert text in written
        assert text in printed
    for form in (written, printed):
        assert "Slacken the strings now: bridge lifting." in form
    assert to_pdf(card) == to_pdf(card)
    assert (root.get("width"), root.get("height")) == ("190mm", "277mm")
    letter = ET.fromstring(to_svg(card, LETTER))  # noqa: S314  (ours)
    assert (letter.get("width"), letter.get("height")) == ("195.9mm", "259.4mm")


def test_a_card_too_long_for_readable_letters_goes_on_over_the_page(shop: Checklist) -> None:
    hump = shop.faults["hump"].model_copy(update={"name": "X hump " + "long " * 2500})
    card = card_of_part(replace(shop, faults={**shop.faults, "hump": hump}), "top", 3, {})
    pages = PdfReader(BytesIO(to_pdf(card))).pages
    assert len(pages) > 1
    assert "Stop: no more look is worth it." in pages[-1].extract_text().replace("\n", " ")


def test_traps_and_the_reason_of_the_order_are_quoted(bench: Checklist) -> None:
    trapped = bench.checks["edge-look"].model_copy(update={"trap": "Glue shines too."})
    stage = bench.stages["arrival"].model_copy(update={"why_this_order": "Breathe first."})
    other = replace(
        bench,
        checks={**bench.checks, "edge-look": trapped},
        stages={**bench.stages, "arrival": stage},
    )
    card = card_of_part(other, "bridge", 3, {})
    for text in (to_svg(card), to_markdown(card)):
        assert "Glue shines too." in text
        assert "Breathe first." in text


def test_what_no_card_can_be_about(shop: Checklist, bench: Checklist) -> None:
    with pytest.raises(NoSuchCheck):
        card_of_complaint(shop, "c-creek", 3, {})
    with pytest.raises(NotAComplaint, match="lamp: this is looked at on the bench"):
        card_of_complaint(shop, "lamp", 3, {})
    with pytest.raises(NotInTheChecklist):
        card_of_part(bench, "brigde", 3, {})
    with pytest.raises(NothingInQuestion):
        card_of_part(shop, "bridge", 3, {"bridge": "floating"})
