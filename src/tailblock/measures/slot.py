"""The saddle as a lever in its slot.

In: exposure and depth of the slot [mm], force on the crown [N]. Out: ratios [1], forces [N],
lengths [mm].
"""

from __future__ import annotations

from math import inf

from tailblock.measures.limits import within


def saddle_share(slot_depth: float, exposure: float) -> float:
    """Return how deep a saddle stands in its slot for each mm that shows [1].

    `slot depth / exposure`; 2 is "two thirds in the slot".

    Parameters
    ----------
    slot_depth
        Depth of the slot [mm], not negative.
    exposure
        Saddle over the bridge top [mm], at least 0.05.

    Source: common practice, no source.

    >>> saddle_share(6, 3)  # worked here
    2.0
    """
    within("slot_depth", slot_depth, 0, inf)
    within("exposure", exposure, 0.05, inf)
    return slot_depth / exposure


def saddle_lever(exposure: float, slot_depth: float) -> float:
    """Return what the front lip of the slot carries for each newton on the saddle's crown [1].

    `(E + D) / D`: the saddle turns about its foot at the back of the slot. The slot is taken as
    tight along its lip; the saddle's foot there pushes back with `E / D`.

    Parameters
    ----------
    exposure
        Saddle over the bridge top [mm], not negative.
    slot_depth
        Depth of the slot [mm], at least 0.1.

    Source: statics.

    >>> saddle_lever(3, 6)  # worked here
    1.5
    """
    within("exposure", exposure, 0, inf)
    within("slot_depth", slot_depth, 0.1, inf)
    return (exposure + slot_depth) / slot_depth


def slot_lip_load(forward_force: float, exposure: float, slot_depth: float) -> float:
    """Return the force on the front lip of the saddle slot [N].

    `F (E + D) / D`.

    Parameters
    ----------
    forward_force
        On the saddle's crown, of all strings together [N], not negative.
    exposure
        Saddle over the bridge top [mm], not negative.
    slot_depth
        Depth of the slot [mm], at least 0.1.

    Source: statics.

    >>> slot_lip_load(44, 3, 6)  # worked here
    66.0
    """
    within("forward_force", forward_force, 0, inf)
    return forward_force * saddle_lever(exposure, slot_depth)


def exposure_limit(slot_depth: float, lever_limit: float) -> float:
    """Return the exposure from which a saddle is a risk to its slot [mm].

    `E = D (n - 1)`: where the lever `(E + D)/D` reaches its limit n. With n = 1.5 a third of the
    saddle may show. A slot that is open at its ends has nothing but the lip to hold the saddle, and
    1/8 in (3.2 mm) is the limit there even if it is deeper.

    Parameters
    ----------
    slot_depth
        Depth of the slot [mm], at least 0.1.
    lever_limit
        What the lip may carry for each newton on the crown [1], at least 1.

    Source: statics; both limits are common practice, no source.

    >>> exposure_limit(6, 1.5)  # worked here
    3.0
    """
    within("slot_depth", slot_depth, 0.1, inf)
    within("lever_limit", lever_limit, 1, inf)
    return slot_depth * (lever_limit - 1)
