"""What the drawing of the instrument shows: its kind by the traits, and the causes by number.

In: `Examined`, the faults in the order of their numbers. Out: a `Portrait`, or None where the
drawing does not know the kind of instrument or nothing has a place in it.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, cast, get_args

from tailblock.knowledge.entries import UNKNOWN
from tailblock.measures import both_systems
from tailblock.messages import N_, _
from tailblock.report.model import (
    Portrait,
    PortraitBracing,
    PortraitBridge,
    PortraitMark,
    PortraitPickup,
    PortraitStrings,
)
from tailblock.report.pictures.instrument.places import Places
from tailblock.report.wording import listed, sure

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping

    from tailblock.report.examined import Examined
    from tailblock.report.model import Matter

NYLON = frozenset({"nylon", "carbon", "gut"})  # what the strings of the first kind may be
SCALE = 648.0  # mm; usual, from memory
FRETS_CLEAR: Mapping[PortraitStrings, int] = {"steel": 14, "twelve": 14, "nylon": 12}

GENERAL = N_(
    "The outline is a general one, not this instrument's own; frets and bridge are to scale."
)
AS_USUAL = N_("Not written down, and drawn as usual: {}.")
LEFT_OUT = N_("Not known, and left out: {}.")


def numbered(matters: Iterable[Matter], argued: Iterable[str]) -> tuple[str, ...]:
    """Return the faults in the order of their numbers: those of page 1 first, as there."""
    return tuple(dict.fromkeys((*(matter.id for matter in matters), *argued)))


def portrait(examined: Examined, faults: Iterable[str]) -> Portrait | None:
    """Return how the instrument is drawn.

    Parameters
    ----------
    faults
        The faults that are marked, in the order of their numbers.
    """
    traits = examined.inspection.instrument.traits
    if "bracing" not in traits or traits.get("bridge") not in get_args(PortraitBridge):
        return None
    bare = _bare(examined, traits)
    places = Places(bare)
    marks = tuple(_marks(examined, faults, places))
    return replace(bare, marks=marks) if any(not mark.unplaced for mark in marks) else None


def _bare(examined: Examined, traits: Mapping[str, str]) -> Portrait:
    """Return the instrument without a mark."""
    instrument = examined.inspection.instrument
    strings = made_for(examined)
    bracing = traits["bracing"]
    head = traits.get("head", UNKNOWN)
    slotted = head == "slotted" or (head == UNKNOWN and strings == "nylon")
    guard, pickup = traits.get("guard", UNKNOWN), traits.get("pickup")
    usual, left_out = [], []
    if instrument.scale_length is None:
        usual.append(_("a scale length of {scale}").format(scale=both_systems(SCALE)))
    if instrument.frets_clear is None:
        usual.append(
            _("{frets_clear} frets clear of the body").format(frets_clear=FRETS_CLEAR[strings])
        )
    if head == UNKNOWN:
        usual.append(_("a slotted head") if slotted else _("a head without slots"))
    if bracing not in get_args(PortraitBracing):
        left_out.append(_("the bars under the top"))
    if guard == UNKNOWN:
        left_out.append(_("a plate that guards the top"))
    return Portrait(
        strings=strings,
        bridge=cast("PortraitBridge", traits["bridge"]),
        bracing=cast("PortraitBracing", bracing if bracing in get_args(PortraitBracing) else ""),
        head="slotted" if slotted else "solid",
        tuners="pegs" if traits.get("tuners") == "pegs" else "geared",
        guard=guard not in {"none", UNKNOWN},
        pickup=cast("PortraitPickup", pickup if pickup in get_args(PortraitPickup) else ""),
        plate=traits.get("plate-wood") != "none",
        scale_length=instrument.scale_length or SCALE,
        frets_clear=instrument.frets_clear or FRETS_CLEAR[strings],
        marks=(),
        taken=(
            _(GENERAL),
            *([_(AS_USUAL).format(listed(usual))] if usual else []),
            *([_(LEFT_OUT).format(listed(left_out))] if left_out else []),
        ),
    )


def made_for(examined: Examined) -> PortraitStrings:
    """Return the strings that it was made for: a twelve-string with six on it stays one."""
    trait = examined.checklist.traits.get("strings")
    if trait is None:
        return "steel"
    if NYLON & set(trait.values):
        return "nylon"
    written = examined.inspection.instrument.traits["strings"]
    return "twelve" if "twelve" in {written, trait.default} else "steel"


def _marks(examined: Examined, faults: Iterable[str], places: Places) -> Iterator[PortraitMark]:
    parts = examined.checklist.parts
    chances = {cause.id: cause.probability for cause in examined.causes}
    for number, id_ in enumerate(faults, start=1):
        fault = examined.checklist.faults[id_]
        part = parts[fault.part]
        place = places.of(fault.part)
        yield PortraitMark(
            number=number,
            id=id_,
            part_id=fault.part,
            where=part.plain or part.name,
            plain=fault.plain,
            sure=sure(chances[id_]),
            unplaced=place if isinstance(place, str) else "",
        )
