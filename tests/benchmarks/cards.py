"""Cards against what they replace: the full advice, and the best order that knows no answer.

Minutes and doubt of cards and of fixed orders are exact expectations over the network. The fixed
order takes the checks of the card; each place gets what then leaves least doubt for the minutes.
The advice is followed on drawn instruments with the same complaint, for as many minutes.

OPENBLAS_NUM_THREADS=1 PYTHONPATH=tests .venv/bin/python \\
    tests/benchmarks/cards.py --depth 3 --instruments 12
"""

from __future__ import annotations

import argparse
from itertools import islice
from typing import TYPE_CHECKING

import numpy as np

from benchmarks.self_consistency import opened
from tailblock.advice.gain import entropy
from tailblock.advice.ranking import weights
from tailblock.knowledge.levels import levels_of
from tailblock.practice.bench import Bench, Engine
from tailblock.practice.card_making import card_of_complaint
from tailblock.practice.consistency_table import difference
from tailblock.practice.policies import advised, inspect
from tailblock.practice.simulated import draw_instruments

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from tailblock.knowledge.checklist import Checklist
    from tailblock.practice.card import Card
    from tailblock.practice.card_making import Choose
    from tailblock.practice.card_options import Option
    from tailblock.practice.known import Known
    from tailblock.practice.simulated import Hidden

COMPLAINTS = ("c-action-rose-suddenly", "c-crack-top", "c-buzz-low-frets")


def in_order(names: Sequence[str]) -> Choose:
    """Return a chooser that goes down a list, whatever was answered."""

    def choose(options: Sequence[Option], done: Sequence[str]) -> Option | None:
        by_check = {option.check: option for option in options}
        return next((by_check[n] for n in names if n in by_check and n not in done), None)

    return choose


def rate(card: Card) -> float:
    return (card.bits - card.open_bits) / card.minutes if card.minutes else 0.0


def best_fixed(card: Card, depth: int) -> tuple[tuple[str, ...], Card]:
    """Return the best order of the card's checks, place by place."""
    order: tuple[str, ...] = ()
    found = card
    while len(order) < min(depth, len(card.checks)):
        made = {
            name: card_of_complaint(
                card.checklist, card.about, len(order) + 1, {}, in_order((*order, name))
            )
            for name in card.checks
            if name not in order
        }
        best = max(made, key=lambda name: rate(made[name]))
        order, found = (*order, best), made[best]
    return order, found


def with_complaint(card: Card) -> Iterator[Hidden]:
    levels = levels_of(card.checklist.checks[card.about])
    for hidden in draw_instruments(card.checklist, card.traits, range(5000)):
        if hidden.levels[card.about] != levels.ids[levels.normal]:
            yield hidden


def doubt_by_advice(card: Card, count: int) -> list[float]:
    """Return how much doubt [bits] the advice leaves after the minutes of the card."""
    engine = Engine(card.checklist, card.traits, next(iter(card.checklist.stages)))
    faults = [
        fault for fault in engine.shows[card.about] if card.checklist.faults[fault].kind != "event"
    ]
    return [
        _followed(engine, hidden, card, faults) for hidden in islice(with_complaint(card), count)
    ]


def _followed(engine: Engine, hidden: Hidden, card: Card, faults: list[str]) -> float:
    bench = Bench(engine, hidden)
    bench.do(card.about)
    bench.minutes = 0.0
    left = _doubt(card.checklist, bench.known, faults)
    for _ in inspect(bench, advised, card.minutes):
        left = _doubt(card.checklist, bench.known, faults)
    return left


def _doubt(checklist: Checklist, known: Known, faults: list[str]) -> float:
    weighs = np.array([weights(checklist)[fault] for fault in faults])
    return float(weighs @ entropy(np.array([known.probability[fault] for fault in faults])))


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--checklist", default="flat-top")
    parser.add_argument("--complaints", nargs="*", default=list(COMPLAINTS))
    parser.add_argument("--depth", type=int, default=3)
    parser.add_argument("--instruments", type=int, default=12)
    given = parser.parse_args()
    checklist = opened(given.checklist)
    for complaint in given.complaints:
        card = card_of_complaint(checklist, complaint, given.depth, {})
        order, fixed = best_fixed(card, given.depth)
        ours = doubt_by_advice(card, given.instruments)
        advice = difference(ours, [0.0] * len(ours))
        print(f"{complaint}: {card.bits:.2f} bits of doubt at first")
        print(f"  card   {card.minutes:.2f} min, {card.open_bits:.2f} bits left")
        print(f"  fixed  {fixed.minutes:.2f} min, {fixed.open_bits:.2f} left: {', '.join(order)}")
        print(
            f"  advice {card.minutes:.2f} min, {advice.mean:.2f} left ({advice.low:.2f} to "
            f"{advice.high:.2f}), {len(ours)} instruments, its opening list included",
            flush=True,
        )


if __name__ == "__main__":
    main()
