"""Strings: mass per length and tension.

In: scale length and diameters [mm], frequency [Hz], densities [kg/m^3], mass per length [g/m]. Out:
force [N], mass per length [g/m].
"""

from __future__ import annotations

from math import hypot, inf, pi

from tailblock.measures.limits import within


def string_tension(scale_length: float, frequency: float, mass_per_length: float) -> float:
    """Return the tension of a string at a pitch [N].

    `T = mu (2 L f)^2`. Stiffness is left out; real sets differ from their tables by up to 10 %.

    Parameters
    ----------
    scale_length
        Vibrating length [mm].
    frequency
        Of the open string [Hz].
    mass_per_length
        [g/m]

    Source: law of the stretched string (Mersenne), in any text on acoustics.

    >>> round(string_tension(810, 394, 2 / 0.81), 1)  # from a published exercise: 1005.9 N
    1005.9
    """
    return mass_per_length / 1000 * (2 * scale_length / 1000 * frequency) ** 2


def lowered_tension(tension: float, semitones_lower: float) -> float:
    """Return the tension of the same strings tuned lower by some semitones [N].

    `T 2^(-2n/12)`: tension goes with the square of the frequency, so a semitone is 10.9 % less and
    a whole tone 20.6 %. The scale length stays as it is.

    Parameters
    ----------
    tension
        Before, of a string or a set [N].
    semitones_lower
        Semitones lower, negative for higher [1], -24 to 24.

    Raises
    ------
    OutOfRange
        More than two octaves.

    Source: law of the stretched string and equal temperament.

    >>> round(lowered_tension(1000, 2), 1)  # worked here: 2^(-4/12) = 0.7937
    793.7
    """
    within("semitones_lower", semitones_lower, -24, 24)
    return float(tension * 2 ** (-semitones_lower / 6))


def plain_mass_per_length(diameter: float, string_density: float) -> float:
    """Return the mass per length of a plain round string [g/m].

    `mu = rho pi d^2 / 4`. A steel string keeps its diameter when it is tuned up; a nylon one grows
    thinner, see `set_tension`.

    Parameters
    ----------
    diameter
        [mm], 0 to 5.
    string_density
        [kg/m^3]; 7850 for high-carbon steel, from memory, one list gives 7800: no better than 1 %.

    Raises
    ------
    OutOfRange
        The diameter is negative or over 5 mm, the density negative.

    Source: geometry.

    >>> round(plain_mass_per_length(0.3048, 7850), 4)  # worked here: 0.012 in
    0.5728
    """
    within("diameter", diameter, 0, 5)
    within("string_density", string_density, 0, inf)
    return string_density * pi * diameter**2 / 4000


def wound_mass_per_length(
    core_diameter: float,
    wrap_diameter: float,
    *,
    core_density: float,
    wrap_density: float,
    core_fill: float,
    closeness: float,
) -> float:
    """Estimate the mass per length of a string with one layer of round winding [g/m].

    `mu = rho_c q d^2 + rho_w (pi w^2 / 4) sqrt(1 + (pi (d + w) c / w)^2)`, d the core, w the wrap
    wire, q the core's cross-section in squares of its diameter, c how close the turns lie. The
    root is the length of wire in a unit of length: a helix on the mean diameter d + w.

    The standard uncertainties that the table of figures assumes were judged, not measured, each as
    half the span of what is met, divided by sqrt(3): the core between round (q = 0.785) and six-
    sided (0.866), 0.825 +- 0.023; the bronzes from 8600 to 8900 kg/m^3, 8750 +- 90; the turns from
    95 % to 100 % of touching, 0.98 +- 0.015. Together they come to 1.6 % of the mass; two diameters
    known to 0.005 mm add as much on a low E and twice that on a wound G.

    Parameters
    ----------
    core_diameter
        Core wire, across its flats if it has six [mm], 0 to 3.
    wrap_diameter
        Wire of the winding: half of the whole diameter less the core [mm], 0.02 to 1.
    core_density, wrap_density
        Of core and winding [kg/m^3].
    core_fill
        Cross-section of the core divided by the square of its diameter [1], 0.7 to 0.9.
    closeness
        Turns in a unit of length, 1 if they touch [1], 0.8 to 1.

    Raises
    ------
    OutOfRange
        A value outside these ranges.

    Source: geometry; the values assumed for the constants from memory.

    >>> bronze = {"wrap_density": 8750, "core_fill": 0.825, "closeness": 0.98}
    >>> round(wound_mass_per_length(0.4572, 0.4445, core_density=7850, **bronze), 2)  # worked here
    9.94
    """
    within("core_diameter", core_diameter, 0, 3)
    within("wrap_diameter", wrap_diameter, 0.02, 1)
    within("core_fill", core_fill, 0.7, 0.9)
    within("closeness", closeness, 0.8, 1)
    core = core_density * core_fill * core_diameter**2
    turns = pi * (core_diameter + wrap_diameter) * closeness / wrap_diameter
    wrap = wrap_density * pi * wrap_diameter**2 / 4 * hypot(1, turns)
    return (core + wrap) / 1000
