"""Which chances of a checklist stand behind each number of a network."""

from __future__ import annotations

from datetime import date
from math import prod

import pytest

from demos import shipped
from tailblock.inference.counts import numbers_of
from tailblock.network import VisitSkeleton, compile_network
from tailblock.network.written import Mixture, Written, value_of, written_in

DAY = date(2031, 3, 2)
FLAT_TOP = shipped("flat-top")
PIN = {"strings": "steel", "bridge": "pin"}


def made_of(mixture: Mixture, *, link: bool) -> float:
    if link:
        return 1.0 - prod(1.0 - w * value_of(one, FLAT_TOP) for one, w in mixture)
    return sum(weight * value_of(one, FLAT_TOP) for one, weight in mixture)


@pytest.mark.parametrize(
    "traits",
    [
        PIN,
        {**PIN, "bracing": "ladder", "age": "over-40", "fell": "yes", "build": "light"},
        {**PIN, "climate-history": "hot-car", "age": "over-80", "prior-bridge": "yes"},
    ],
    ids=["hardly anything known", "an old ladder-braced one", "a hot car"],
)
def test_the_written_chances_make_up_every_number_of_a_first_visit(traits: dict[str, str]) -> None:
    compiled = compile_network(FLAT_TOP, traits, [VisitSkeleton("arrival", DAY)])
    mixtures = written_in(compiled, FLAT_TOP, traits)
    numbers = numbers_of(compiled.network)
    nodes = len(compiled.network)
    made = [made_of(m, link=at >= nodes) for at, m in enumerate(mixtures)]
    assert made == pytest.approx(numbers.tolist(), abs=1e-12)


def test_what_work_does_to_a_fault_is_written_elsewhere() -> None:
    visits = [
        VisitSkeleton("arrival", DAY),
        VisitSkeleton("first-stringing", date(2031, 3, 9), ("bridge-reglue",)),
    ]
    compiled = compile_network(FLAT_TOP, PIN, visits)
    mixtures = written_in(compiled, FLAT_TOP, PIN)
    glued = compiled.node_of("bridge-lifting", 1)
    assert compiled.nodes[glued].visit == 1
    assert mixtures[glued] == ()
    gap = compiled.node_of("bridge-edge-gap", 1)  # a symptom is drawn anew by the same chances
    assert compiled.nodes[gap].visit == 1
    assert mixtures[gap] == ((Written("bridge-edge-gap"), 1.0),)


def test_the_rules_that_decide_are_the_first_alone_and_every_shift() -> None:
    """`alone_when` of a brace that is loose: age replaces, a fall and a hot car move it on."""
    fault = next(
        fault
        for fault in FLAT_TOP.faults.values()
        if {rule.shift for rule in fault.alone_when} - {None}
        and any(rule.alone is not None for rule in fault.alone_when)
    )
    traits = {name: trait.values[0] for name, trait in FLAT_TOP.traits.items()} | PIN
    for rule in reversed(fault.alone_when):
        traits |= {trait: values[0] for trait, values in rule.when.items()}
    compiled = compile_network(FLAT_TOP, traits, [VisitSkeleton("arrival", DAY)])
    ((written, weight),) = written_in(compiled, FLAT_TOP, traits)[compiled.node_of(fault.id)]
    assert weight == pytest.approx(1.0)
    assert written.rules
    assert value_of(written, FLAT_TOP) == compiled.network.alone[compiled.node_of(fault.id)]
