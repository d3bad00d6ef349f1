"""How the leading faults and the readings hang together: who speaks for what, and how strongly.

In: `Causes`. Out: a `Picture`: the faults in one layer, the readings behind them in another, a line
for each weight of evidence. It is as thick as it is strong, its number stands at the reading, and
what speaks against a fault is dashed.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tailblock.knowledge.graph import Arrow, Box, Graph
from tailblock.messages import N_, _
from tailblock.report.layers import BOX, LINE, lay_out
from tailblock.report.pictures.labels import letters
from tailblock.report.pictures.picture import Picture
from tailblock.report.pictures.svg import INK, PAPER, SOFT, WASH, element, group, label
from tailblock.report.wording import clause, percent, signed

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator, Sequence

    from markupsafe import Markup

    from tailblock.report.layout import Layout, Path, Place
    from tailblock.report.model import Cause, Causes, Weight

EVIDENCE = 150.0  # width on paper [mm]
TITLE = N_("How the leading faults and the readings hang together")

FAULTS, READINGS = 4, 6  # at most so many are drawn
LINES = 4  # at most so many readings for and against one fault
LEAST = 1.0  # decibans; what is weaker is not drawn
_STRONGEST = 12.0  # decibans; from there on a line gets no thicker
_SIZE = 11.5
_LEGEND = 30.0


def evidence_picture(causes: Causes) -> Picture | None:
    """Return the picture of the leading faults, None where no reading speaks of any of them."""
    drawn = _drawn(causes)
    if not drawn:
        return None
    graph = _graph(drawn)
    layout = lay_out(graph)
    left = min(place.x for place in layout.places) - 2
    top = min(place.y for place in layout.places) - 2
    width = max(place.x for place in layout.places) + BOX + 2 - left
    floor = max(
        *(place.y + place.height for place in layout.places),
        *(y for path in layout.paths for _, y in path.points),
    )
    height = floor - top + _LEGEND
    return Picture(
        kind="evidence",
        title=_(TITLE),
        text=_text(drawn),
        width=width,
        height=height,
        body=group(
            (
                element(
                    "g",
                    group(_shapes(layout)),
                    transform=_("translate({value:.1f} {value_2:.1f})").format(
                        value=-left, value_2=-top
                    ),
                ),
                *_legend(height),
            )
        ),
    )


def _drawn(causes: Causes) -> dict[Cause, tuple[Weight, ...]]:
    """Return the leading faults with what speaks most for and against each of them."""
    weights = {
        cause: sorted(
            (one for one in (*cause.in_favour, *cause.against) if abs(one.decibans) >= LEAST),
            key=lambda one: -abs(one.decibans),
        )[:LINES]
        for cause in causes.argued[:FAULTS]
    }
    kept = _kept(weights.values())
    drawn = {
        cause: tuple(one for one in found if _reading(one) in kept)
        for cause, found in weights.items()
    }
    return {cause: found for cause, found in drawn.items() if found}


def _kept(weights: Collection[Sequence[Weight]]) -> set[tuple[str, str]]:
    """Return what is drawn: of each fault its strongest reading, then the strongest of all."""
    first = dict.fromkeys(_reading(found[0]) for found in weights if found)
    rest = sorted((one for found in weights for one in found), key=lambda one: -abs(one.decibans))
    ordered = (*first, *dict.fromkeys(_reading(one) for one in rest if _reading(one) not in first))
    return set(ordered[:READINGS])


def _reading(one: Weight) -> tuple[str, str]:
    return one.check, one.visit


def _graph(drawn: dict[Cause, tuple[Weight, ...]]) -> Graph:
    boxes = {}
    arrows = []
    for cause, weights in drawn.items():
        fault = _("fault {id}").format(id=cause.id)
        about = f"{cause.sure}, {percent(cause.probability)}"
        boxes[fault] = Box("fault", fault, about, cause.name)
        for one in weights:
            reading = _("reading {check} {visit}").format(check=one.check, visit=one.visit)
            boxes[reading] = Box("check", reading, "", f"{one.check}: {_level(one)}")
            arrows.append(
                Arrow(
                    source=fault,
                    target=reading,
                    chance=min(abs(one.decibans) / _STRONGEST, 1.0),
                    word=signed(one.decibans),
                    mends=one.decibans < 0,
                )
            )
    return Graph("", boxes, tuple(arrows))


def _level(one: Weight) -> str:
    """Return what a reading was, without its number: that stands among the findings."""
    value, _, level = one.reading.partition(": ")
    said = clause(level if "±" in value else one.reading)
    return f"{said} ({one.visit})" if one.visit else said


def _shapes(layout: Layout) -> Iterator[Markup]:
    for path in layout.paths:
        yield _line(path)
    for place in layout.places:
        yield from _box(place)
    for path in layout.paths:
        yield from _number(path)


def _line(path: Path) -> Markup:
    x, y = path.points[-1]
    return _stroke(f"{path.bends} L{x:.1f},{y:.1f}", path.arrow.chance, against=path.arrow.mends)


def _stroke(data: str, strength: float, *, against: bool) -> Markup:
    return element(
        "path",
        d=data,
        fill="none",
        stroke=SOFT,
        stroke_width=0.8 + 4.2 * strength,
        stroke_dasharray="7 4" if against else None,
    )


def _box(place: Place) -> Iterator[Markup]:
    yield element(
        "rect",
        x=place.x,
        y=place.y,
        width=BOX,
        height=place.height,
        rx=0 if place.box.kind == "fault" else 6,
        fill=WASH,
        stroke=INK,
        stroke_width=2 if place.box.kind == "fault" else 1,
    )
    first = place.y + (place.height - LINE * len(place.lines)) / 2 + 12.5
    for at, line in enumerate(place.lines):
        yield label(place.x + 10, first + LINE * at, line, size=_SIZE, fill=INK)


def _number(path: Path) -> Iterator[Markup]:
    """Yield the decibans on a ground of paper, so that the line does not run through them."""
    x, y = path.points[-1]
    wide = letters(path.arrow.word, _SIZE) + 4
    yield element("rect", x=x - wide - 8, y=y - 7, width=wide, height=14, fill=PAPER)
    yield label(x - 10, y + 4, path.arrow.word, size=_SIZE, anchor="end")


def _legend(height: float) -> Iterator[Markup]:
    x, y = 2.0, height - 8.0
    for said, against in ((_("speaks for the fault"), False), (_("speaks against it"), True)):
        yield _stroke(f"M{x:.1f},{y - 4:.1f} L{x + 34:.1f},{y - 4:.1f}", 0.4, against=against)
        yield label(x + 40, y, said, size=_SIZE, fill=SOFT)
        x += 54 + letters(said, _SIZE)
    yield label(x, y, _("numbers are decibans"), size=_SIZE, fill=SOFT)


def _text(drawn: dict[Cause, tuple[Weight, ...]]) -> str:
    return " ".join(
        f"{cause.name} ({cause.sure}, {percent(cause.probability)}): {_weights(weights)}."
        for cause, weights in drawn.items()
    )


def _weights(weights: Sequence[Weight]) -> str:
    said = _("{check}: {level}, {decibans} decibans")
    return "; ".join(
        said.format(check=one.check, level=_level(one), decibans=signed(one.decibans))
        for one in weights
    )
