"""What came of drills over time: a file with a line of JSON for each, and its plot.

In: debriefs, one after another. Out: `Done`s in the order of the file; the plot as text or as SVG.
The file is replaced in one step under a lock, so that a drill is in it whole or not at all.
"""

from __future__ import annotations

import json
from dataclasses import asdict, dataclass, fields
from html import escape
from statistics import mean
from typing import TYPE_CHECKING

from tailblock.errors import TailblockError
from tailblock.inspection.write import locked, put

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from pathlib import Path

    from tailblock.practice.cases import Case
    from tailblock.practice.debrief import Debrief

WINDOW = 5  # drills that the line through the points averages
_WIDTH, _HEIGHT, _LEFT, _TOP = 680, 300, 60, 50  # pixels
_BAR = 30  # letters of the longest bar
_FONT = 'role="img" font-family="sans-serif" font-size="13"'
_LEGEND = (
    f"From the first drill to the last; the line is the mean of up to {WINDOW}. "
    "Zero: as near as the advice."
)


@dataclass(frozen=True, slots=True)
class Done:
    """A drill that was done. `at`: a moment by ISO 8601. `regret_minutes`: as in `Debrief`."""

    at: str
    checklist: str
    case: str
    minutes: float
    regret_bits: float
    regret_minutes: float | None
    found: int
    to_find: int
    wrong: int
    unsafe: int
    hints: int


class NotProgress(TailblockError):
    """A line of the file is no drill."""

    def __init__(self, path: Path, line: int) -> None:
        self.path, self.line = path, line
        super().__init__(
            f"{path}:{line}: this is no drill that was done (name another file, or take the line "
            "out)"
        )


class NothingToPlot(TailblockError):
    """No drill is in the file."""

    def __init__(self, path: Path) -> None:
        self.path = path
        super().__init__(f"{path}: no drill is in it yet (`tailblock drill --progress {path}`)")


def done(case: Case, told: Debrief, at: str) -> Done:
    """Return the line of a drill."""
    return Done(
        at=at,
        checklist=case.checklist.id,
        case=case.source,
        minutes=told.minutes,
        regret_bits=round(told.regret_bits, 4),
        regret_minutes=told.regret_minutes,
        found=len(told.found),
        to_find=len(told.to_find),
        wrong=len(told.wrong),
        unsafe=len(told.unsafe),
        hints=told.hints,
    )


def read(path: Path) -> tuple[Done, ...]:
    """Return the drills of a file, none if there is no file.

    Raises
    ------
    NotProgress
    """
    if not path.exists():
        return ()
    lines = path.read_bytes().decode("utf-8", errors="replace").splitlines()
    return tuple(_drill(path, number, line) for number, line in enumerate(lines, start=1))


def _drill(path: Path, number: int, line: str) -> Done:
    try:
        found = Done(**json.loads(line))
    except (json.JSONDecodeError, TypeError):
        raise NotProgress(path, number) from None
    numbers = [getattr(found, field.name) for field in fields(found)[3:]]
    if not all(isinstance(n, int | float) for n in numbers if n is not None) or (
        found.regret_bits is None
    ):
        raise NotProgress(path, number)
    return found


def add(path: Path, one: Done) -> tuple[Done, ...]:
    """Write a drill behind those of a file, and return all of them.

    Raises
    ------
    NotProgress
        A line is no drill; nothing is changed.
    FileLocked, CannotWrite
    """
    with locked(path.resolve()):
        all_ = (*read(path), one)
        put(path, "".join(f"{json.dumps(asdict(each))}\n" for each in all_).encode())
    return all_


def averaged(drills: Sequence[Done]) -> list[float]:
    """Return for each drill the mean regret [bits] of it and of up to four before it."""
    bits = [each.regret_bits for each in drills]
    return [mean(bits[max(0, end - WINDOW) : end]) for end in range(1, len(bits) + 1)]


def as_text(drills: Sequence[Done]) -> Iterator[str]:
    """Yield a line for each drill: the shorter its bar, the nearer to the advice."""
    most = max((each.regret_bits for each in drills), default=0.0)
    for number, each in enumerate(drills, start=1):
        share = max(0.0, each.regret_bits) / most if most > 0.0 else 0.0
        yield (
            f"{number:>3}  {each.at[:10]}  {each.regret_bits:+6.2f} bits  "
            f"{each.found} of {each.to_find} found  {'#' * round(_BAR * share)}".rstrip()
        )


def to_svg(drills: Sequence[Done]) -> str:
    """Return the regrets as points in their order, and their running mean as a line."""
    bits = [each.regret_bits for each in drills]
    low, high = min(0.0, *bits), max(0.0, *bits)
    span = (high - low) or 1.0
    step = (_WIDTH - _LEFT - 30) / max(1, len(bits) - 1)
    tall = _HEIGHT - _TOP - 50

    def at(number: int, value: float) -> tuple[float, float]:
        return _LEFT + 10 + step * number, _TOP + tall * (high - value) / span

    zero = at(0, 0.0)[1]
    line = " ".join(f"{x:.1f},{y:.1f}" for x, y in map(at, range(len(bits)), averaged(drills)))
    title = f"Regret of {len(drills)} drills against the advised order, in bits"
    size = f'width="{_WIDTH}" height="{_HEIGHT}"'
    box = f'viewBox="0 0 {_WIDTH} {_HEIGHT}"'
    points = []
    for number, each in enumerate(drills):
        x, y = at(number, each.regret_bits)
        told = escape(f"{each.at[:10]}, {each.case}: {each.regret_bits:+.2f} bits")
        points.append(f'<circle cx="{x:.1f}" cy="{y:.1f}" r="4"><title>{told}</title></circle>')
    scale = [
        f'<text x="{_LEFT - 6}" y="{at(0, value)[1] + 4:.1f}" text-anchor="end">{value:+.1f}</text>'
        for value in dict.fromkeys((high, 0.0, low))
    ]
    return "\n".join(
        [
            f'<svg xmlns="http://www.w3.org/2000/svg" {box} {size} {_FONT}>',
            f"<title>{title}</title>",
            f'<rect {size} fill="#ffffff"/>',
            f'<text x="{_LEFT}" y="28" font-size="15" font-weight="bold">{title}</text>',
            f'<path d="M{_LEFT},{zero:.1f} H{_WIDTH - 20}" stroke="#777777"/>',
            *scale,
            f'<polyline points="{line}" fill="none" stroke="#1c1c1c" stroke-width="2"/>',
            '<g fill="#8a5a00">',
            *points,
            "</g>",
            f'<text x="{_LEFT}" y="{_HEIGHT - 16}" fill="#555555">{_LEGEND}</text>',
            "</svg>\n",
        ]
    )
