"""The mass per length of each string of a set.

In: the string's number from the first on, the gauge of the first string [mm], densities [kg/m^3].
Out: mass per length [g/m]. Between two sets each string is interpolated by the gauge of the first.
"""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from tailblock.measures.limits import OutOfRange
from tailblock.measures.string_sets import NYLON_SIX, STEEL_SIX, STEEL_TWELVE, THOUSANDTH
from tailblock.measures.strings import plain_mass_per_length, wound_mass_per_length

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from tailblock.measures.string_sets import SetString

SILVERED_COPPER = 8900.0  # kg/m^3, from memory
FILAMENT_FILL = 0.72  # nylon filaments under a winding, of the square of their bundle's diameter


def six_string_mass(
    string: float,
    first_gauge: float,
    *,
    steel_density: float,
    wrap_density: float,
    core_fill: float,
    closeness: float,
) -> float:
    """Return the mass per length of one string of a steel six-string set [g/m].

    Parameters
    ----------
    string
        From the first (1) to the sixth (6) [1].
    first_gauge
        First string [mm], 0.010 to 0.013 in.
    steel_density, wrap_density, core_fill, closeness
        As in `wound_mass_per_length`.

    Raises
    ------
    OutOfRange
        No such set, or a constant outside its range.

    Source: geometry; gauges and cores are common practice, no source.

    >>> bronze = {"wrap_density": 8750, "core_fill": 0.825, "closeness": 0.98}
    >>> round(six_string_mass(1, 0.3048, steel_density=7850, **bronze), 4)  # worked here: 0.012 in
    0.5728
    """
    mass = _steel(steel_density, wrap_density, core_fill, closeness)
    return _between(STEEL_SIX, string, first_gauge, mass)


def twelve_string_mass(
    string: float,
    first_gauge: float,
    *,
    steel_density: float,
    wrap_density: float,
    core_fill: float,
    closeness: float,
) -> float:
    """Return the mass per length of one string of a steel twelve-string set [g/m].

    Parameters
    ----------
    string
        First strings of the courses from 1 to 6, those beside them from 7 to 12 [1].
    first_gauge
        First string [mm], 0.010 to 0.011 in.
    steel_density, wrap_density, core_fill, closeness
        As in `wound_mass_per_length`.

    Raises
    ------
    OutOfRange
        No such set, or a constant outside its range.

    Source: geometry; gauges and cores are common practice, no source.

    >>> bronze = {"wrap_density": 8750, "core_fill": 0.825, "closeness": 0.98}
    >>> round(twelve_string_mass(9, 0.254, steel_density=7850, **bronze), 4)  # worked here: 8 thou
    0.2546
    """
    mass = _steel(steel_density, wrap_density, core_fill, closeness)
    return _between(STEEL_TWELVE, string, first_gauge, mass)


def nylon_mass(
    string: float,
    treble_gauge: float,
    *,
    nylon_density: float,
    nylon_stretch: float,
    closeness: float,
) -> float:
    """Return the mass per length of one string of a nylon set at pitch [g/m].

    Parameters
    ----------
    string
        From the first (1) to the sixth (6) [1].
    treble_gauge
        First string as it comes from the packet [mm], 0.028 in to 0.029 in.
    nylon_density
        [kg/m^3]
    nylon_stretch
        Stretch of the trebles from packet to pitch, as a fraction [1].
    closeness
        As in `wound_mass_per_length`.

    Raises
    ------
    OutOfRange
        No such set, or a constant outside its range.

    Source: geometry; gauges and cores are common practice, no source.

    >>> nylon = {"nylon_density": 1090, "nylon_stretch": 0.10, "closeness": 0.98}
    >>> round(nylon_mass(1, 0.7112, **nylon), 4)  # worked here: 0.028 in, stretched by a tenth
    0.3937
    """

    def mass(one: SetString) -> float:
        diameter = one.gauge * THOUSANDTH
        if one.core is None:
            return plain_mass_per_length(diameter, nylon_density) / (1 + nylon_stretch)
        core = one.core * THOUSANDTH
        return wound_mass_per_length(
            core,
            (diameter - core) / 2,
            core_density=nylon_density,
            wrap_density=SILVERED_COPPER,
            core_fill=FILAMENT_FILL,
            closeness=closeness,
        )

    return _between(NYLON_SIX, string, treble_gauge, mass)


def _steel(
    steel_density: float, wrap_density: float, core_fill: float, closeness: float
) -> Callable[[SetString], float]:
    """Return what gives a steel string its mass per length [g/m]."""

    def mass(one: SetString) -> float:
        diameter = one.gauge * THOUSANDTH
        if one.core is None:
            return plain_mass_per_length(diameter, steel_density)
        core = one.core * THOUSANDTH
        return wound_mass_per_length(
            core,
            (diameter - core) / 2,
            core_density=steel_density,
            wrap_density=wrap_density,
            core_fill=core_fill,
            closeness=closeness,
        )

    return mass


def _between(
    sets: Mapping[int, tuple[SetString, ...]],
    string: float,
    first_gauge: float,
    mass: Callable[[SetString], float],
) -> float:
    """Return the mass of a string, between two sets by straight-line interpolation [g/m]."""
    place = int(string) - 1
    thousandths = first_gauge / THOUSANDTH
    for low, high in pairwise(sorted(sets)):
        if low - 1e-6 <= thousandths <= high + 1e-6:
            share = (thousandths - low) / (high - low)
            return (1 - share) * mass(sets[low][place]) + share * mass(sets[high][place])
    limits = (min(sets) * THOUSANDTH, max(sets) * THOUSANDTH)
    raise OutOfRange("first_gauge", first_gauge, *limits)
