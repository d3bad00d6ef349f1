"""What stands in a picture, read back from its SVG: shapes, lines of text, and where they are."""

from __future__ import annotations

import re
from dataclasses import dataclass
from itertools import combinations
from typing import TYPE_CHECKING
from xml.etree import ElementTree as ET

from tailblock.report.pictures.labels import letters
from tailblock.report.pictures.picture import SPACE

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tailblock.report.pictures.picture import Picture

NUMBER = re.compile(r"-?\d+(?:\.\d+)?")
ALLOWED = {"svg", "title", "desc", "rect", "line", "path", "text", "circle", "polygon", "g"}


@dataclass(frozen=True)
class Shape:
    """An element: its name, its attributes, the box around it as left, top, right, bottom."""

    name: str
    attributes: dict[str, str]
    text: str
    box: tuple[float, float, float, float]

    def at(self, attribute: str) -> float:
        return float(self.attributes[attribute])

    @property
    def middle(self) -> float:
        """Return where its middle is from left to right."""
        return (self.box[0] + self.box[2]) / 2


def shapes(picture: Picture) -> list[Shape]:
    """Return what is drawn; an element that no picture may have fails the test."""
    root = ET.fromstring(str(picture.alone()))  # noqa: S314  (it is our own)
    return [*_within(root, (0.0, 0.0))]


def _within(node: ET.Element, moved: tuple[float, float]) -> Iterator[Shape]:
    """Yield the shapes of an element and below it; a group may be moved."""
    name = node.tag.removeprefix(f"{{{SPACE}}}")
    assert name in ALLOWED, name
    if name == "g" and "transform" in node.attrib:
        match = re.fullmatch(r"translate\((\S+) (\S+)\)", node.attrib["transform"])
        assert match, node.attrib["transform"]
        moved = (moved[0] + float(match[1]), moved[1] + float(match[2]))
    if name not in {"svg", "title", "desc", "g"}:
        left, top, right, bottom = _box(name, node)
        box = (left + moved[0], top + moved[1], right + moved[0], bottom + moved[1])
        yield Shape(name, node.attrib, node.text or "", box)
    for inner in node:
        yield from _within(inner, moved)


def _box(name: str, node: ET.Element) -> tuple[float, float, float, float]:
    def at(attribute: str) -> float:
        return float(node.get(attribute, "0"))

    if name == "rect":
        left, top = at("x"), at("y")
        return left, top, left + at("width"), top + at("height")
    if name == "line":
        xs, ys = sorted((at("x1"), at("x2"))), sorted((at("y1"), at("y2")))
        return xs[0], ys[0], xs[1], ys[1]
    if name == "circle":
        return at("cx") - at("r"), at("cy") - at("r"), at("cx") + at("r"), at("cy") + at("r")
    if name == "text":
        size = at("font-size")
        wide = letters(node.text or "", size, bold=node.get("font-weight") == "bold")
        anchor = node.get("text-anchor", "start")
        left = at("x") - {"start": 0.0, "middle": wide / 2, "end": wide}[anchor]
        return left, at("y") - 0.75 * size, left + wide, at("y") + 0.22 * size
    data = node.get("points") or node.get("d") or ""
    assert not re.search("[a-z]", data), "relative places cannot be read back"
    numbers = [float(one) for one in NUMBER.findall(data)]
    return (
        min(numbers[::2]), min(numbers[1::2]), max(numbers[::2]), max(numbers[1::2]),
    )  # fmt: skip


def named(picture: Picture, *names: str) -> list[Shape]:
    """Return the shapes of these names."""
    return [shape for shape in shapes(picture) if shape.name in names]


def require_sound(picture: Picture) -> None:
    """Fail where a shape leaves the picture, two lines of text meet, or nothing is said."""
    assert picture.title.strip()
    assert picture.text.strip()
    for shape in shapes(picture):
        left, top, right, bottom = shape.box
        assert left >= -0.1, shape
        assert top >= -0.1, shape
        assert right <= picture.width + 0.1, shape
        assert bottom <= picture.height + 0.1, shape
    for one, other in combinations(named(picture, "text"), 2):
        assert not _meet(one, other), (one, other)


def _meet(one: Shape, other: Shape) -> bool:
    apart = (
        one.box[2] <= other.box[0]
        or other.box[2] <= one.box[0]
        or one.box[3] <= other.box[1]
        or other.box[3] <= one.box[1]
    )
    return not apart
