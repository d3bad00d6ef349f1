"""What ties the readings of action, relief, saddle, aim and bridge together, for cross-checks.

In: which of them were read. Out: relations for `crosscheck.reconcile`, and the constants in them
with their uncertainty. All lengths in mm. Quantities:

- `action_bass`, `action_treble`: outer strings over fret 12;
- `first_opening`: first string, open, over fret 1;
- `relief_bass`, `relief_treble`: largest gap between frets and straight line;
- `exposure`: saddle over the bridge, in the middle;
- `projection`: straightedge on the frets over (+) or under (-) the bridge, in the middle;
- `thickness`: bridge in the middle;
- `string_height`: strings over the top at the saddle, in the middle;
- `aim_over_top`: straightedge on the frets over the top, beside the bridge.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tailblock.measures.action import geometry_residual
from tailblock.measures.adjustment import Known, Relation
from tailblock.measures.rows.arguments import ASSUMED

if TYPE_CHECKING:
    from collections.abc import Collection


def action_mismatch(
    *,
    action_bass: float,
    action_treble: float,
    first_opening: float,
    exposure: float,
    projection: float,
    relief_bass: float,
    relief_treble: float,
    opening_rise: float,
    saddle_crown: float,
    bow_shape: float,
    scale_length: float,
    compensation: float,
    relief_share: float,
) -> float:
    """Return how far the mean action is from the one that the other readings ask for [mm].

    `action.geometry_residual` for the middle of the strings.

    Parameters
    ----------
    action_bass, action_treble, first_opening, exposure, projection, relief_bass, relief_treble
        As above [mm].
    opening_rise
        What the mean opening over fret 1 is more than that of the first string [mm].
    saddle_crown
        What the middle of the saddle stands higher, over the outer strings, than the board's radius
        asks for [mm].
    bow_shape
        How much lower fret 12 lies than its usual share of the relief says [mm].
    scale_length, compensation, relief_share
        As in `action.action_from_geometry`.

    Source: geometry.

    >>> size = {"scale_length": 648, "compensation": 2, "relief_share": 0.35}
    >>> even = {"opening_rise": 0.0, "saddle_crown": 0.0, "bow_shape": 0.0}
    >>> neck = {"relief_bass": 0.15, "relief_treble": 0.15, "projection": 0.79}
    >>> strings = {"action_bass": 2.28, "action_treble": 1.68, "first_opening": 0.40}
    >>> round(action_mismatch(**neck, **strings, exposure=2.78, **even, **size), 2)
    0.78
    """
    return geometry_residual(
        (action_bass + action_treble) / 2 - bow_shape,
        first_opening=first_opening + opening_rise,
        exposure=exposure - saddle_crown,
        projection=projection,
        relief=(relief_bass + relief_treble) / 2,
        scale_length=scale_length,
        compensation=compensation,
        relief_share=relief_share,
    )


def string_height_mismatch(string_height: float, thickness: float, exposure: float) -> float:
    """Return how far the strings stand from bridge and saddle on top of each other [mm].

    `H - (T + E)`.

    Parameters
    ----------
    string_height, thickness, exposure
        As above [mm].

    Source: geometry.

    >>> round(string_height_mismatch(12.5, 9.0, 3.0), 6)  # worked here
    0.5
    """
    return string_height - (thickness + exposure)


def aim_mismatch(
    aim_over_top: float, thickness: float, projection: float, *, wing_drop: float
) -> float:
    """Return how far the aim over the top is from bridge and projection together [mm].

    `p - (T + d + w)`: a domed top falls away from the middle to the wings, where p is read.

    Parameters
    ----------
    aim_over_top, thickness, projection
        As above [mm].
    wing_drop
        How much lower the top lies beside the wings than under the middle [mm].

    Source: geometry.

    >>> round(aim_mismatch(9.8, 9.0, 0.5, wing_drop=0.3), 6)  # worked here
    0.0
    """
    return aim_over_top - (thickness + projection + wing_drop)


def action_side_mismatch(action_bass: float, action_treble: float, *, action_fan: float) -> float:
    """Return how far the difference of the two sides is from the usual one [mm].

    Parameters
    ----------
    action_bass, action_treble
        As above [mm].
    action_fan
        The usual difference [mm].

    Source: common practice, no source.

    >>> round(action_side_mismatch(2.4, 1.8, action_fan=0.6), 6)  # worked here
    0.0
    """
    return action_bass - action_treble - action_fan


def relief_side_mismatch(relief_bass: float, relief_treble: float, *, relief_fan: float) -> float:
    """Return how far the difference of the two sides is from the usual one [mm].

    Parameters
    ----------
    relief_bass, relief_treble
        As above [mm].
    relief_fan
        The usual difference [mm].

    Source: common practice, no source.

    >>> round(relief_side_mismatch(0.18, 0.15, relief_fan=0.03), 6)  # worked here
    0.0
    """
    return relief_bass - relief_treble - relief_fan


_ACTION_SIDES = ("action_bass", "action_treble")
_RELIEF_SIDES = ("relief_bass", "relief_treble")
# Value and standard uncertainty [mm]. What is usual on steel strings is common practice, no source,
# and the spread from memory.
_CONSTANTS = {
    "opening_rise": Known(0.06, 0.04),
    "saddle_crown": Known(0.0, 0.1),
    "wing_drop": Known(*ASSUMED["wing_drop"]),
    "action_fan": Known(0.6, 0.2),
    "relief_fan": Known(0.03, 0.05),
    "bow_shape": Known(0.0, 0.03),  # a share of 0.26 to 0.41 of an ordinary relief
    # These make the relations linear, and what they are uncertain by hardly shows: 1 mm of
    # compensation is 0.003 mm of action.
    "compensation": Known(ASSUMED["compensation"][0], 0.0),
    "relief_share": Known(ASSUMED["relief_share"][0], 0.0),
}
_UNREAD_OPENING = Known(0.35, 0.15)
_UNREAD_RELIEF = Known(0.17, 0.25)
_UNREAD_SCALE = 645.0

QUANTITIES = (
    *_ACTION_SIDES, "first_opening", *_RELIEF_SIDES, "exposure", "projection", "thickness",
    "string_height", "aim_over_top",
)  # fmt: skip
TAKEN_AS_USUAL = ("first_opening", *_ACTION_SIDES, *_RELIEF_SIDES)  # where they were not read


def bench_relations(read: Collection[str]) -> tuple[Relation, ...]:
    """Return the relations between bench readings.

    That one side differs from the other as usual is no geometry, and counts only where one of the
    two was not read.

    Parameters
    ----------
    read
        The quantities that were read, by name.
    """
    strings = ("first_opening", "exposure", "projection")
    small = ("opening_rise", "saddle_crown", "bow_shape")
    lever = ("scale_length", "compensation", "relief_share")
    over_frets = (*_ACTION_SIDES, *strings, *_RELIEF_SIDES, *small, *lever)
    relations = [
        Relation("action", action_mismatch, over_frets),
        Relation(
            "string-height", string_height_mismatch, ("string_height", "thickness", "exposure")
        ),
        Relation("aim", aim_mismatch, ("aim_over_top", "thickness", "projection", "wing_drop")),
    ]
    if not set(_ACTION_SIDES) <= set(read):
        usual = (*_ACTION_SIDES, "action_fan")
        relations.append(Relation("action-sides", action_side_mismatch, usual))
    if not set(_RELIEF_SIDES) <= set(read):
        usual = (*_RELIEF_SIDES, "relief_fan")
        relations.append(Relation("relief-sides", relief_side_mismatch, usual))
    return tuple(relations)


def bench_constants(read: Collection[str], scale_length: float | None) -> dict[str, Known]:
    """Return what the relations take as known without a reading, with its uncertainty.

    Parameters
    ----------
    read
        The quantities that were read, by name.
    scale_length
        [mm]; None if nobody measured it.

    Returns
    -------
    dict
        Constants of the relations; opening and relief that were not read, as they usually are.
    """
    taken = dict(_CONSTANTS)
    taken["scale_length"] = Known(_UNREAD_SCALE if scale_length is None else scale_length, 0.0)
    if "first_opening" not in read:
        taken["first_opening"] = _UNREAD_OPENING
    if not set(_RELIEF_SIDES) & set(read):
        taken["relief_bass"] = _UNREAD_RELIEF
    return taken
