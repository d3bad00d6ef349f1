"""How well a colour can be read on another, and the nearest one that can be read well enough.

In: colours as `#rrggbb`. Out: contrast ratios, colours. Pure. Relative luminance and contrast are
those of WCAG 2.2 (from memory): of sRGB with the threshold 0.04045, (L1 + 0.05) / (L2 + 0.05).
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

ENOUGH = 4.5  # success criterion 1.4.3, level AA, text of any size
_COLOUR = re.compile(r"#[0-9a-f]{6}", re.IGNORECASE)


def is_colour(text: str) -> bool:
    """Return whether a text is a colour as it is written here.

    >>> is_colour("#24463f"), is_colour("green")
    (True, False)
    """
    return _COLOUR.fullmatch(text) is not None


def luminance(colour: str) -> float:
    """Return the relative luminance of a colour, from 0 (black) to 1 (white)."""
    red, green, blue = (_linear(part / 255) for part in _parts(colour))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Return the contrast ratio of two colours, from 1 to 21.

    >>> contrast("#000000", "#ffffff"), round(contrast("#777777", "#ffffff"), 2)
    (21.0, 4.48)
    """
    dark, light = sorted((luminance(one), luminance(other)))
    return (light + 0.05) / (dark + 0.05)


def worst(colour: str, grounds: Sequence[str]) -> tuple[str, float]:
    """Return the ground on which a colour reads worst, and the contrast there."""
    ground = min(grounds, key=lambda ground: contrast(colour, ground))
    return ground, contrast(colour, ground)


def nearest_readable(colour: str, grounds: Sequence[str]) -> str:
    """Return the colour, mixed with as little black as makes it readable on light grounds.

    >>> nearest_readable("#24463f", ["#ffffff"]), nearest_readable("#777777", ["#ffffff"])
    ('#24463f', '#767676')
    """
    for black in range(256):
        mixed = "#" + "".join(f"{round(part * (255 - black) / 255):02x}" for part in _parts(colour))
        if worst(mixed, grounds)[1] >= ENOUGH:
            return mixed
    return "#000000"


def _parts(colour: str) -> tuple[int, int, int]:
    return int(colour[1:3], 16), int(colour[3:5], 16), int(colour[5:7], 16)


def _linear(part: float) -> float:
    return part / 12.92 if part <= 0.04045 else float(((part + 0.055) / 1.055) ** 2.4)
