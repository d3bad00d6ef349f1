"""Cards against what they replace: the full advice, and the best order that knows no answer.

Minutes and doubt of cards and of fixed orders are exact expectations over the network. The fixed
order takes the checks of the card; each place gets what then leaves least doubt for the minutes,
first as many as the card is deep, then on until as little doubt is left as the card leaves. The
advice is followed on drawn instruments with the same complaint, its opening list included, until
their mean doubt is as little.

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
from tailblock.practice.paired import interval, redrawn
from tailblock.practice.policies import advised, inspect
from tailblock.practice.simulated import draw_instruments

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from tailblock.knowledge.checklist import Checklist
    from tailblock.network.arrays import FloatArray
    from tailblock.practice.card import Card
    from tailblock.practice.card_making import Choose
    from tailblock.practice.card_options import Option
    from tailblock.practice.known import Known
    from tailblock.practice.simulated import Hidden

GRID = np.arange(0.0, 60.5, 0.5)  # minutes
COMPLAINTS = ("c-action-rose-suddenly", "c-crack-top", "c-buzz-low-frets")


def in_order(names: Sequence[str]) -> Choose:
    """Return a chooser that goes down a list, whatever was answered."""

    def choose(options: Sequence[Option], done: Sequence[str]) -> Option | None:
        by_check = {option.check: option for option in options}
        return next((by_check[n] for n in names if n in by_check and n not in done), None)

    return choose


def rate(card: Card) -> float:
    return (card.bits - card.open_bits) / card.minutes if card.minutes else 0.0


def fixed_orders(card: Card, longest: int) -> Iterator[tuple[tuple[str, ...], Card]]:
    """Yield the best order of the card's checks, place by place, with what comes of it so far."""
    order: tuple[str, ...] = ()
    while len(order) < min(longest, len(card.checks)):
        made = {
            name: card_of_complaint(
                card.checklist, card.about, len(order) + 1, {}, in_order((*order, name))
            )
            for name in card.checks
            if name not in order
        }
        best = max(made, key=lambda name: rate(made[name]))
        order = (*order, best)
        yield order, made[best]


def with_complaint(card: Card) -> Iterator[Hidden]:
    levels = levels_of(card.checklist.checks[card.about])
    for hidden in draw_instruments(card.checklist, card.traits, range(5000)):
        if hidden.levels[card.about] != levels.ids[levels.normal]:
            yield hidden


def by_advice(card: Card, count: int) -> FloatArray:
    """Return the doubt [bits] that the advice leaves on each instrument, at the end of `GRID`."""
    engine = Engine(card.checklist, card.traits, next(iter(card.checklist.stages)))
    faults = [
        fault for fault in engine.shows[card.about] if card.checklist.faults[fault].kind != "event"
    ]
    return np.array(
        [_followed(engine, hidden, card, faults) for hidden in islice(with_complaint(card), count)]
    )


def _followed(engine: Engine, hidden: Hidden, card: Card, faults: list[str]) -> FloatArray:
    bench = Bench(engine, hidden)
    bench.do(card.about)
    bench.minutes = 0.0
    doubt = np.full(len(GRID), _doubt(card.checklist, bench.known, faults))
    for _ in inspect(bench, advised, GRID[-1]):
        doubt[bench.minutes <= GRID] = _doubt(card.checklist, bench.known, faults)
    return doubt


def as_near(doubt: FloatArray, bits: float) -> tuple[float, float, float]:
    """Return the minutes until the mean doubt is as little, with a 95 % interval by bootstrap.

    Infinite if it is not within `GRID`.
    """
    means = np.vstack([doubt.mean(0), doubt[redrawn(len(doubt))].mean(1)]) <= bits
    minutes = np.where(means.any(1), GRID[means.argmax(1)], np.inf)
    return float(minutes[0]), *interval(minutes[1:])


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
    print(f"{checklist.id} {checklist.digest[:16]}, depth {given.depth}")
    for complaint in given.complaints:
        card = card_of_complaint(checklist, complaint, given.depth, {})
        print(f"{complaint}: {card.bits:.2f} bits of doubt at first")
        print(f"  card   {card.minutes:.2f} min, {card.open_bits:.2f} bits left", flush=True)
        for order, fixed in fixed_orders(card, given.depth + 1):
            if len(order) >= given.depth:
                said = f"{fixed.minutes:.2f} min, {fixed.open_bits:.2f} left"
                print(f"  fixed  {said}: {', '.join(order)}", flush=True)
        doubt = by_advice(card, given.instruments)
        minutes, low, high = as_near(doubt, card.open_bits)
        print(
            f"  advice as near after {minutes:g} min ({low:g} to {high:g}), "
            f"{doubt[:, -1].mean():.2f} left after {GRID[-1]:g}; {len(doubt)} instruments",
            flush=True,
        )


if __name__ == "__main__":
    main()
