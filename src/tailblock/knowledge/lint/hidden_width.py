"""Faults and symptoms hang together loosely enough for exact reasoning to be quick.

The width of the hidden graph (by the min-fill heuristic, on the moral graph of faults and symptoms
and their causes) is measured with all traits unknown, and for each value of the traits that decide
which of them apply. Above 12 answers become slow: leave out weak causes between distant parts.

Passes:

    faults: [{id: f1}, {id: f2, caused_by: [{fault: f1, strength: often}]}]

Fails:

    faults:
      - {id: f1}
      - {id: f2}
      - {id: f3}
      - {id: f4}
      - {id: f5}
      - {id: f6}
      - {id: f7}
      - {id: f8}
      - {id: f9}
      - {id: f10}
      - {id: f11}
      - {id: f12}
      - {id: f13}
      - id: wreck
        caused_by:
          - {fault: f1, strength: often}
          - {fault: f2, strength: often}
          - {fault: f3, strength: often}
          - {fault: f4, strength: often}
          - {fault: f5, strength: often}
          - {fault: f6, strength: often}
          - {fault: f7, strength: often}
          - {fault: f8, strength: often}
          - {fault: f9, strength: often}
          - {fault: f10, strength: often}
          - {fault: f11, strength: often}
          - {fault: f12, strength: often}
          - {fault: f13, strength: often}
"""

from __future__ import annotations

from itertools import combinations
from typing import TYPE_CHECKING

from tailblock.knowledge.entries import UNKNOWN
from tailblock.knowledge.lint.profiles import named, spelled
from tailblock.knowledge.lint.walk import Spot, found
from tailblock.knowledge.traits import share

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from tailblock.errors import Problem
    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Condition

WIDEST = 12
_Edges = frozenset[tuple[str, str]]


def find(checklist: Checklist) -> Iterator[Problem]:
    """Yield a warning for the traits that make the hidden graph widest, if it is too wide."""
    measured: dict[_Edges, int] = {}
    widest, worst = 0, dict[str, str]()
    for profile in _profiles(checklist):
        edges = _moral_edges(checklist, profile)
        if edges not in measured:
            measured[edges] = _width(edges)
        if measured[edges] > widest:
            widest, worst = measured[edges], profile
    if widest > WIDEST:
        message = f"the hidden graph has width {widest}{spelled(worst)}"
        mend = f"above {WIDEST} answers are slow: leave out weak causes between distant parts"
        spot = Spot("checklist", checklist.id)
        yield found(checklist, "hidden-width", spot, message, mend, severity="warning")


def _profiles(checklist: Checklist) -> Iterator[dict[str, str]]:
    """Yield no trait at all, then each value of each trait that decides what applies."""
    yield {}
    for name in named(node.applies_when for node in checklist.nodes()):
        trait = checklist.traits.get(name)
        for value in trait.values if trait else ():
            if value != UNKNOWN:
                yield {name: value}


def _moral_edges(checklist: Checklist, traits: Mapping[str, str]) -> _Edges:
    """Return cause to effect and cause to cause, for what may apply."""
    there = {
        node.id: node
        for node in checklist.nodes()
        if _may_apply(checklist, node.applies_when, traits)
    }
    edges: set[tuple[str, str]] = set()
    for node in there.values():
        together = {node.id} | {
            cause.fault
            for cause in node.caused_by
            if cause.fault in there and _may_apply(checklist, cause.when, traits)
        }
        edges.update(combinations(sorted(together), 2))
    return frozenset(edges)


def _may_apply(checklist: Checklist, condition: Condition, traits: Mapping[str, str]) -> bool:
    """Return whether a condition holds for some instrument with these traits.

    What is not given may have any value, also a trait that an inspection always knows.
    """
    return all(
        trait not in traits or share({trait: values}, traits, checklist) > 0
        for trait, values in condition.items()
    )


def _width(edges: _Edges) -> int:
    import networkx as nx  # noqa: PLC0415  (slow to import, and only this rule needs it)
    from networkx.algorithms.approximation import treewidth_min_fill_in  # noqa: PLC0415

    return int(treewidth_min_fill_in(nx.Graph(edges))[0])
