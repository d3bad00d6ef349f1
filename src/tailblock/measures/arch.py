"""Arcs of a circle: domes, bows and boards over a straightedge.

In: chords, heights and radii [mm]. Out: the third from two of them [mm].
"""

from __future__ import annotations

from math import inf, sqrt

from tailblock.measures.limits import within


def sagitta(chord: float, radius: float) -> float:
    """Return the height of an arch over its chord [mm].

    `s = R - sqrt(R^2 - c^2/4)`, for chords up to the diameter. A straightedge balanced on the crown
    shows it as the gap at its ends.

    Parameters
    ----------
    chord
        Width spanned [mm].
    radius
        Radius of the arch [mm].

    Raises
    ------
    OutOfRange
        The chord is longer than the diameter, or a size is negative.

    Source: plane geometry.

    >>> round(sagitta(20, 15), 2)  # from a published exercise in plane geometry
    3.82
    """
    within("radius", radius, 0, inf)
    # a half circle may have come out of a rounded radius
    within("chord", chord, 0, 2 * radius * (1 + 1e-12))
    quarter = chord * chord / 4
    rest = max(0.0, radius * radius - quarter)
    return quarter / (radius + sqrt(rest)) if radius else 0.0


def arch_radius(rise: float, chord: float) -> float:
    """Return the radius of an arch from its height over a chord [mm].

    `R = s/2 + c^2/(8 s)`: the way back from `sagitta`. Holds up to half a circle.

    Parameters
    ----------
    rise
        Height of the arch over the chord [mm], at least 0.001 and at most half the chord.
    chord
        Width spanned [mm].

    Raises
    ------
    OutOfRange
        No arch, or more than half a circle.

    Source: plane geometry.

    >>> round(arch_radius(3, 10), 2)  # from a published exercise in plane geometry
    5.67
    """
    within("rise", rise, 0.001, chord / 2)
    return rise / 2 + chord * chord / (8 * rise)


def arch_over_span(rise: float, chord: float, chord_wanted: float) -> float:
    """Return what an arch read over one span shows over another [mm].

    The sagitta over the second chord of the circle that has this height over the first: very nearly
    `s (c_wanted / c)^2`. For straightedges of two lengths, or relief over other frets.

    Parameters
    ----------
    rise
        Height of the arch over the chord, as read [mm], at least 0.001 and at most half the chord.
    chord, chord_wanted
        Width spanned by the reading, and the one to refer to [mm].

    Raises
    ------
    OutOfRange
        No arch, or a chord longer than the diameter.

    Source: plane geometry.

    >>> round(arch_over_span(2.37, 380, 340), 2)  # worked here
    1.9
    """
    return sagitta(chord_wanted, arch_radius(rise, chord))
