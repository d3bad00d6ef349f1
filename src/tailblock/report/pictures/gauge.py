"""A measured value against its limits: a band with the value and its uncertainty on it.

In: a `Gauge`. Out: a `Picture` that is small enough for a row of a table.
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from tailblock.messages import N_, _
from tailblock.report.pictures.labels import letters
from tailblock.report.pictures.picture import Picture
from tailblock.report.pictures.scale import (
    band,
    field,
    frame,
    limits,
    reading,
    scale_for,
    systems,
)
from tailblock.report.pictures.svg import group, label

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from markupsafe import Markup

    from tailblock.report.model import Copy, Gauge, Zone

GAUGE, KEY_ROW = 52.0, 140.0  # widths on paper [mm]

WIDTH = 196.0
_LEFT, _RIGHT = 1.0, 174.0  # of the band; the units stand beside it
_TOP, _TALL = 12.5, 14.0

KEY_WIDTH, KEY_HEIGHT = 560.0, 18.0
_SWATCH = 26.0
_SIZE = 11.0  # of the letters of the key
_KEY = N_(
    "The plain field of each gauge is what counts as normal, slanted lines are to be watched, "
    "crossed lines lie outside. The upright lines are the limits between levels, the diamond is "
    "the measured value, the bar through it {spread}."
)
_BENCH = (N_("value ± standard uncertainty"), N_("its standard uncertainty"))
_PLAYER = (N_("measured, give or take the bar"), N_("how exact it is, give or take"))
_ZONES: tuple[tuple[Zone, str], ...] = (
    ("normal", N_("normal")),
    ("watch", N_("to be watched")),
    ("outside", N_("outside")),
)


def gauge_picture(check: str, gauge: Gauge) -> Picture:
    """Return the picture of a reading.

    Parameters
    ----------
    check
        What was measured.
    """
    scale = scale_for((gauge,), _LEFT, _RIGHT)
    return Picture(
        kind="gauge",
        title=check,
        text=gauge.text,
        width=WIDTH,
        height=_TOP + _TALL + (14 if systems(gauge) > 1 else 3),
        body=group(
            (
                *band(gauge, scale, _TOP, _TALL),
                *limits(gauge, scale, _TOP, _TOP + _TALL),
                *reading(*scale.places(gauge), _TOP + _TALL / 2),
            )
        ),
    )


def key_picture(copy: Copy) -> Picture:
    """Return the key to all gauges: each kind of field, and the marks of a reading."""
    word, spread = map(_, _BENCH if copy == "bench" else _PLAYER)
    return Picture(
        kind="key",
        title=_("Key to the gauges"),
        text=_(_KEY).format(spread=spread),
        width=KEY_WIDTH,
        height=KEY_HEIGHT,
        body=group(_key(word)),
    )


def _key(reading_word: str) -> Iterator[Markup]:
    x = 1.0
    for word, draw in (*_zones(), (reading_word, _mark)):
        yield from draw(x)
        yield label(x + _SWATCH + 5, 13, word, size=_SIZE)
        x += _SWATCH + 22 + letters(word, _SIZE)


def _zones() -> Iterator[tuple[str, Callable[[float], Iterator[Markup]]]]:
    for zone, word in _ZONES:
        yield _(word), partial(_swatch, zone)


def _swatch(zone: Zone, x: float) -> Iterator[Markup]:
    yield from field(zone, x, 3, _SWATCH, 12)
    yield frame(x, 3, _SWATCH, 12)


def _mark(x: float) -> Iterator[Markup]:
    yield from reading(x + _SWATCH / 2, x + 3, x + _SWATCH - 3, 9)
