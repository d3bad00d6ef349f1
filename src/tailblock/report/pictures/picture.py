"""A picture as it is handed to a renderer: shapes, a title, and the same in words.

In: the shapes as SVG elements, written by `svg`. Out: a whole SVG, for the inside of a page or by
itself.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from tailblock.report.pictures.svg import element, group, number

if TYPE_CHECKING:
    from markupsafe import Markup

Kind = Literal["gauge", "key", "evidence", "change", "hours", "instrument", "side"]

SPACE = "http://www.w3.org/2000/svg"
PAPER_FONT = "Libertinus Serif"  # the text of the PDF, which brings it along


@dataclass(frozen=True, slots=True)
class Picture:
    """A drawing of `width` by `height` [px of 1/96 in], its origin at the upper left.

    `title` says what it is, `text` all that it shows: nobody who does not see it misses anything.
    `body` is SVG; `kind` tells a renderer how large such pictures are shown.
    """

    kind: Kind
    title: str
    text: str
    width: float
    height: float
    body: Markup

    def inline(self, name: str) -> Markup:
        """Return the SVG for the inside of a page.

        Parameters
        ----------
        name
            The start of the ids of its title and description: letters, digits and dashes, another
            one for each picture of a page.
        """
        return element(
            "svg",
            self._words(f"{name}-title", f"{name}-text"),
            class_=f"picture {self.kind}",
            viewBox=self._box,
            role="img",
            aria_labelledby=f"{name}-title {name}-text",
        )

    def alone(self) -> Markup:
        """Return the SVG as a file of its own, in the letters of the PDF."""
        return element(
            "svg",
            self._words(None, None),
            xmlns=SPACE,
            viewBox=self._box,
            width=self.width,
            height=self.height,
            font_family=PAPER_FONT,
        )

    @property
    def _box(self) -> str:
        return f"0 0 {number(self.width)} {number(self.height)}"

    def _words(self, title: str | None, text: str | None) -> Markup:
        named = element("title", self.title, id=title)
        return group((named, element("desc", self.text, id=text), self.body))
