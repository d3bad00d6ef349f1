"""The arch of the top, and what a hump does to the aim of the neck.

In: readings across the top behind the bridge and of the projection [mm]. Out: lengths [mm], shares
[%].
"""

from __future__ import annotations

from math import inf, sqrt

from tailblock.measures.limits import within


def belly_change(pitch: float, slack: float) -> float:
    """Return how far the top rises behind the bridge under string load [mm].

    `gap(pitch) - gap(slack)`, the same straightedge at the same place and humidity.

    Parameters
    ----------
    pitch, slack
        Gap at the ends of a straightedge balanced on the crown [mm].

    Source: from memory.

    >>> round(belly_change(3.4, 2.6), 6)  # worked here
    0.8
    """
    return pitch - slack


def aim_without_hump(projection: float, belly: float, dome: float, lift_share: float) -> float:
    """Return the projection that the neck would have over a top of its made dome [mm].

    `d + 0.6 (gap - dome)`: a hump lifts the bridge although the neck did not move, at the saddle by
    about 0.6 (0.4 to 0.8) of what is read behind the bridge, which turns as it rises.

    Parameters
    ----------
    projection
        Straightedge over the bridge top [mm].
    belly
        Gap at the ends of a straightedge across the top behind the bridge [mm].
    dome
        The same gap when the top was made [mm].
    lift_share
        Lift at the saddle for each mm of hump [1].

    Source: geometry; the share from memory.

    >>> round(aim_without_hump(-1.8, 5.0, 2.2, 0.6), 2)  # worked here
    -0.12
    """
    return projection + lift_share * (belly - dome)


def hump_share(
    projection: float, belly: float, dome: float, lift_share: float, aim_normal: float
) -> float:
    """Return the share of the lost aim that the hump explains [%].

    `h / (h + n)`, `h = max(0, 0.6 (gap - dome))` and `n = max(0, -0.3 - aim_without_hump)`, what
    the neck still lacks without it. Nothing lost at all counts as 0 %.

    Parameters
    ----------
    projection, belly, dome, lift_share
        As in `aim_without_hump`.
    aim_normal
        The lowest projection that is ordinary [mm].

    Source: from memory.

    >>> round(hump_share(-3.0, 4.2, 2.2, 0.6, -0.3), 1)  # worked here: h 1.2, n 1.5
    44.4
    """
    hump = max(0.0, lift_share * (belly - dome))
    neck = max(0.0, aim_normal - aim_without_hump(projection, belly, dome, lift_share))
    return 100 * (hump / (hump + neck)) if hump else 0.0


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
    within("chord", chord, 0, 2 * radius)
    quarter = chord * chord / 4
    return quarter / (radius + sqrt(radius * radius - quarter)) if radius else 0.0
