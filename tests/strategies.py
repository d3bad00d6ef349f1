"""Hypothesis strategies that make small networks and evidence of every form the engine accepts."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from hypothesis import strategies as st

from tailblock.network.arrays import Evidence, Finding, Network, Side

if TYPE_CHECKING:
    from collections.abc import Callable

CHANCES = (0.01, 0.03, 0.1, 0.3, 0.6, 0.8, 0.95, 0.999)


@st.composite
def sides(draw: Callable[..., object], nodes: int, top: int) -> Side:
    chances = st.lists(st.sampled_from(CHANCES), min_size=top, max_size=top)
    count = st.integers(0, min(nodes, 6)) if top else st.just(0)
    size = int(draw(count))  # type: ignore[call-overload]
    parents = draw(
        st.lists(st.integers(0, nodes - 1), min_size=size, max_size=size, unique=True)
    )

    def cumulative() -> list[float]:
        at_least: list[float] = draw(chances)  # type: ignore[assignment]
        return [1.0 - chance for chance in sorted(at_least, reverse=True)] + [1.0]

    rows = [cumulative() for _ in range(size)]
    ordered = tuple(sorted(parents))  # type: ignore[call-overload]
    return Side(ordered, np.array(rows).reshape(size, top + 1), np.array(cumulative()))


@st.composite
def findings(draw: Callable[..., object], nodes: int) -> Finding:
    low, high = draw(  # type: ignore[misc]
        st.sampled_from([(0, 1), (0, 2), (0, 3), (1, 0), (3, 0), (1, 1), (2, 2), (1, 3), (2, 1)])
    )
    return Finding(draw(sides(nodes, low)), draw(sides(nodes, high)))  # type: ignore[arg-type]


@st.composite
def networks(
    draw: Callable[..., object], most_nodes: int = 9, most_findings: int = 6
) -> Network:
    nodes = int(draw(st.integers(1, most_nodes)))  # type: ignore[call-overload]
    alone = draw(st.lists(st.sampled_from(CHANCES), min_size=nodes, max_size=nodes))
    parents = []
    strengths = []
    for node in range(nodes):
        few = st.lists(st.integers(0, node - 1), max_size=6, unique=True) if node else st.just([])
        causes = tuple(sorted(draw(few)))  # type: ignore[call-overload]
        parents.append(causes)
        size = len(causes)
        strength = draw(st.lists(st.sampled_from(CHANCES), min_size=size, max_size=size))
        strengths.append(tuple(strength))  # type: ignore[arg-type]
    count = int(draw(st.integers(1, most_findings)))  # type: ignore[call-overload]
    made = tuple(draw(findings(nodes)) for _ in range(count))
    return Network(np.array(alone), tuple(parents), tuple(strengths), made)  # type: ignore[arg-type]


@st.composite
def likelihoods(draw: Callable[..., object], outcomes: int) -> tuple[float, ...]:
    kind = draw(st.sampled_from(["one", "two", "at most", "any"]))
    at = int(draw(st.integers(0, outcomes - 1)))  # type: ignore[call-overload]
    row = [0.0] * outcomes
    if kind == "any":
        some = st.floats(0.001, 1.0)
        row = draw(st.lists(some, min_size=outcomes, max_size=outcomes))  # type: ignore[assignment]
    elif kind == "at most":
        row[: at + 1] = [1.0] * (at + 1)
    else:
        row[at] = 1.0
        if kind == "two":
            row[max(0, at - 1)] = 0.4
    return tuple(row)


@st.composite
def known(draw: Callable[..., object], network: Network) -> Evidence:
    read = draw(st.sets(st.integers(0, len(network.findings) - 1)))
    soft = {k: draw(likelihoods(network.findings[k].outcomes)) for k in sorted(read)}  # type: ignore[call-overload]
    seen = draw(st.dictionaries(st.integers(0, len(network) - 1), st.booleans(), max_size=2))
    return Evidence(soft, seen)  # type: ignore[arg-type]


@st.composite
def questions(draw: Callable[..., object], most_nodes: int = 9) -> tuple[Network, Evidence]:
    network: Network = draw(networks(most_nodes))  # type: ignore[assignment]
    return network, draw(known(network))  # type: ignore[return-value]
