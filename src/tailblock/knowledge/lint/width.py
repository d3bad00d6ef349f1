"""A check links to at most 8 faults and symptoms a side, 10 in all.

Counted as the network counts: for every value of the traits that are always known, with those that
may be unknown left open. More is slow and says little: put a symptom between.

Passes:

    faults: [{id: f1}, {id: f2}]
    checks:
      - id: look
        shows: [{fault: f1, at_least: {yes: often}}, {fault: f2, at_least: {yes: often}}]

Fails:

    faults:
      [{id: f1}, {id: f2}, {id: f3}, {id: f4}, {id: f5}, {id: f6}, {id: f7}, {id: f8}, {id: f9}]
    checks:
      - id: look
        shows:
          - {fault: f1, at_least: {yes: often}}
          - {fault: f2, at_least: {yes: often}}
          - {fault: f3, at_least: {yes: often}}
          - {fault: f4, at_least: {yes: often}}
          - {fault: f5, at_least: {yes: often}}
          - {fault: f6, at_least: {yes: often}}
          - {fault: f7, at_least: {yes: often}}
          - {fault: f8, at_least: {yes: often}}
          - {fault: f9, at_least: {yes: often}}
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tailblock.knowledge.levels import shown
from tailblock.knowledge.lint.profiles import named, spelled, worlds
from tailblock.knowledge.lint.walk import Spot, found
from tailblock.knowledge.traits import applies, share

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from tailblock.errors import Problem
    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Check, Shows

MOST_A_SIDE = 8
MOST_IN_ALL = 10


def find(checklist: Checklist) -> Iterator[Problem]:
    """Yield an error for each check that is too wide, for the traits that make it widest."""
    for check in checklist.checks.values():
        if len({link.target for link in check.shows}) <= MOST_A_SIDE:
            continue
        traits = [check.applies_when, *(link.when for link in check.shows)]
        nodes = [node for node in checklist.nodes() if node.id in {s.target for s in check.shows}]
        traits += [node.applies_when for node in nodes]
        counts = [(_width(checklist, check, w), w) for w in worlds(checklist, named(traits))]
        (widest, in_all), world = max(counts, key=lambda count: count[0])
        if widest > MOST_A_SIDE or in_all > MOST_IN_ALL:
            message = f"{widest} linked nodes on one side, {in_all} in all{spelled(world)}"
            mend = f"at most {MOST_A_SIDE} and {MOST_IN_ALL}: put a symptom between"
            yield found(checklist, "width", Spot("check", check.id, ("shows",)), message, mend)


def _width(checklist: Checklist, check: Check, world: Mapping[str, str]) -> tuple[int, int]:
    """Return how many nodes link to the wider side, and to both."""
    if not applies(check, world, checklist):
        return 0, 0
    low: set[str] = set()
    high: set[str] = set()
    for link in check.shows:
        if _holds(checklist, link, world):
            chances = shown(check, link)
            low |= {link.target} if any(chances.low) else set()
            high |= {link.target} if any(chances.high) else set()
    return max(len(low), len(high)), len(low | high)


def _holds(checklist: Checklist, link: Shows, world: Mapping[str, str]) -> bool:
    """Return whether a link and what it names apply; a dangling one does not."""
    if link.target not in checklist.faults and link.target not in checklist.symptoms:
        return False
    node = checklist.fault_or_symptom(link.target)
    return share(link.when, world, checklist) > 0 and applies(node, world, checklist)
