"""A drawing as SVG that is safe to put on a page: shapes, lines, gradients, letters, nothing else.

In: bytes. Out: the SVG written anew from what was understood, and its size; or why it is refused.
What could run, load, or hide something else is refused and not cut out: a logo with a piece missing
is no logo, and whoever made it can save it anew.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any
from xml.etree import ElementTree as ET
from xml.parsers import expat

from tailblock.errors import TailblockError

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

SVG = "http://www.w3.org/2000/svg"
SHAPES = frozenset(
    {"svg", "g", "defs", "title", "desc", "metadata", "path", "rect", "circle", "ellipse", "line"}
    | {"polyline", "polygon", "text", "tspan", "linearGradient", "radialGradient", "stop"}
    | {"clipPath", "mask"}
)
LEFT_OUT = frozenset({"metadata"})  # says nothing on paper, and often who made it
MOST_ELEMENTS = 5_000
_WITHIN = re.compile(r"#[\w.-]+")  # a reference into the drawing itself
_URL = re.compile(r"url\(\s*['\"]?(?!#)", re.IGNORECASE)
_NUMBER = re.compile(r"\s*([0-9]*\.?[0-9]+)\s*(px|pt|mm|cm|in)?\s*")


class NotASafeDrawing(TailblockError):
    """An SVG holds what a page must not."""


@dataclass(frozen=True, slots=True)
class Vector:
    """A drawing and its width and height, whose ratio alone counts."""

    svg: str
    width: float
    height: float


def safe_svg(data: bytes) -> Vector:
    """Return a drawing that holds shapes and nothing else.

    Raises
    ------
    NotASafeDrawing
        It is no SVG, has no size, or holds something else; the text says what and in which line.
    """
    root = _parsed(data)
    ET.register_namespace("", SVG)
    size = _size(root)
    return Vector(ET.tostring(root, encoding="unicode"), *size)


def _parsed(data: bytes) -> ET.Element:
    reader = _Reader()
    try:
        return reader.read(data)
    except expat.ExpatError as error:
        raise NotASafeDrawing(f"it is no SVG: {error}") from None


class _Reader:
    """Builds the drawing from what may stay; what only an editor reads is left out."""

    def __init__(self) -> None:
        self._parser: Any = expat.ParserCreate(namespace_separator="}")
        self._built = ET.TreeBuilder()
        self._left_out = 0  # how deep within something that is left out
        self._count = 0

    def read(self, data: bytes) -> ET.Element:
        parser = self._parser
        parser.StartElementHandler, parser.EndElementHandler = self._start, self._end
        parser.CharacterDataHandler = self._text
        parser.StartDoctypeDeclHandler = parser.EntityDeclHandler = self._refuse
        parser.Parse(data, True)  # noqa: FBT003  it takes that by place
        root = self._built.close()
        if root.tag != f"{{{SVG}}}svg":
            raise NotASafeDrawing("it is no SVG: it does not begin with <svg>")
        return root

    def _start(self, name: str, given: Mapping[str, str]) -> None:
        self._count += 1
        if self._count > MOST_ELEMENTS:
            raise NotASafeDrawing(f"it has more than {MOST_ELEMENTS} elements")
        space, _, tag = name.rpartition("}")
        if space == SVG and tag not in SHAPES:
            raise _refused(self._parser, f"<{tag}>")
        if self._count == 1 and space != SVG:
            raise NotASafeDrawing("it is no SVG: it does not begin with <svg>")
        if self._left_out or space != SVG or tag in LEFT_OUT:
            self._left_out += 1
        else:
            self._built.start(f"{{{SVG}}}{tag}", dict(_attributes(self._parser, given)))

    def _end(self, name: str) -> None:
        if self._left_out:
            self._left_out -= 1
        else:
            self._built.end("{" + name)

    def _text(self, found: str) -> None:
        if not self._left_out:
            self._built.data(found)

    def _refuse(self, *_: object) -> None:
        raise _refused(self._parser, "a document type or an entity")


def _attributes(parser: Any, given: Mapping[str, str]) -> Iterator[tuple[str, str]]:
    """Yield the attributes of a shape that may stay; what points elsewhere is refused."""
    for name, value in given.items():
        space, _, local = name.rpartition("}")
        if local.lower().startswith("on"):
            raise _refused(parser, f"`{local}`")
        if local == "href":
            if not _WITHIN.fullmatch(value.strip()):
                raise _refused(parser, "a link to something outside")
            yield "href", value.strip()
        elif space:
            continue  # of an editor, or xml:space
        elif _URL.search(value) or "\\" in value or "@import" in value or "script:" in value:
            raise _refused(parser, f"something outside in `{local}`")
        else:
            yield local, value


def _refused(parser: Any, what: str) -> NotASafeDrawing:
    return NotASafeDrawing(f"line {parser.CurrentLineNumber} has {what}, which a logo may not have")


def _size(root: ET.Element) -> tuple[float, float]:
    """Return width and height from the view box, else from the attributes."""
    box = [float(part) for part in re.findall(r"-?[0-9.]+(?:e-?\d+)?", root.get("viewBox", ""))]
    if len(box) == 4 and box[2] > 0 and box[3] > 0:
        return box[2], box[3]
    sides = [_NUMBER.fullmatch(root.get(name, "")) for name in ("width", "height")]
    if all(sides):
        width, height = (float(side.group(1)) for side in sides if side)
        if width > 0 and height > 0:
            root.set("viewBox", f"0 0 {width:g} {height:g}")
            return width, height
    raise NotASafeDrawing("it has no `viewBox` and no `width` and `height`")
