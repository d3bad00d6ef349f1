"""Ways to choose the next check: as the advice does, in a list's order, in random order.

In: a bench. Out: the check to do there, and the inspection that comes of choosing so.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

import numpy as np

from tailblock.practice.bench import Bench, Next

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from tailblock.knowledge.checklist import Checklist

Policy = Callable[[Bench], Next | None]  # None: nothing more to do


def advised(bench: Bench) -> Next | None:
    """Choose what the advice puts first."""
    return bench.advised()


def in_order(names: Sequence[str]) -> Policy:
    """Return a policy that goes down a list and leaves out what cannot be read now."""

    def first(bench: Bench) -> Next | None:
        return next((Next(name) for name in names if bench.known.offers(name)), None)

    return first


def file_order(checklist: Checklist) -> tuple[str, ...]:
    """Return all checks that somebody can answer, as the checklist lists them."""
    return tuple(name for name, check in checklist.checks.items() if check.derived is None)


def shuffled(checklist: Checklist, seed: int) -> tuple[str, ...]:
    """Return the same checks in random order."""
    names = file_order(checklist)
    return tuple(names[i] for i in np.random.default_rng(seed).permutation(len(names)))


def inspect(bench: Bench, policy: Policy, minutes: float) -> Iterator[Next]:
    """Do check after check; yield each that ends within the minutes, once it is read.

    The check that would end later is read, and not yielded: the bench then stands past the minutes.
    """
    while (chosen := policy(bench)) is not None:
        bench.do(chosen.check)
        if bench.minutes > minutes:
            return
        yield chosen
