"""What is repaired and comes back while its causes stay: how likely, and through which of them.

In: the names, a plan of remedies, and whom to ask whether anything acts. Out: `ReturnRisk`s.
No date is claimed: the checklist says what brings a fault about, not when.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

from tailblock.advice.gain import NOTHING
from tailblock.knowledge.traits import applies
from tailblock.network.return_risk import extend

if TYPE_CHECKING:
    from collections.abc import Callable, Collection, Mapping, Sequence

    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Remedy
    from tailblock.network.arrays import FloatArray, Network
    from tailblock.network.compile import Compiled

    # A network and, for each question, nodes and how probable it is that each of them does not act
    # if it is there -> how probable it is that none acts.
    NoneActs = Callable[[Network, Sequence[Mapping[int, float]]], FloatArray]

CURES = 0.50  # a side effect below this is welcome, but no remedy is done for it


@dataclass(frozen=True, slots=True)
class ReturnRisk:
    """How probable it is that a repaired fault comes back while its causes stay.

    `chance` is exact and claims no date. `causes`: (fault, how much lower `chance` were if that
    cause were gone for good), the largest first; causes that change nothing are left out.
    """

    fault: str
    chance: float
    causes: tuple[tuple[str, float], ...]


def meant_for(remedy: Remedy) -> frozenset[str]:
    """Return the faults that a remedy is done for: well cured by it, or the best that it does."""
    best = max(fix.how_well for fix in remedy.fixes)
    return frozenset(fix.fault for fix in remedy.fixes if fix.how_well >= min(CURES, best))


def remedies_for(checklist: Checklist, traits: Mapping[str, str], fault: str) -> tuple[Remedy, ...]:
    """Return the remedies that are done for a fault on an instrument with these traits."""
    listed = _by_fault(checklist).get(fault, ())
    return tuple(remedy for remedy in listed if applies(remedy, traits, checklist))


@lru_cache(maxsize=8)
def _by_fault(checklist: Checklist) -> Mapping[str, Sequence[Remedy]]:
    """Return for each fault the remedies that are meant for it, in the checklist's order."""
    found: dict[str, list[Remedy]] = defaultdict(list)
    for remedy in checklist.remedies.values():
        for fault in meant_for(remedy):
            found[fault].append(remedy)
    return found


def with_needs(checklist: Checklist, remedies: Sequence[str]) -> tuple[str, ...]:
    """Return remedies with all that must be done before them, each once, in working order."""
    ordered: dict[str, None] = {}

    def take(id_: str) -> None:
        for needed in checklist.remedies[id_].needs.remedies:
            take(needed)
        ordered.setdefault(id_)

    for remedy in remedies:
        take(remedy)
    return tuple(ordered)


def return_risks(
    compiled: Compiled,
    checklist: Checklist,
    traits: Mapping[str, str],
    remedies: Sequence[str],
    none_acts: NoneActs,
    *,
    about: Collection[str] | None = None,
    shares: bool = True,
) -> tuple[ReturnRisk, ...]:
    """Return, for every fault that a plan repairs, the risk that it comes back, the highest first.

    Parameters
    ----------
    remedies
        Done together, on the state of the last visit with all that was read.
    none_acts
        Answers with the evidence entered.
    about
        The faults that are asked about; all if left out.
    shares
        Whether the causes are wanted too, which is most of the work.

    Raises
    ------
    KeyError
        The checklist has no remedy of that id.
    """
    after = extend(compiled, checklist, traits, remedies, about, apart=shares)
    spared = none_acts(after.network, list(after.spared.values()))
    chance = dict(zip(after.spared, (1.0 - spared).clip(0.0, 1.0).tolist(), strict=True))
    risks = []
    for repaired in (fault for fault, gone in chance if gone is None):
        whole = chance[repaired, None]
        less = {
            gone: whole - rest
            for (fault, gone), rest in chance.items()
            if fault == repaired and gone is not None and whole - rest > NOTHING
        }
        largest = sorted(less.items(), key=lambda entry: -entry[1])
        risks.append(ReturnRisk(repaired, whole, tuple(largest)))
    return tuple(sorted(risks, key=lambda risk: -risk.chance))
