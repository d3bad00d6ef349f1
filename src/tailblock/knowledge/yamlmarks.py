"""Safe YAML text to plain data, with the place of every node.

In: the text or bytes of one file. Out: `Marked` (mappings, lists, texts and nothing else, and where
each stands) or the problems that stand in the way, all of them located.

Scalars stay the characters as written: `0.50`, `0012`, `off` and `2031-03-02` are texts, and the
model of a field decides what it takes them for. Only a plain scalar that is left out, `~` or
`null` becomes `None` (YAML 1.2 core schema, https://yaml.org/spec/1.2.2/#103-core-schema). Tags,
merge keys and more than one document have no meaning here and are refused.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import NamedTuple, Protocol

import yaml

from tailblock.errors import Problem
from tailblock.knowledge.yamlwords import in_our_words, place_of_error

LARGEST = 4_000_000  # bytes of a file
DEEPEST = 24  # lists and mappings within one another
MOST_ALIASES = 100  # of a file
MOST_NODES = 500_000  # aliases counted as if they were written out

Data = dict[str, "Data"] | list["Data"] | str | None
Path = Sequence[str | int]

_LOADER: type = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
_NULL = frozenset({"", "~", "null", "Null", "NULL"})
_FORBIDDEN = re.compile("[^\t\n\r\x20-\x7e\x85\xa0-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


class Place(NamedTuple):
    """Where something stands, line and column counted from 1."""

    file: str
    line: int
    column: int


_NO_KEYS: Mapping[str, Place] = MappingProxyType({})  # one for all that are no mappings


@dataclass(slots=True)
class Mark:
    """Where a node stands and the marks of what it holds.

    `end` is line and column after its last character; of a block list or mapping it is where the
    next thing begins. `flow` says that it is written in braces or brackets. `keys` holds the places
    of a mapping's field names.
    """

    place: Place
    end: tuple[int, int] = (0, 0)
    flow: bool = False
    children: dict[str, Mark] | list[Mark] | None = None
    keys: Mapping[str, Place] = field(default_factory=lambda: _NO_KEYS)
    size: int = 1  # nodes below and including this one, aliases written out

    def child(self, step: str | int) -> Mark | None:
        """Return the mark of a field or an item, if there is one."""
        if isinstance(self.children, dict):
            return self.children.get(step) if isinstance(step, str) else None
        if isinstance(self.children, list) and isinstance(step, int):
            return self.children[step] if 0 <= step < len(self.children) else None
        return None

    def below(self, path: Path) -> Mark:
        """Return the mark of the node at a path, or of the nearest node above it.

        Steps that lead nowhere are left out: a path may name a field that is missing, or the first
        item of what is written as a single value.
        """
        mark = self
        for step in path:
            mark = mark.child(step) or mark
        return mark

    def name_below(self, path: Path) -> Place:
        """Return the place of the name of the field at a path, or else of its value."""
        *above, last = path
        return self.below(above).keys.get(str(last)) or self.below(path).place


@dataclass(frozen=True, slots=True)
class Marked:
    """The plain data of a file and the places in it."""

    data: Data
    file: str
    root: Mark

    def place_of(self, path: Path) -> tuple[int, int]:
        """Return line and column of the value at a path (see `Mark.below`), counted from 1."""
        place = self.root.below(path).place
        return place.line, place.column


def read_marked(source: str | bytes, file: str) -> tuple[Marked | None, tuple[Problem, ...]]:
    r"""Read one YAML document.

    Parameters
    ----------
    source
        The whole file, as text or as bytes in UTF-8 (a byte order mark is allowed).
    file
        Its name for messages.

    Returns
    -------
    marked
        The data with their places; None if anything is wrong.
    problems
        Everything that is wrong, by place. Empty exactly if `marked` is there.

    >>> marked, problems = read_marked("age: over-40\nminutes: 0.50", "some.yaml")
    >>> marked.data, marked.place_of(["minutes"])
    ({'age': 'over-40', 'minutes': '0.50'}, (2, 10))
    """
    text, problem = _decoded(source, file)
    if problem is not None:
        return None, (problem,)
    builder = _Builder(file)
    try:
        for event in yaml.parse(text, Loader=_LOADER):
            builder.take(event)
    except yaml.MarkedYAMLError as error:
        builder.problem(*place_of_error(error, text), *in_our_words(error, text))
    except _PastLimitError as error:
        builder.problem(error.line, error.column, str(error), "split the file")
    if builder.problems:
        return None, tuple(sorted(builder.problems))
    return Marked(builder.data, file, builder.root), ()


def _decoded(source: str | bytes, file: str) -> tuple[str, Problem | None]:
    """Return the text, or what is wrong with its size or its characters."""
    if len(source) > LARGEST:
        message = f"the file is larger than {LARGEST:,} bytes"
        return "", Problem(file, 1, 1, "", "yaml", message, "shorten its texts, or split it")
    try:
        text = source if isinstance(source, str) else source.decode()
    except UnicodeDecodeError as error:
        before = error.object[: error.start].decode()
        line, column = _line_and_column(before, len(before))
        message = f"byte 0x{error.object[error.start]:02x} is not UTF-8"
        mend = "save the file in the encoding UTF-8"
        return "", Problem(file, line, column, "", "yaml", message, mend)
    text = text.removeprefix("\ufeff")
    forbidden = _FORBIDDEN.search(text)
    if forbidden:
        line, column = _line_and_column(text, forbidden.start())
        message = f"the control character U+{ord(forbidden[0]):04X} may not stand in a text"
        return "", Problem(file, line, column, "", "yaml", message, "delete it")
    return text, None


def _line_and_column(text: str, offset: int) -> tuple[int, int]:
    before = text[:offset]
    return before.count("\n") + 1, offset - (before.rfind("\n") + 1) + 1


class _PastLimitError(Exception):
    """The file goes past a limit that keeps reading safe; the place is counted from 0."""

    def __init__(self, line: int, column: int, what: str) -> None:
        self.line, self.column = line, column
        super().__init__(what)


class _Point(Protocol):
    """A place as the parser gives it, counted from 0."""

    line: int
    column: int
    index: int


def _start(event: yaml.Event) -> _Point:
    return event.start_mark  # type: ignore[return-value]  # the parser sets it on every event


def _end(event: yaml.Event) -> _Point:
    return event.end_mark  # type: ignore[return-value]  # the same


@dataclass(slots=True)
class _Open:
    """A list or mapping that is still being read; a mapping waits for a name or for a value."""

    data: dict[str, Data] | list[Data]
    mark: Mark
    keys: dict[str, Place]
    anchor: str | None
    name: str | None = None
    named: bool = False


class _Builder:
    """Puts data and marks together from the parser's events, without recursion."""

    def __init__(self, file: str) -> None:
        self.file = file
        self.problems: list[Problem] = []
        self.data: Data = None
        self.root = Mark(Place(file, 1, 1))
        self._open: list[_Open] = []
        self._anchors: dict[str, tuple[Data, Mark]] = {}
        self._aliases = 0
        self._documents = 0

    def problem(self, line: int, column: int, message: str, mend: str = "") -> None:
        """Note a problem at a place that is counted from 0."""
        self.problems.append(Problem(self.file, line + 1, column + 1, "", "yaml", message, mend))

    def _place(self, point: _Point) -> Place:
        return Place(self.file, point.line + 1, point.column + 1)

    def take(self, event: yaml.Event) -> None:
        """Take in the next event of the parser."""
        if isinstance(event, yaml.ScalarEvent):
            self._scalar(event)
        elif isinstance(event, yaml.CollectionStartEvent):
            self._begin(event)
        elif isinstance(event, yaml.CollectionEndEvent):
            self._finish(event)
        elif isinstance(event, yaml.AliasEvent):
            self._alias(event)
        elif isinstance(event, yaml.DocumentStartEvent):
            self._documents += 1
            if self._documents == 2:
                at = _start(event)
                self.problem(at.line, at.column, "a second document begins here", "delete `---`")

    def _scalar(self, event: yaml.ScalarEvent) -> None:
        start, end = _start(event), _end(event)
        mark = Mark(self._place(start), (end.line + 1, end.column + 1))
        if event.tag is not None:
            self._check_tag(event)
        if event.style == '"' and _FORBIDDEN.search(event.value):
            message = "an escape stands for a character that may not stand in a text"
            self.problem(start.line, start.column, message, "delete it")
        value = None if event.implicit[0] and event.value in _NULL else event.value
        if start.index == end.index and self._open and self._open[-1].mark.flow:
            self._comma(self._open[-1])
        self._put(value, mark, event.anchor)

    def _comma(self, parent: _Open) -> None:
        """Explain a name without a value in braces: most often a comma in a text."""
        if parent.named and parent.name is not None:
            _, line, column = parent.keys[parent.name]
            message = f"`{parent.name}` has no value: inside braces a comma begins a new field"
            mend = "if the comma belongs to a text, put the whole text in quotes"
            self.problem(line - 1, column - 1, message, mend)

    def _begin(self, event: yaml.CollectionStartEvent) -> None:
        start = _start(event)
        if len(self._open) >= DEEPEST:
            raise _PastLimitError(
                start.line,
                start.column,
                f"more than {DEEPEST} lists and mappings within one another",
            )
        self._check_tag(event)
        mark = Mark(self._place(start), flow=bool(event.flow_style))
        keys: dict[str, Place] = {}
        if isinstance(event, yaml.MappingStartEvent):
            mark.children, mark.keys = {}, keys
            self._open.append(_Open({}, mark, keys, event.anchor))
        else:
            mark.children = []
            self._open.append(_Open([], mark, keys, event.anchor))

    def _finish(self, event: yaml.CollectionEndEvent) -> None:
        done = self._open.pop()
        done.mark.end = (_end(event).line + 1, _end(event).column + 1)
        self._put(done.data, done.mark, done.anchor)

    def _alias(self, event: yaml.AliasEvent) -> None:
        at = _start(event)
        self._aliases += 1
        if self._aliases > MOST_ALIASES:
            raise _PastLimitError(at.line, at.column, f"more than {MOST_ALIASES} aliases (`*name`)")
        if event.anchor not in self._anchors:
            mend = "put a text that begins with * in quotes"
            self.problem(at.line, at.column, f"`*{event.anchor}` stands for nothing above", mend)
            self._put(None, Mark(self._place(at)), None)
            return
        data, mark = self._anchors[event.anchor]
        self._put(data, mark, None)

    def _check_tag(self, event: yaml.ScalarEvent | yaml.CollectionStartEvent) -> None:
        if event.tag not in {None, "!"}:
            at = _start(event)
            mend = "put a text that begins with ! in quotes"
            self.problem(at.line, at.column, "tags (`!name`) are not used here", mend)

    def _put(self, value: Data, mark: Mark, anchor: str | None) -> None:
        """Hand a finished node to what holds it."""
        if anchor is not None:
            self._anchors[anchor] = (value, mark)
        if not self._open:
            self.data, self.root = value, mark
            return
        parent = self._open[-1]
        if isinstance(parent.data, list):
            parent.data.append(value)
            parent.mark.children.append(mark)  # type: ignore[union-attr]  # a list has a list
            self._grow(parent, mark)
        elif not parent.named:
            self._name(parent, value, mark)
        else:
            if parent.name is not None:
                parent.data[parent.name] = value
                parent.mark.children[parent.name] = mark  # type: ignore[index, call-overload]
                self._grow(parent, mark)
            parent.named = False

    def _grow(self, parent: _Open, mark: Mark) -> None:
        parent.mark.size += mark.size
        if parent.mark.size > MOST_NODES:
            what = f"more than {MOST_NODES:,} values with all aliases written out"
            raise _PastLimitError(mark.place.line - 1, mark.place.column - 1, what)

    def _name(self, parent: _Open, value: Data, mark: Mark) -> None:
        """Take a node as the name of the next field."""
        parent.named = True
        parent.name = value if isinstance(value, str) else None
        line, column = mark.place.line - 1, mark.place.column - 1
        if parent.name is None:
            what = "a field has no name" if value is None else "a field's name must be one word"
            self.problem(line, column, what)
        elif parent.name in parent.keys:
            first = parent.keys[parent.name].line
            message = f"`{parent.name}` is given twice; the first is in line {first}"
            self.problem(line, column, message, "keep one of the two")
            parent.name = None
        else:
            parent.keys[parent.name] = mark.place
