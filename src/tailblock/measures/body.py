"""Humps and dips of the top, and what a hump does to the aim of the neck.

In: gaps under a straightedge across the top, readings of the projection [mm]. Out: lengths [mm],
shares [%].
"""

from __future__ import annotations

from tailblock.measures.arch import sagitta


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


def hump_height(bass: float, treble: float, chord: float, radius: float) -> float:
    """Return how far the top stands above its made dome behind the bridge [mm].

    `(g_bass + g_treble)/2 - s(c, R)`: the straightedge is balanced on the crown, and a dome of
    radius R shows its sagitta at both ends. Negative where the top has sunk. For a top that was
    made flat the radius is very large (1 km).

    Parameters
    ----------
    bass, treble
        Gap at either end of the straightedge [mm].
    chord
        Length of the straightedge between the two gaps [mm].
    radius
        Radius of the dome as it was made [mm].

    Raises
    ------
    OutOfRange
        The chord is longer than the diameter.

    Source: plane geometry.

    >>> round(hump_height(4.4, 4.8, 380, 7620), 2)  # worked here: 4.6 less 2.37
    2.23
    """
    return (bass + treble) / 2 - sagitta(chord, radius)


def soundhole_sink(gap: float, chord: float, radius: float) -> float:
    """Return how far the top has sunk below its made dome at the soundhole [mm].

    `g + s(c, R)`: a straightedge across the top that rests at its ends lies on the chord, and the
    dome would stand above it by its sagitta. Where the top still lifts the straightedge, the gap is
    negative: less the mean gap at its ends.

    Parameters
    ----------
    gap
        Gap under the middle of the straightedge [mm], less the gap at its ends if it rocks.
    chord
        Length of the straightedge between its ends [mm].
    radius
        Radius of the dome as it was made [mm].

    Raises
    ------
    OutOfRange
        The chord is longer than the diameter.

    Source: plane geometry.

    >>> round(soundhole_sink(0.5, 300, 7620), 2)  # worked here: 0.5 and 1.48
    1.98
    """
    return gap + sagitta(chord, radius)
