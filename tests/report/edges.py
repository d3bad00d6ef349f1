"""Reports at the edge: what a page must hold although nobody has asked for so much or so little."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

from report.visits import HEAD, HOT_CAR, UNREAD

if TYPE_CHECKING:
    from report.visits import Reported
    from tailblock.report.model import Report

HEBREW = "\u05d2\u05d9\u05d8\u05e8\u05d4 \u05e7\u05d8\u05e0\u05d4 \u05d5\u05db\u05d4\u05d4"
JAPANESE = "\u53e4\u3044\u5c0f\u3055\u306a\u30ae\u30bf\u30fc\u3001\u6a4b\u304c\u6d6e\u3044\u3066"
LONG = "Extraordinarily-long-and-never-ending-name-of-an-instrument-" * 5
NOTE = " ".join(f"The bridge lifts at the back, {number} and more." for number in range(250))
MANY = "".join(
    f"      - {{check: saddle-exposure, value: {2 + number % 20 / 10} mm, "
    f"note: Reading {number} of a long day.}}\n"
    for number in range(140)
)
INSTRUMENT, PLAYER = "Small dark guitar with a pin bridge", "Ada Example"


def _named(name: str) -> str:
    typed = json.dumps(name, ensure_ascii=False)
    return HEAD.replace(INSTRUMENT, typed).replace(PLAYER, typed).replace('"2031-014"', typed)


EDGES = {
    "no readings": (UNREAD, HEAD),
    "150 readings": (HOT_CAR + MANY, HEAD),
    "right to left": (HOT_CAR, _named(HEBREW)),
    "CJK": (HOT_CAR, _named(JAPANESE)),
    "long names": (HOT_CAR.replace("R. Bench", LONG), _named(LONG)),
    "a note of 2,000 words": (HOT_CAR.replace("Two hours in a parked car, in July.", NOTE), HEAD),
}


def edge(reported: Reported, name: str) -> Report:
    """Return a report at the edge."""
    return reported(*EDGES[name])
