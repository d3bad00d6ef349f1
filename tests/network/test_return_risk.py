"""What brings repaired faults back: against an enumeration of everything that can happen.

The oracle runs through every state of the faults, of what the plan leaves of them and of what comes
back, straight from the definitions, and shares no code with the engine.
"""

from __future__ import annotations

import itertools
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from oracles.enumeration import enumerate_all
from tailblock.advice.weighing import Weigher
from tailblock.inference import Reasoner
from tailblock.knowledge.loader import load
from tailblock.network import Evidence, VisitSkeleton, compile_network
from tailblock.network.return_risk import extend

if TYPE_CHECKING:
    from tailblock.knowledge.checklist import Checklist

CHANCES = st.sampled_from([0.01, 0.1, 0.3, 0.6, 0.9])


@dataclass(frozen=True)
class Plan:
    """Faults f0, f1, ...: cause -> strength of each, its kind, what the remedy does to it."""

    causes: list[dict[int, float]]
    alone: list[float]
    kind: list[str]
    fixed: dict[int, float]
    left: dict[int, float]
    seen: dict[int, str]

    def yaml(self) -> str:
        lines = ["tailblock: 1", "id: p", "title: P", "version: 1.0.0",
                 "parts: [{id: body, name: Body}]",
                 "sources: [{id: m, kind: memory, citation: M, seen: from-memory}]",
                 "faults:"]  # fmt: skip
        for i, causes in enumerate(self.causes):
            links = ", ".join(f"{{fault: f{j}, strength: {s}}}" for j, s in causes.items())
            lines.append(
                f"  - {{id: f{i}, part: body, name: F, plain: P., alone: {self.alone[i]}, "
                f"kind: {self.kind[i]}, harm: serious, pace: months, under_tension: fine, "
                f"sources: [m], caused_by: [{links}]}}"
            )
        lines.append("checks:")
        lines.extend(
            f"  - {{id: c{i}, part: body, title: C, ask: A?, how: Look., minutes: 1, "
            "sources: [m], choices: [{level: no, text: N}, {level: yes, text: Y}], "
            f"otherwise: {{yes: 0.1}}, shows: [{{fault: f{i}, at_least: {{yes: 0.7}}}}]}}"
            for i in range(len(self.causes))
        )
        fixes = ", ".join(f"{{fault: f{i}, how_well: {h}}}" for i, h in self.fixed.items())
        leaves = ", ".join(f"{{fault: f{i}, chance: {c}}}" for i, c in self.left.items())
        lines.append(
            f"remedies: [{{id: r, part: body, name: R, plain: R., fixes: [{fixes}], "
            f"may_leave: [{leaves}], hours: {{low: 1, likely: 1, high: 1}}, reversible: true, "
            "sources: [m]}]"
        )
        return "\n".join(lines) + "\n"


@st.composite
def plans(draw: st.DrawFn) -> Plan:
    n = draw(st.integers(2, 4))
    causes = [
        {j: draw(CHANCES) for j in sorted(draw(st.sets(st.integers(0, i - 1))))} if i else {}
        for i in range(n)
    ]
    kinds = ["condition", "condition", "event"]
    kind = [draw(st.sampled_from(kinds)) for _ in range(n)]
    ours = [i for i in range(n) if kind[i] == "condition"]
    if not ours:
        kind[-1], ours = "condition", [n - 1]
    fixed = draw(st.dictionaries(st.sampled_from(ours), CHANCES, min_size=1))
    left = draw(st.dictionaries(st.sampled_from(ours), CHANCES, max_size=1))
    seen = draw(st.dictionaries(st.integers(0, n - 1), st.sampled_from(["no", "yes"])))
    return Plan(causes, [draw(CHANCES) for _ in range(n)], kind, fixed, left, seen)


def by_enumeration(plan: Plan, prior: dict[tuple[int, ...], float], fault: int,
                   gone: int | None) -> float:  # fmt: skip
    """Return E[B of `fault`], with G of the cause `gone` set to 0."""
    n = len(plan.causes)
    total = 0.0
    for before, weight in prior.items():
        for after in itertools.product((0, 1), repeat=n):
            passed = weight
            for i in range(n):
                absent = 1.0 - before[i] * (1.0 - plan.fixed.get(i, 0.0))
                absent *= 1.0 - plan.left.get(i, 0.0)
                passed *= absent if after[i] == 0 else 1.0 - absent
            for back in itertools.product((0, 1), repeat=n) if passed else ():
                chance = passed
                there = [int(after[j] or back[j]) if j != gone else 0 for j in range(n)]
                for i in range(n):
                    spared = 1.0
                    if i in plan.fixed:
                        for j, strength in plan.causes[i].items():
                            if plan.kind[j] != "event" and there[j]:
                                spared *= 1.0 - strength
                    chance *= spared if back[i] == 0 else 1.0 - spared
                total += chance * back[fault]
    return total


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> pytest.TempPathFactory:
    return tmp_path_factory


def read(plan: Plan, folder: pytest.TempPathFactory) -> Checklist:
    at = folder.mktemp("plan")
    (at / "checklist.yaml").write_text(plan.yaml(), encoding="utf-8")
    loaded = load(at)
    assert loaded.checklist is not None, "\n".join(map(str, loaded.problems))
    return loaded.checklist


@settings(max_examples=60)
@given(plan=plans())
def test_the_return_risk_and_its_shares_are_those_of_enumeration(
    folder: pytest.TempPathFactory, plan: Plan
) -> None:
    checklist = read(plan, folder)
    compiled = compile_network(checklist, {}, [VisitSkeleton("arrival", date(2031, 3, 2))])
    evidence = Evidence({
        compiled.index[f"c{i}", 0]: (1.0, 0.0) if said == "no" else (0.0, 1.0)
        for i, said in plan.seen.items()
    })  # fmt: skip
    every = enumerate_all(compiled.network, evidence)
    nodes = [compiled.node_of(f"f{i}") for i in range(len(plan.causes))]
    prior = {
        tuple(int(row[node]) for node in nodes): float(weight) / every.evidence
        for row, weight in zip(every.states, every.weight, strict=True)
    }
    bare = Reasoner(compiled.network, evidence).beliefs.probability
    after = extend(compiled, checklist, {}, ["r"])
    beliefs = Reasoner(after.network, evidence).beliefs.probability
    assert beliefs[: len(bare)] == pytest.approx(bare, abs=1e-12)
    spared = Weigher(compiled.network, evidence).none_acts(
        after.network, list(after.spared.values())
    )
    answered = set()
    for (fault, gone), chance in zip(after.spared, spared.tolist(), strict=True):
        cause = None if gone is None else int(gone[1:])
        expected = by_enumeration(plan, prior, int(fault[1:]), cause)
        assert 1.0 - chance == pytest.approx(expected, abs=1e-9)
        answered.add((int(fault[1:]), cause))
    assert answered == {(i, None) for i in plan.fixed} | {
        (i, j) for i in plan.fixed for j in plan.causes[i] if plan.kind[j] != "event"
    }


def test_a_worked_case_by_hand(tmp_path_factory: pytest.TempPathFactory) -> None:
    # a dry room (0.6) warps a bridge (0.5), a warp lifts it (0.8); only the lifting is reglued.
    # P(warped) = 0.1 alone or by the room: 1 - 0.9 (1 - 0.6 x 0.5) = 0.37; back: 0.37 x 0.8
    plan = Plan([{}, {0: 0.5}, {1: 0.8}], [0.6, 0.1, 0.1], ["condition"] * 3, {2: 0.9}, {}, {})
    checklist = read(plan, tmp_path_factory)
    compiled = compile_network(checklist, {}, [VisitSkeleton("arrival", date(2031, 3, 2))])
    after = extend(compiled, checklist, {}, ["r"])
    weigher = Weigher(compiled.network, Evidence())
    (spared,) = weigher.none_acts(after.network, [after.spared["f2", None]])
    assert 1.0 - spared == pytest.approx(0.37 * 0.8)
