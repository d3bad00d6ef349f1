"""Where the boxes of a drawn graph stand and its arrows run.

In: nothing; `layers` makes these. Out: a `Layout` in pixels, for what draws it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tailblock.knowledge.graph import Arrow, Box


@dataclass(slots=True)
class Place:
    """A box in the picture: its upper left corner, its height, its lines of text."""

    box: Box
    x: float
    y: float
    height: float
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Path:
    """An arrow as points to pass, from the right side of a box to the left side of another.

    Between the first and the second of each pair of points it bends, from there to the next pair it
    runs level.
    """

    arrow: Arrow
    points: tuple[tuple[float, float], ...]

    @property
    def bends(self) -> str:
        """Return the line up to the last point but one, as the data of a path of SVG."""
        (x, y), *rest = self.points
        drawn = f"M{x:.1f},{y:.1f}"
        for number, (to_x, to_y) in enumerate(rest[:-1]):
            if number % 2 == 0:
                middle = (x + to_x) / 2
                drawn += f" C{middle:.1f},{y:.1f} {middle:.1f},{to_y:.1f} {to_x:.1f},{to_y:.1f}"
            else:
                drawn += f" L{to_x:.1f},{to_y:.1f}"
            x, y = to_x, to_y
        return drawn


@dataclass(frozen=True, slots=True)
class Layout:
    """A picture of a graph; lengths in pixels."""

    title: tuple[str, ...]
    width: float
    height: float
    places: tuple[Place, ...]
    paths: tuple[Path, ...]
