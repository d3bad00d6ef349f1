"""The page docs/benchmarks.md from a run's figures, and from nothing else."""

from __future__ import annotations

import statistics
from dataclasses import dataclass
from typing import TYPE_CHECKING

from benchmarks.goals import judge
from benchmarks.growth import SERIES
from benchmarks.made import SIZES

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

MET = {"aim": "aim met", "goal": "met", "not met": "**not met**"}


@dataclass(frozen=True, slots=True)
class Run:
    """One run: where and when, the figures by name, the rows of each growth series."""

    machine: Mapping[str, str]
    networks: int
    figures: Mapping[str, Sequence[float]]
    growth: Mapping[str, Sequence[Sequence[float]]]


def write(run: Run) -> str:
    """Return the page as Markdown."""
    parts = [_HEAD, _machine(run), "## Goals\n", _goals(run), _HOW, "## All figures\n"]
    parts += [_sizes(run), _figures(run), "## Growth\n", _growth(run)]
    return "\n".join(parts).rstrip() + "\n"


_HEAD = """# Benchmarks

Written by `.ci/benchmarks` from one run on one machine; the figures stand in
[benchmarks.json](benchmarks.json). Do not edit: run it again. (a) is the posterior of every fault;
(b) is for every unread finding the chance of each level and the posterior of every fault given
each level; gains are the bits that reading it is expected to tell.
"""

_HOW = """
## How it was measured

One thread. Both sides get the same networks and evidence, built before the clock starts, and begin
from entered evidence: this engine grows its tree within the time, as pyAgrum does. The product
keeps the trees that it needed last, since a reading that only rules out, and what was seen, changes
none: figures that say so, the warm ones, are of a second question over the same tree, and beside
them the library keeps its engine and gets the evidence anew. What depends on the network alone (how
a family is divorced, what can be asked of a finding) is made with it, before the clock. Answers are
compared before a time counts: posteriors, chances of levels, joint chances of level and fault, and
gains agree to 1e-8, or the run fails. A time of this engine, and of (a) on the other side, is the
best of some runs; the libraries' (b), which takes seconds, runs once. Each figure is then the
median over the networks, beside the least and the most.

The first library has no call for (b). It gets one propagation a level of each finding, with only
the faults as targets; or, the cheaper way, one a level but the last with "at most this level" as
soft evidence, from which the levels follow by subtraction (two-sided findings by level); for M
the levels of every eighth unread finding are timed, the others taken by proportion. The second
library, pgmpy, answers (a) by variable elimination, one query a fault, where that is
feasible at all (S and S+).

Networks of the sizes S to L are made up, in the product's shape; nothing in them is about
instruments. For the flat-top, traits are drawn by their shares, an instrument from the checklist's
own network, and 40 answers through their gauges; best explanations are over the twelve faults that
these raise most. Memory is the most that one run holds beyond what was there (tracemalloc), and
for a new process the most it ever held.
"""


def _machine(run: Run) -> str:
    rows = "\n".join(f"| {name} | {value} |" for name, value in run.machine.items())
    return f"| where and when | |\n| --- | --- |\n{rows}\n| networks a figure | {run.networks} |\n"


def _goals(run: Run) -> str:
    lines = ["| what | goal | aim | measured | |", "| --- | --- | --- | --- | --- |"]
    for verdict in judge(run.figures):
        goal = verdict.goal
        unit = " times" if goal.times else " ms"
        aim = "" if goal.aim is None else f"{goal.aim:g}{unit}"
        measured = f"{_number(verdict.measured)}{unit}"
        lines.append(
            f"| {goal.what} | {goal.least:g}{unit} | {aim} | {measured} | {MET[verdict.met]} |"
        )
    return "\n".join(lines) + "\n"


def _sizes(run: Run) -> str:
    named = [
        f"{size.name} {size.faults} faults, {size.findings:,} findings, {size.readings} readings"
        for size in SIZES
        if any(name.startswith(f"{size.name}:") for name in run.figures)
    ]
    return "; ".join(named) + ".\n"


def _figures(run: Run) -> str:
    lines = ["| figure | least | median | most |", "| --- | --- | --- | --- |"]
    for name, values in run.figures.items():
        spread = (min(values), statistics.median(values), max(values))
        lines.append(f"| {name} | {' | '.join(map(_number, spread))} |")
    return "\n".join(lines) + "\n"


def _growth(run: Run) -> str:
    parts = []
    for name, rows in run.growth.items():
        parts += [
            f"![Time against the number of {name}](pictures/benchmarks-{name}.svg)\n",
            f"| {name} ({SERIES[name].beside}) | (a), ms | (a)+(b)+gains, ms |",
            "| --- | --- | --- |",
            *(f"| {count:g} | {_number(a)} | {_number(b)} |" for count, a, b in rows),
            "",
        ]
    return "\n".join(parts)


def _number(value: float) -> str:
    """Return three significant digits, thousands set apart."""
    return f"{float(f'{value:.3g}'):,.10g}"
