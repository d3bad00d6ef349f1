"""Hypothesis strategies that make small networks and evidence of every form the engine accepts."""

from __future__ import annotations

import numpy as np
from hypothesis import strategies as st

from tailblock.network.arrays import Evidence, Finding, Network, Side

CHANCES = (0.01, 0.03, 0.1, 0.3, 0.6, 0.8, 0.95, 0.999)


@st.composite
def sides(draw: st.DrawFn, nodes: int, top: int) -> Side:
    chances = st.lists(st.sampled_from(CHANCES), min_size=top, max_size=top)
    count = st.integers(0, min(nodes, 6)) if top else st.just(0)
    size = draw(count)
    parents = draw(st.lists(st.integers(0, nodes - 1), min_size=size, max_size=size, unique=True))

    def cumulative() -> list[float]:
        at_least = draw(chances)
        return [1.0 - chance for chance in sorted(at_least, reverse=True)] + [1.0]

    rows = [cumulative() for _ in range(size)]
    ordered = tuple(sorted(parents))
    return Side(ordered, np.array(rows).reshape(size, top + 1), np.array(cumulative()))


@st.composite
def findings(draw: st.DrawFn, nodes: int) -> Finding:
    low, high = draw(
        st.sampled_from([(0, 1), (0, 2), (0, 3), (1, 0), (3, 0), (1, 1), (2, 2), (1, 3), (2, 1)])
    )
    return Finding(draw(sides(nodes, low)), draw(sides(nodes, high)))


@st.composite
def networks(draw: st.DrawFn, most_nodes: int = 9, most_findings: int = 6) -> Network:
    nodes = draw(st.integers(1, most_nodes))
    alone = draw(st.lists(st.sampled_from(CHANCES), min_size=nodes, max_size=nodes))
    parents: list[tuple[int, ...]] = []
    strengths: list[tuple[float, ...]] = []
    for node in range(nodes):
        others = st.integers(0, max(0, node - 1))
        few = st.lists(others, max_size=min(6, node), unique=True)
        causes = tuple(sorted(draw(few)))
        parents.append(causes)
        size = len(causes)
        strength = draw(st.lists(st.sampled_from(CHANCES), min_size=size, max_size=size))
        strengths.append(tuple(strength))
    count = draw(st.integers(1, most_findings))
    made = tuple(draw(findings(nodes)) for _ in range(count))
    return Network(np.array(alone), tuple(parents), tuple(strengths), made)


@st.composite
def likelihoods(draw: st.DrawFn, outcomes: int) -> tuple[float, ...]:
    kind = draw(st.sampled_from(["one", "two", "at most", "any"]))
    at = draw(st.integers(0, outcomes - 1))
    row = [0.0] * outcomes
    if kind == "any":
        some = st.floats(0.001, 1.0)
        row = draw(st.lists(some, min_size=outcomes, max_size=outcomes))
    elif kind == "at most":
        row[: at + 1] = [1.0] * (at + 1)
    else:
        row[at] = 1.0
        if kind == "two":
            row[max(0, at - 1)] = 0.4
    return tuple(row)


@st.composite
def known(draw: st.DrawFn, network: Network) -> Evidence:
    read = draw(st.sets(st.integers(0, len(network.findings) - 1)))
    soft = {k: draw(likelihoods(network.findings[k].outcomes)) for k in sorted(read)}
    seen = draw(st.dictionaries(st.integers(0, len(network) - 1), st.booleans(), max_size=2))
    return Evidence(soft, seen)


@st.composite
def questions(draw: st.DrawFn, most_nodes: int = 9) -> tuple[Network, Evidence]:
    network = draw(networks(most_nodes))
    return network, draw(known(network))
