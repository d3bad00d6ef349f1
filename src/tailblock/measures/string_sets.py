"""Ordinary sets of strings by their gauges.

In: nothing. Out: `STEEL_SIX`, `STEEL_TWELVE`, `NYLON_SIX`: by the gauge of the first string the
strings of the set, in thousandths of an inch.

Sets of one name differ from maker to maker. Gauges are common practice, no source; core gauges are
from memory, chosen so that the totals agree with published ones (see the tests).
"""

from __future__ import annotations

from dataclasses import dataclass
from types import MappingProxyType

THOUSANDTH = 0.0254  # mm


@dataclass(frozen=True, slots=True)
class SetString:
    """One string: note, whole diameter and core in thousandths of an inch (no core: plain)."""

    note: str
    gauge: int
    core: int | None = None


def _strings(*rows: str) -> tuple[SetString, ...]:
    """Read `E2 53/18`: note, gauge, and after the stroke the core of a wound string."""
    found = []
    for note, size in (text.split() for text in rows):
        gauge, _, core = size.partition("/")
        found.append(SetString(note, int(gauge), int(core) if core else None))
    return tuple(found)


Sets = MappingProxyType[int, tuple[SetString, ...]]

STEEL_SIX: Sets = MappingProxyType(
    {
        10: _strings("E4 10", "B3 14", "G3 23/11", "D3 30/13", "A2 39/15", "E2 47/17"),
        11: _strings("E4 11", "B3 15", "G3 22/11", "D3 32/14", "A2 42/16", "E2 52/18"),
        12: _strings("E4 12", "B3 16", "G3 25/12", "D3 32/14", "A2 42/16", "E2 54/18"),
        13: _strings("E4 13", "B3 17", "G3 26/13", "D3 35/14", "A2 45/17", "E2 56/19"),
    }
)
_OCTAVES_LIGHT = _strings("E4 10", "B3 14", "G4 8", "D4 12", "A3 18", "E3 27/13")
_OCTAVES_HEAVY = _strings("E4 11", "B3 15", "G4 9", "D4 13", "A3 20/10", "E3 29/13")
STEEL_TWELVE: Sets = MappingProxyType(
    {
        10: STEEL_SIX[10] + _OCTAVES_LIGHT,
        11: STEEL_SIX[11] + _OCTAVES_HEAVY,
    }
)
NYLON_SIX: Sets = MappingProxyType(
    {
        28: _strings("E4 28", "B3 32", "G3 40", "D3 29/19", "A2 35/19", "E2 43/19"),
        29: _strings("E4 29", "B3 33", "G3 41", "D3 30/19", "A2 36/19", "E2 44/19"),
    }
)
