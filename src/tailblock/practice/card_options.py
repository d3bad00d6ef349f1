"""What could stand at a place of a card.

In: what is known there, and the faults in question. Out: `Option`s: harmless looks at these faults,
each with its answers put together in two or three groups, cut where they tell most. Chances are
exact for the group, through the gauge.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from tailblock.advice.candidates import findings_of
from tailblock.advice.gain import entropy, information
from tailblock.knowledge.levels import levels_of

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from tailblock.advice.candidates import Candidate, Way
    from tailblock.inference.beliefs import Prediction
    from tailblock.knowledge.entries import Check
    from tailblock.network.arrays import FloatArray
    from tailblock.practice.bench import Engine
    from tailblock.practice.card import Group
    from tailblock.practice.known import Known


@dataclass(frozen=True, slots=True)
class Question:
    """The faults in question, and how much each matters (harm times pace)."""

    faults: tuple[str, ...]
    weights: FloatArray

    def open_bits(self, probability: Mapping[str, float]) -> float:
        """Return what is uncertain about them, harm-weighted [bits]."""
        chances = np.array([probability[fault] for fault in self.faults])
        return float(self.weights @ entropy(chances))


@dataclass(frozen=True, slots=True)
class Option:
    """A check that could stand at a place of the card, with its groups of levels.

    `bits`: what it tells about the faults in question, harm-weighted, as far as the groups tell it.
    `likely`: for each group the likelihood of each true level. `chances`: of each group.
    """

    check: str
    way: Way
    minutes: float
    bits: float
    groups: tuple[Group, ...]
    likely: tuple[FloatArray, ...]
    chances: tuple[float, ...]

    @property
    def rate(self) -> float:
        """Return bits a minute, the change of setup included."""
        return self.bits / (self.minutes + self.way.minutes)


def options(engine: Engine, known: Known, question: Question, *, slack: bool) -> list[Option]:
    """Return the harmless looks at the faults in question that could be next.

    `slack`: it is to be slackened, so that nothing is left that only pitch can show.
    """
    found = [one for one in known.found if _fits(engine, one, known, question)]
    found = [one for one in found if not (slack and _needs_pitch(one, known))]
    told = known.reasoner.predict(findings_of(engine.compiled, found))
    made = [
        _option(engine, one, prediction, known, question)
        for one, prediction in zip(found, told, strict=True)
    ]
    return [option for option in made if option.bits > 0.0]


def _fits(engine: Engine, one: Candidate, known: Known, question: Question) -> bool:
    way = _way(one, known)
    return (
        one.tells == one.check
        and way is not None
        and one.harmless
        and known.checklist.checks[one.check].asked == "bench"
        and not engine.shows[one.tells].isdisjoint(question.faults)
        and one.minutes + way.minutes > 0.0
    )


def _way(one: Candidate, known: Known) -> Way | None:
    """Return the way there: without more tension while a danger is open."""
    return one.calm_way if known.held else one.way


def _needs_pitch(one: Candidate, known: Known) -> bool:
    tension = known.checklist.setups.tension
    wanted = known.checklist.checks[one.check].setup.get(tension)
    ways = known.situation.map
    return bool(wanted) and all(ways.at_pitch({tension: state}) for state in wanted or ())


def _option(
    engine: Engine, one: Candidate, prediction: Prediction, known: Known, question: Question
) -> Option:
    check = known.checklist.checks[one.check]
    nodes = [engine.compiled.node_of(fault) for fault in question.faults]
    about = prediction.posterior[:, nodes]
    sure = np.eye(len(prediction.chance))
    gauge = engine.through_gauge.get(check.id, sure)
    best: tuple[float, tuple[Group, ...], FloatArray] | None = None
    for groups in _groupings(check):
        ids = levels_of(check).ids
        member = np.array([[float(level in group) for group in groups] for level in ids])
        mixed = gauge @ member
        bits = float(information(prediction.chance, about, mixed) @ question.weights)
        if best is None or bits > best[0]:
            best = (bits, groups, mixed)
    assert best is not None  # noqa: S101  every check has two levels at least
    bits, groups, mixed = best
    way = _way(one, known)
    assert way is not None  # noqa: S101  as `_fits` has seen
    chances = tuple((prediction.chance @ mixed).tolist())
    return Option(check.id, way, one.minutes, bits, groups, tuple(mixed.T), chances)


def _groupings(check: Check) -> Iterator[tuple[Group, ...]]:
    """Yield the ways in which answers can be put together, the level nearest to normal first.

    Two sides of normal are three groups; one side is cut in two at any place.
    """
    levels = levels_of(check)
    if levels.low and levels.high:
        normal = levels.ids[levels.normal]
        yield levels.low, (normal,), levels.high
        return
    for cut in range(1, len(levels.ids)):
        below, above = levels.ids[:cut], levels.ids[cut:]
        yield below[::-1] if levels.low else below, above
