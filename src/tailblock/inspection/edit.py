"""Adding to an inspection file without touching what stands in it.

In: the text of a file and the fields to add. Out: the text with one insertion; every character
outside it is as it was (comments, line ends, indentation, a missing last line end). The result is
read again and must be the old data plus the addition, else the edit is refused at its place.
"""

from __future__ import annotations

import copy
import re
from dataclasses import dataclass
from typing import TYPE_CHECKING, cast

from tailblock.errors import ProblemsFound, TailblockError
from tailblock.inspection import spell
from tailblock.knowledge.yamlmarks import read_marked

if TYPE_CHECKING:
    from collections.abc import Iterable

    from tailblock.inspection.model import (
        AcceptedFields,
        ConfirmedFields,
        PhotoFields,
        ReadingFields,
        VisitFields,
        WorkFields,
    )
    from tailblock.knowledge.yamlmarks import Data, Mark, Marked

_BREAK = re.compile("\r\n|[\n\r\x85\u2028\u2029]")  # what YAML counts as the end of a line
_REST_OF_LINE = re.compile("[ \t]*(?:#[^\n\r\x85\u2028\u2029]*)?")

Spot = tuple[int, int]  # line and column, counted from 1


class EditRefused(TailblockError):
    """The file is written in a way that cannot be added to safely; it stays as it is."""

    def __init__(self, file: str, at: Spot, why: str, mend: str) -> None:
        self.file, self.at, self.why, self.mend = file, at, why, mend
        super().__init__(f"{file}:{at[0]}:{at[1]}: nothing was added: {why} ({mend})")


class WorkAfterReadings(TailblockError):
    """Work belongs before the readings of its visit, and this visit has some."""

    def __init__(self, visit: int) -> None:
        self.visit = visit
        super().__init__(
            f"visit {visit + 1} already has readings, all taken before this work "
            "(open a new visit, and add the work there)"
        )


def add_reading(text: str, file: str, visit: int, fields: ReadingFields) -> str:
    """Return the text with a reading at the end of a visit.

    Parameters
    ----------
    text
        The whole file.
    file
        Its name for messages.
    visit
        Index of the visit, from 0.
    fields
        What the reading says; a `setup` that is left out is that of the reading before it.

    Raises
    ------
    EditRefused
        The file is written in a way that cannot be added to.
    ControlCharacter
        One of the texts cannot be written.
    ProblemsFound
        The file is not YAML.
    """
    return _Page(text, file).append(("visits", visit), "readings", spell.plain(fields))


def add_confirmed(text: str, file: str, visit: int, fields: ConfirmedFields) -> str:
    """Return the text with a fault confirmed or seen to be absent; see `add_reading`."""
    return _Page(text, file).append(("visits", visit), "confirmed", spell.plain(fields))


def add_accepted(text: str, file: str, visit: int, fields: AcceptedFields) -> str:
    """Return the text with a held-back move that a person accepts; see `add_reading`."""
    return _Page(text, file).append(("visits", visit), "accepted", spell.plain(fields))


def add_work(text: str, file: str, visit: int, fields: WorkFields) -> str:
    """Return the text with a remedy done before the readings of a visit; see `add_reading`.

    Raises
    ------
    WorkAfterReadings
        The visit has readings or confirmations, which would then be about another state.
    """
    page = _Page(text, file)
    written = cast("dict[str, Data]", page.at(("visits", visit)))
    if written.get("readings") or written.get("confirmed"):
        raise WorkAfterReadings(visit)
    return page.append(("visits", visit), "work", spell.plain(fields))


def add_visit(text: str, file: str, fields: VisitFields) -> str:
    """Return the text with a new visit at its end; see `add_reading`."""
    return _Page(text, file).append((), "visits", spell.plain(fields), in_lines=True)


def add_photo(text: str, file: str, at: tuple[int, int] | None, fields: PhotoFields) -> str:
    """Return the text with a photograph of a reading, or of the instrument as a whole.

    Parameters
    ----------
    at
        Index of the visit and of the reading in it, from 0; None for the instrument.

    Raises
    ------
    EditRefused, ControlCharacter, ProblemsFound
        As in `add_reading`.
    """
    steps = ("visits", at[0], "readings", at[1]) if at else ("instrument",)
    return _Page(text, file).append(steps, "photos", spell.plain(fields))


def close(text: str, file: str, visit: int) -> str:
    """Return the text with `closed: true` on a visit: the job ends with it.

    Raises
    ------
    EditRefused
        As in `add_reading`, and if the visit has the field `closed` already.
    """
    page = _Page(text, file)
    steps = ("visits", visit)
    page.require_without(steps, "closed", "the visit")
    return page.add_field(steps, "closed", "true")


def retract(text: str, file: str, visit: int, reading: int) -> str:
    """Return the text with a reading taken out; it stays in the file, marked `retracted: true`.

    Raises
    ------
    EditRefused
        As in `add_reading`, and if the reading has the field `retracted` already.
    """
    page = _Page(text, file)
    steps = ("visits", visit, "readings", reading)
    page.require_without(steps, "retracted", "the reading")
    return page.add_field(steps, "retracted", "true")


@dataclass(frozen=True, slots=True)
class _Insertion:
    at: int
    text: str


class _Page:
    """A text, its data with their places, and the one insertion that an edit makes."""

    def __init__(self, text: str, file: str) -> None:
        self.mark_of_order = "\ufeff" if text.startswith("\ufeff") else ""
        self.text = text.removeprefix("\ufeff")
        self.file = file
        self.marked = self._read(self.text)
        self.breaks = list(_BREAK.finditer(self.text))
        self.line_starts = [0, *(found.end() for found in self.breaks)]

    def _read(self, text: str) -> Marked:
        marked, problems = read_marked(text, self.file)
        if marked is None:
            raise ProblemsFound(problems)
        return marked

    def at(self, steps: tuple[str | int, ...]) -> Data:
        return _at(self.marked.data, steps)

    def mark(self, steps: tuple[str | int, ...]) -> Mark:
        return self.marked.root.below(steps)

    def require_without(self, steps: tuple[str | int, ...], name: str, what: str) -> None:
        """Refuse to write a flag where it stands already."""
        keys = self.mark(steps).keys
        if name in keys:
            _, line, column = keys[name]
            mend = f"write `{name}: true` by hand"
            raise EditRefused(self.file, (line, column), f"{what} says `{name}` already", mend)

    def append(
        self,
        steps: tuple[str | int, ...],
        name: str,
        new: dict[str, Data],
        *,
        in_lines: bool = False,
    ) -> str:
        """Append to the list `name` of the mapping at `steps`, making the list if need be."""
        holder = self.mark(steps)
        listed = cast("dict[str, Data]", self.at(steps)).get(name)
        if name not in holder.keys:
            return self.add_field(steps, name, [new])
        mark = holder.child(name) or holder
        lines = list(spell.item(new)) if in_lines else [f"- {spell.flow(new)}"]
        if mark.flow:
            insertion = self._into_flow(mark, spell.flow(new))
        elif not listed:
            indent = self._column(holder) + 2
            insertion = self._after_line(self._end(mark), indent, lines)
        else:
            insertion = self._after_line(self._end(mark), self._dash(mark), lines)
        return self._checked(insertion, (*steps, name), new)

    def add_field(self, steps: tuple[str | int, ...], name: str, value: Data) -> str:
        """Add a field at the end of the mapping at `steps`."""
        holder = self.mark(steps)
        if holder.flow:
            insertion = self._into_flow(holder, f"{name}: {spell.flow(value)}")
        else:
            lines = spell.field(name, value)
            insertion = self._after_line(self._end(holder), self._column(holder), lines)
        return self._checked(insertion, (*steps, name), value)

    def _into_flow(self, mark: Mark, text: str) -> _Insertion:
        """Insert after the last thing in braces or brackets, or after the opening one."""
        if not mark.children:
            return _Insertion(self._offset((mark.place.line, mark.place.column)) + 1, text)
        return _Insertion(self._offset(self._end(self._last(mark))), f", {text}")

    def _after_line(self, end: Spot, indent: int, lines: Iterable[str]) -> _Insertion:
        """Insert whole lines below the one that ends there, behind its comment."""
        line_end = self._line_end(end[0])
        new = line_end.join(" " * indent + line for line in lines)
        at = self._offset(end)
        if not (end[1] == 1 and at > 0):  # a text in several lines ends where the next one begins
            rest = _REST_OF_LINE.match(self.text, at)
            at = rest.end() if rest else at
            found = _BREAK.match(self.text, at)
            if not found:
                return _Insertion(at, line_end + new)
            at = found.end()
        return _Insertion(at, new + line_end)

    def _line_end(self, line: int) -> str:
        """Return what ends a line, or what ended the one before if it is the last."""
        return self.breaks[min(line, len(self.breaks)) - 1][0] if self.breaks else "\n"

    def _end(self, mark: Mark) -> Spot:
        """Return where the last thing in a node ends; what follows may be comments and blanks."""
        return mark.end if mark.flow or not mark.children else self._end(self._last(mark))

    def _last(self, mark: Mark) -> Mark:
        """Return the last thing in a list or mapping, if it is written there and not elsewhere."""
        children = mark.children or []
        marks = list(children.values()) if isinstance(children, dict) else children
        last = marks[-1]
        before = [m.place for m in marks[:-1]] + list(mark.keys.values())
        if any(place > last.place for place in before) or any(m is last for m in marks[:-1]):
            spot = (last.place.line, last.place.column)
            mend = "write out what the alias stands for"
            raise EditRefused(self.file, spot, "an alias (`*name`) stands last in the list", mend)
        return last

    def _column(self, mapping: Mark) -> int:
        """Return the indentation of a block mapping's fields."""
        return min(place.column for place in mapping.keys.values()) - 1

    def _dash(self, mark: Mark) -> int:
        """Return the indentation of a block list's dashes."""
        spot = (mark.place.line, mark.place.column)
        if self.text[self._offset(spot)] != "-":
            mend = "begin it with its first dash"
            raise EditRefused(self.file, spot, "the list begins with an anchor", mend)
        return mark.place.column - 1

    def _offset(self, spot: Spot) -> int:
        return self.line_starts[spot[0] - 1] + spot[1] - 1

    def _checked(self, insertion: _Insertion, steps: tuple[str | int, ...], new: Data) -> str:
        """Return the new text if it reads as the old data plus the addition."""
        text = self.text[: insertion.at] + insertion.text + self.text[insertion.at :]
        *above, name = steps
        wanted = copy.deepcopy(self.marked.data)
        holder = cast("dict[str, Data]", _at(wanted, above))
        if isinstance(new, dict):
            holder[str(name)] = [*cast("list[Data]", holder[str(name)] or []), new]
        else:
            holder[str(name)] = new
        marked, _ = read_marked(text, self.file)
        if marked is None or marked.data != wanted:
            mark = self.mark(steps)
            spot = (mark.place.line, mark.place.column)
            mend = "write this part plainly: an item a line, the same indentation"
            raise EditRefused(self.file, spot, "the addition would change what stands here", mend)
        return self.mark_of_order + text


def _at(data: Data, steps: Iterable[str | int]) -> Data:
    for step in steps:
        data = data[step]  # type: ignore[index]  # the caller's path exists
    return data
