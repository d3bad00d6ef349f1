"""Which readings of a visit one geometry ties together, and which of them to take again.

In: a checklist, the instrument, one visit and what was heard of it. Out: `CrossChecks`: what each
reading is by all the others, and the one to be taken again, in ids and numbers. Lengths in mm.

A reading goes in if it was read under the load that the most loaded one was read under (the bridge
and its saddle are stiff, they hold in any setup) and no gate silences it. Whether it speaks to the
network does not matter, and nothing here reaches the network. Its uncertainty is that of its gauge:
a gate that widens it may speak of what the reading means, not of how well it was read.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from tailblock.inspection.groups import Measured, by_load, measured
from tailblock.measures.adjustment import Known
from tailblock.measures.crosscheck import reconcile
from tailblock.measures.geometry import QUANTITIES, TAKEN_AS_USUAL, bench_constants, bench_relations

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tailblock.inspection.record import Instrument, Setup, Visit
    from tailblock.inspection.speaks import Heard
    from tailblock.knowledge.checklist import Checklist

STIFF = frozenset({"thickness", "exposure"})
# Of several readings that could each be the wrong one, those are named whose error would be at most
# this many times the smallest one, each in its own standard uncertainty (own choice).
AS_LIKELY = 1.5

Why = Literal["", "only-one", "smallest-error", "more-than-one"]


@dataclass(frozen=True, slots=True)
class Compared:
    """A reading (the mean of several, if it was repeated) and what all others say of it [mm].

    `readings` are indices in the visit. `adjusted` is the least-squares value; `implied` the value
    by the others alone. `normalised` is the difference over its own standard uncertainty, `slip`
    over that of the reading. It `is_off` if `normalised` is beyond 2. `alone`: the others agree if
    it is left out.
    """

    check: str
    readings: tuple[int, ...]
    value: float
    u: float
    adjusted: float
    adjusted_u: float
    implied: float
    implied_u: float
    normalised: float
    slip: float
    is_off: bool
    alone: bool


@dataclass(frozen=True, slots=True)
class CrossChecks:
    """How the readings of a visit that one geometry ties together agree.

    `relations` are those of `measures.geometry` that test something, `setup` the state they were
    read in. `taken_as_usual` are lengths of the checklist's `geometry` without a reading, whose
    usual value went in. `chi_square` has `degrees` degrees of freedom, and `chance` is how often
    sound readings disagree as much.

    `take_again` is empty if all agree, else the checks in the order in which to take them again.
    `why` says how they were chosen: `only-one`, the others agree once it is left out, and that
    holds for no other reading; `smallest-error`, it holds for several, and these would have to be
    wrong by least for their gauge; `more-than-one`, leaving out one is not enough, and this is
    farthest from the others.
    """

    relations: tuple[str, ...]
    setup: Setup
    compared: tuple[Compared, ...]
    taken_as_usual: tuple[str, ...]
    chi_square: float
    degrees: int
    chance: float
    take_again: tuple[str, ...]
    why: Why


def cross_checks(
    checklist: Checklist, instrument: Instrument, visit: Visit, heard: Heard
) -> CrossChecks | None:
    """Compare the readings of a visit that one geometry ties together.

    Parameters
    ----------
    checklist
        Gives gauges and setups, and says by its `geometry` which check reads what; one that it does
        not name is not compared.
    instrument
        Its scale length goes in if it is known.
    visit
        The readings.
    heard
        What gates keep from counting.

    Returns
    -------
    CrossChecks or None
        None if too few were read to test one by the others.
    """
    read = lengths_read(checklist, visit, heard, QUANTITIES)
    relations = bench_relations(read)
    known = bench_constants(read, instrument.scale_length)
    known |= {name: Known(mean.value, mean.u) for name, mean in read.items()}
    arguments = {name for relation in relations for name in relation.arguments}
    unread = dict.fromkeys(sorted(arguments - known.keys()), 0.0)
    found = reconcile(relations, known, unread, read)
    if not found.checked:
        return None
    compared = tuple(
        Compared(
            check=_check(checklist, name),
            readings=read[name].readings,
            value=read[name].value,
            u=read[name].u,
            adjusted=one.adjusted.value,
            adjusted_u=one.adjusted.u,
            implied=one.implied.value,
            implied_u=one.implied.u,
            normalised=one.normalised,
            slip=one.slip,
            is_off=one.is_off,
            alone=one.alone,
        )
        for name, one in found.checked.items()
    )
    take_again, why = _take_again(compared)
    usual = TAKEN_AS_USUAL if "action" in found.relations else ()
    return CrossChecks(
        relations=found.relations,
        setup=next(read[name].setup for name in found.checked if name not in STIFF),
        compared=compared,
        taken_as_usual=tuple(_length(name) for name in usual if name not in read),
        chi_square=found.chi_square,
        degrees=found.degrees,
        chance=found.chance,
        take_again=take_again,
        why=why,
    )


def lengths_read(
    checklist: Checklist, visit: Visit, heard: Heard, names: Sequence[str]
) -> dict[str, Measured]:
    """Return the readings of some lengths that were taken under one load and that no gate silences.

    Parameters
    ----------
    names
        Lengths of the checklist's `geometry`, with `_` for `-`.
    """
    gated = {one.reading for one in heard.silent if one.kind == "gate"}
    means = measured(checklist, visit)
    usable = {
        name: [mean for mean in means[check] if not gated & set(mean.readings)]
        for name in names
        if (check := _check(checklist, name)) in means and check not in heard.gated
    }
    loaded = (mean for name, found in usable.items() if name not in STIFF for mean in found)
    most = next(iter(by_load(checklist.setups, loaded)), None)
    if most is None:
        return {}
    return {
        name: chosen
        for name, found in usable.items()
        if (chosen := _in_setup(found, most.setup, stiff=name in STIFF)) is not None
    }


def _length(quantity: str) -> str:
    """Return what a checklist calls a quantity of `measures.geometry`."""
    return quantity.replace("_", "-")


def _check(checklist: Checklist, quantity: str) -> str:
    """Return the check that reads a quantity; empty if the checklist has none."""
    length = checklist.geometry.get(_length(quantity))
    return length.check if length else ""


def _in_setup(found: Sequence[Measured], setup: Setup, *, stiff: bool) -> Measured | None:
    """Return the reading in a setup; of a stiff part another one will do."""
    alike = [mean for mean in found if mean.setup == setup]
    return next(iter(alike or (found if stiff else ())), None)


def _take_again(compared: tuple[Compared, ...]) -> tuple[tuple[str, ...], Why]:
    """Return the checks to take again, in that order, and how they were chosen."""
    off = [one for one in compared if one.is_off]
    if not off:
        return (), ""
    alone = sorted((one for one in off if one.alone), key=lambda one: abs(one.slip))
    if not alone:
        worst = max(off, key=lambda one: (round(abs(one.normalised), 6), -abs(one.slip)))
        return (worst.check,), "more-than-one"
    likely = [one for one in alone if abs(one.slip) <= AS_LIKELY * abs(alone[0].slip)]
    return tuple(one.check for one in likely), "only-one" if len(alone) == 1 else "smallest-error"
