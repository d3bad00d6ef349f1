"""The goals of the engine, and whether figures meet them.

In: figures by name, each a list over networks. Out: `Verdict`s. `least` has to be reached by every
network where `every`, else by the median; `aim` by the median.
"""

from __future__ import annotations

import statistics
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence


@dataclass(frozen=True, slots=True)
class Goal:
    """`figure` is the name of what is measured; `times`: more is better, else milliseconds."""

    what: str
    figure: str
    least: float
    aim: float | None = None
    times: bool = False
    every: bool = False


_LEVEL = "pyAgrum, a propagation a level, times (a)+(b)+gains"
_AT_MOST = "pyAgrum, at most a level, times (a)+(b)+gains"
_LAZY = "pyAgrum lazy propagation, times (a)"
_KEPT = "pyAgrum lazy propagation, its engine kept, times (a), tree kept"
_ALL = "(a)+(b)+gains, tree kept, ms"

GOALS = (
    Goal("(a)+(b)+gains against pyAgrum, a propagation a level, S (every network)",
         f"S: {_LEVEL}", 150, 400, times=True, every=True),
    Goal("the same against pyAgrum with at most a level as soft evidence, S",
         f"S: {_AT_MOST}", 70, 200, times=True),
    Goal("(a)+(b)+gains against pyAgrum, a propagation a level, M",
         f"M: {_LEVEL}", 300, 1000, times=True),
    Goal("(a) against pyAgrum's lazy propagation, S", f"S: {_LAZY}", 1.5, 4, times=True),
    Goal("(a) against pyAgrum's lazy propagation, M", f"M: {_LAZY}", 1.5, 4, times=True),
    Goal("the same, the tree kept on both sides, S", f"S: {_KEPT}", 1.5, 4, times=True),
    Goal("the same, the tree kept on both sides, M", f"M: {_KEPT}", 1.5, 4, times=True),
    Goal("(a)+(b)+gains, S, warm", f"S: {_ALL}", 10, 3),
    Goal("(a)+(b)+gains, S+, warm", f"S+: {_ALL}", 20, 6),
    Goal("(a)+(b)+gains, M, warm", f"M: {_ALL}", 80, 30),
    Goal("(a)+(b)+gains, L, warm", f"L: {_ALL}", 400, 150),
    Goal("flat-top, 40 readings: (a)+(b)+gains+weights of evidence, warm",
         "flat-top: (a)+(b)+gains+weights of evidence, tree kept, ms", 30, 10),
    Goal("flat-top: best explanation", "flat-top: best explanation, ms", 1),
    Goal("flat-top: ten best explanations", "flat-top: ten best, ms", 60, 20),
    Goal("flat-top: 200 jittered networks, tables included",
         "flat-top: 200 jittered networks, ms", 30, 10),
    Goal("flat-top: compiled from YAML in a new process, nothing kept",
         "flat-top: compiled, read from YAML, ms", 500, 200),
    Goal("the same with what an earlier command kept, its files verified",
         "flat-top: compiled, kept, ms", 500, 200),
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Verdict:
    """A goal with what was measured; `met` is `aim`, `goal` or `not met`."""

    goal: Goal
    measured: float
    met: str


def judge(figures: Mapping[str, Sequence[float]]) -> tuple[Verdict, ...]:
    """Return a verdict for every goal whose figure was taken."""
    return tuple(_judge(goal, figures[goal.figure]) for goal in GOALS if goal.figure in figures)


def _judge(goal: Goal, values: Sequence[float]) -> Verdict:
    middle = statistics.median(values)
    worst = min(values) if goal.times else max(values)

    def reached(value: float, wanted: float) -> bool:
        return value >= wanted if goal.times else value <= wanted

    met = "not met"
    if reached(worst if goal.every else middle, goal.least):
        met = "aim" if goal.aim is not None and reached(middle, goal.aim) else "goal"
    return Verdict(goal, middle, met)
