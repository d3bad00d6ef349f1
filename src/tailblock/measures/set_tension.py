"""What a whole set of strings pulls.

In: the gauge of the first string and the scale length [mm], semitones [1], densities [kg/m^3]. Out:
forces [N]. Between two sets the total is interpolated by the gauge of the first string.

The standard uncertainties that the table of figures assumes for the materials are judged as in
`wound_mass_per_length`. Sets of one name differ by up to 10 % from maker to maker, as their
published totals do: `set_factor`, 1 +- 0.05, stands for that.
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from tailblock.measures.limits import within
from tailblock.measures.pitch import STANDARD_PITCH, lowered_frequency, note_frequency
from tailblock.measures.set_masses import nylon_mass, six_string_mass, twelve_string_mass
from tailblock.measures.string_sets import NYLON_SIX, STEEL_SIX, STEEL_TWELVE
from tailblock.measures.strings import string_tension

if TYPE_CHECKING:
    from collections.abc import Callable

    from tailblock.measures.string_sets import Sets


def six_string_tension(
    first_gauge: float,
    scale_length: float,
    semitones_lower: float,
    *,
    steel_density: float,
    wrap_density: float,
    core_fill: float,
    closeness: float,
    set_factor: float,
) -> float:
    """Return the pull of a whole set on a steel six-string at 440 Hz [N].

    Sum of `mu (2 L f)^2`. The constants of the materials are common to all its strings, so that
    their uncertainty does not average out.

    Parameters
    ----------
    first_gauge
        First string [mm], 0.010 to 0.013 in.
    scale_length
        [mm]
    semitones_lower
        Semitones below ordinary tuning (E A D G B E) [1], -24 to 24.
    steel_density, wrap_density, core_fill, closeness
        As in `wound_mass_per_length`.
    set_factor
        Pull of the set at hand in parts of an ordinary one of its name [1], 0.8 to 1.2.

    Raises
    ------
    OutOfRange
        No such set, or a constant outside its range.

    Source: law of the stretched string; gauges and cores are common practice, no source.

    >>> bronze = {"wrap_density": 8750, "core_fill": 0.825, "closeness": 0.98, "set_factor": 1}
    >>> round(six_string_tension(0.3048, 645.16, 0, steel_density=7850, **bronze))  # worked here
    726
    """
    within("set_factor", set_factor, 0.8, 1.2)
    mass = partial(
        six_string_mass,
        first_gauge=first_gauge,
        steel_density=steel_density,
        wrap_density=wrap_density,
        core_fill=core_fill,
        closeness=closeness,
    )
    return set_factor * _total(STEEL_SIX, scale_length, semitones_lower, mass)


def twelve_string_tension(
    first_gauge: float,
    scale_length: float,
    semitones_lower: float,
    *,
    steel_density: float,
    wrap_density: float,
    core_fill: float,
    closeness: float,
    set_factor: float,
) -> float:
    """Return the pull of a whole set on a twelve-string at 440 Hz [N].

    Sum of `mu (2 L f)^2` over six courses: four in octaves, two in unison.

    Parameters
    ----------
    first_gauge
        First string [mm], 0.010 to 0.011 in.
    scale_length
        [mm]
    semitones_lower
        Semitones below ordinary tuning [1], -24 to 24; many are tuned a whole tone low.
    steel_density, wrap_density, core_fill, closeness
        As in `wound_mass_per_length`.
    set_factor
        Pull of the set at hand in parts of an ordinary one of its name [1], 0.8 to 1.2.

    Raises
    ------
    OutOfRange
        No such set, or a constant outside its range.

    Source: law of the stretched string; gauges and cores are common practice, no source.

    >>> bronze = {"wrap_density": 8750, "core_fill": 0.825, "closeness": 0.98, "set_factor": 1}
    >>> round(twelve_string_tension(0.254, 645.16, 2, steel_density=7850, **bronze))  # worked here
    879
    """
    within("set_factor", set_factor, 0.8, 1.2)
    mass = partial(
        twelve_string_mass,
        first_gauge=first_gauge,
        steel_density=steel_density,
        wrap_density=wrap_density,
        core_fill=core_fill,
        closeness=closeness,
    )
    return set_factor * _total(STEEL_TWELVE, scale_length, semitones_lower, mass)


def nylon_tension(
    treble_gauge: float,
    scale_length: float,
    semitones_lower: float,
    *,
    nylon_density: float,
    nylon_stretch: float,
    closeness: float,
    set_factor: float,
) -> float:
    """Return the pull of a whole set of nylon strings at 440 Hz [N].

    Sum of `mu (2 L f)^2`. Nylon stretches by about a tenth when it is tuned up and settles, and its
    mass per length sinks with it; that tenth is from memory (0.10 +- 0.03), as is the density of
    1060 to 1140 kg/m^3 (1090 +- 25).

    Parameters
    ----------
    treble_gauge
        First string as it comes from the packet [mm], 0.028 in (normal) to 0.029 in (hard).
    scale_length
        [mm]
    semitones_lower
        Semitones below ordinary tuning [1], -24 to 24.
    nylon_density
        [kg/m^3]
    nylon_stretch
        Stretch of the trebles from packet to pitch, as a fraction [1].
    closeness
        As in `wound_mass_per_length`.
    set_factor
        Pull of the set at hand in parts of an ordinary one of its name [1], 0.8 to 1.2.

    Raises
    ------
    OutOfRange
        No such set, or a constant outside its range.

    Source: law of the stretched string; gauges and cores are common practice, no source.

    >>> nylon = {"nylon_density": 1090, "nylon_stretch": 0.10, "closeness": 0.98, "set_factor": 1}
    >>> round(nylon_tension(0.7112, 650, 0, **nylon))  # worked here
    372
    """
    within("set_factor", set_factor, 0.8, 1.2)
    mass = partial(
        nylon_mass,
        treble_gauge=treble_gauge,
        nylon_density=nylon_density,
        nylon_stretch=nylon_stretch,
        closeness=closeness,
    )
    return set_factor * _total(NYLON_SIX, scale_length, semitones_lower, mass)


def _total(
    sets: Sets,
    scale_length: float,
    semitones_lower: float,
    mass: Callable[[int], float],
) -> float:
    """Return the pull of a set whose strings have these masses per length, by number [N]."""
    strings = next(iter(sets.values()))  # one tuning for all sets
    return sum(
        string_tension(
            scale_length,
            lowered_frequency(note_frequency(string.note, STANDARD_PITCH), semitones_lower),
            mass(number),
        )
        for number, string in enumerate(strings, start=1)
    )
