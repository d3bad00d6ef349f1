"""What a reader of a page finds: its tags, attributes, headings and text."""

from __future__ import annotations

from dataclasses import dataclass, field
from html.parser import HTMLParser
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Iterator

DRAWN = frozenset(  # fields that say how the instrument is drawn, in words for programs
    {"part_id", "strings", "bridge", "bracing", "head", "tuners", "pickup"}
)
VOID = frozenset({"meta", "br", "img", "rect", "line", "path", "polygon"})


@dataclass
class Tag:
    """A tag with its attributes and the text within it."""

    name: str
    attributes: dict[str, str]
    text: str = ""


@dataclass
class Page(HTMLParser):
    """A parsed page; `tags` in their order, `text` without the style sheet."""

    tags: list[Tag] = field(default_factory=list)
    text: str = ""

    def __post_init__(self) -> None:
        super().__init__()
        self._open: list[Tag] = []

    def __hash__(self) -> int:
        return id(self)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        found = Tag(tag, {name: value or "" for name, value in attrs})
        self.tags.append(found)
        self.text += " ".join(found.attributes.values())
        if tag not in VOID:
            self._open.append(found)

    def handle_endtag(self, tag: str) -> None:
        if tag in VOID:
            return
        assert self._open[-1].name == tag, f"</{tag}> closes <{self._open[-1].name}>"
        self._open.pop()

    def handle_data(self, data: str) -> None:
        for tag in self._open:
            tag.text += data
        if not any(tag.name == "style" for tag in self._open):
            self.text += data

    def named(self, *names: str) -> list[Tag]:
        """Return the tags of these names, in their order."""
        return [tag for tag in self.tags if tag.name in names]

    @property
    def unclosed(self) -> list[str]:
        """Return the names of tags that nothing closes."""
        return [tag.name for tag in self._open]


def read(html: str) -> Page:
    """Parse a page; a tag that closes another one fails the test."""
    page = Page()
    page.feed(html)
    page.close()
    return page


def words(text: str) -> str:
    """Return a text with single spaces, in small letters: pages set capitals by place."""
    return " ".join(text.split()).casefold()


def texts_in(value: Any, skip: frozenset[str]) -> Iterator[str]:
    """Yield every text within plain data, but for what stands under the names to skip."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        for name, inner in value.items():
            if name not in skip:
                yield from texts_in(inner, skip)
    elif isinstance(value, list | tuple):
        for inner in value:
            yield from texts_in(inner, skip)
