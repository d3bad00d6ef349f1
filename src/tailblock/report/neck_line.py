"""What the side view of the neck shows: heights that were read under one load, and what was not.

In: `Examined`. Out: a `NeckLine`, or None where too little was read to draw anything to scale: the
scale length and the aim of the neck at the bridge must be known, and two heights besides.
"""

from __future__ import annotations

from string import ascii_uppercase
from typing import TYPE_CHECKING

from tailblock.inspection.reconcile import lengths_read
from tailblock.knowledge.traits import applies
from tailblock.messages import N_, _
from tailblock.report.model import NeckHeight, NeckLine
from tailblock.report.portrait import FRETS_CLEAR, made_for
from tailblock.report.wording import clause, listed, shown

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from tailblock.report.examined import Examined
    from tailblock.report.model import NeckHeightName

# Each height by the lengths of the checklist's geometry that it is the mean of, nut to tail.
HEIGHTS: Mapping[NeckHeightName, tuple[str, ...]] = {
    "opening": ("first_opening",),
    "relief": ("relief_bass", "relief_treble"),
    "action": ("action_bass", "action_treble"),
    "dip": ("dip",),
    "projection": ("projection",),
    "exposure": ("exposure",),
    "thickness": ("thickness",),
    "belly": ("belly",),
}
STRING = frozenset({"opening", "action", "exposure"})
BESIDES = frozenset({*STRING, "thickness"})
LEAST = 2  # of those, besides the aim of the neck

FROM_WHERE = N_(
    "Heights count from a straightedge on fret 1 and fret {join}, where the body begins{usual}."
)
BODY = N_(
    "The top is drawn level as it lies under the bridge; its dip hangs from there, and the dashed "
    "line behind the bridge is the top 190 mm to either side."
)
TWICE = N_(
    "The string is drawn from its height at fret 1 to the saddle. Where the action that was read "
    "ends above or below it, the readings disagree by as much."
)
HANGING: tuple[NeckHeightName, ...] = ("dip", "belly")  # they count from the top
LOOSE = N_("Read, and left out, because the thickness of the bridge was not read: {}.")
LEFT_OUT = N_("Not read, and left out: {}.")


def neck_line(examined: Examined) -> NeckLine | None:
    """Return what the side view of the neck shows on this visit."""
    instrument = examined.inspection.instrument
    names = [name for parts in HEIGHTS.values() for name in parts]
    visit, heard = examined.inspection.visits[examined.visit], examined.heard[examined.visit]
    found = lengths_read(examined.checklist, visit, heard, names)
    read = {name: [at for at in parts if at in found] for name, parts in HEIGHTS.items()}
    loose = [] if read["thickness"] else [name for name in HANGING if read[name]]
    here = {name: parts for name, parts in read.items() if parts and name not in loose}
    if (
        instrument.scale_length is None
        or "projection" not in here
        or len(BESIDES & here.keys()) < LEAST
    ):
        return None
    strings = made_for(examined)
    join = instrument.frets_clear or FRETS_CLEAR[strings]
    heights = []
    for letter, (name, parts) in zip(ascii_uppercase, here.items(), strict=False):
        value = sum(found[part].value for part in parts) / len(parts)
        said = shown(value, "length")
        title, *others = [_title(examined, part) for part in parts]
        titles = listed([title, *map(clause, others)])
        mean = _(", their mean") if len(parts) > 1 else ""
        heights.append(
            NeckHeight(letter, name, value, said.partition(" (")[0], f"{titles}{mean}: {said}.")
        )
    usual = "" if instrument.frets_clear else _(", as usual")
    missing = [
        name for name, parts in HEIGHTS.items() if not read[name] and _is_asked(examined, parts[0])
    ]
    return NeckLine(
        strings=strings,
        scale_length=instrument.scale_length,
        frets_clear=join,
        heights=tuple(heights),
        remarks=(
            _(FROM_WHERE).format(join=join, usual=usual),
            *([_(BODY)] if here.keys() & set(HANGING) else []),
            *([_(TWICE)] if here.keys() >= STRING else []),
            *([_(LOOSE).format(_titles(examined, loose))] if loose else []),
            *([_(LEFT_OUT).format(_titles(examined, missing))] if missing else []),
        ),
    )


def _check(examined: Examined, length: str) -> str:
    named = examined.checklist.geometry.get(length.replace("_", "-"))
    return named.check if named else ""


def _title(examined: Examined, length: str) -> str:
    return examined.checklist.checks[_check(examined, length)].title


def _titles(examined: Examined, names: Iterable[NeckHeightName]) -> str:
    return listed([clause(_title(examined, HEIGHTS[name][0])) for name in names])


def _is_asked(examined: Examined, length: str) -> bool:
    """Return whether the checklist reads a length on such an instrument at all."""
    check = examined.checklist.checks.get(_check(examined, length))
    traits = examined.inspection.instrument.traits
    return check is not None and applies(check, traits, examined.checklist)
