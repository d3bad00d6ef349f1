"""The words of a template as messages of a catalogue.

In: the tokens of a template. Out: the same with each run of words replaced by a call that says it
in the language that is spoken. A template stays plain English, and no word of it can be forgotten,
nor any of a shop's own template. `extract` lists the messages, for the tool that collects them.

A message is the text between two tags or marks, with what is filled in as `{1}`, `{2}`.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from html import unescape
from typing import IO, TYPE_CHECKING

from jinja2 import Environment, nodes
from jinja2.ext import Extension
from jinja2.lexer import Token
from markupsafe import Markup

from tailblock.messages import _

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator

    from jinja2.lexer import TokenStream

SAY = "_say"  # the name by which a template calls
_WORD = re.compile(r"[^\W\d_]{2,}")
_TITLE = re.compile(r"[A-Z][a-z]+(?: |$)")  # of a text in an expression: a word, and no id
_ATTRIBUTE = re.compile(r'(?<=[\s"])(?:aria-label|data-label|alt|title)="([^"]*)"')
_MARKS = re.compile(r"(\n+[ \t]*(?:#+ |[-*+] |\d+\. |>)?|^(?:#+ |[-*+] )|\*\*|~~|\||<[^<>]*>)")
_FILLED = re.compile(r"\{(\d+)\}")


def said(shown: Callable[[object], object]) -> Callable[..., Markup]:
    """Return what says a message within a template.

    Parameters
    ----------
    shown
        What is done with each value before it is written; it escapes.
    """

    def say(message: str, *filled: object) -> Markup:
        told = _(message)
        parts = _FILLED.split(told)
        text = []
        for at, part in enumerate(parts):
            if at % 2:
                text.append(str(shown(filled[int(part) - 1])))
            elif told == message and not {"<", "&"} & {*part}:
                text.append(part)  # as it stands in the template
            else:
                bare = part.strip()
                text.append(part.replace(bare, str(shown(bare))) if bare else part)
        return Markup("".join(text))  # noqa: S704  every part of it was escaped

    return say


class Words(Extension):
    """Lets the words of every template be said as messages, but those of style sheets."""

    def filter_stream(self, stream: TokenStream) -> Iterable[Token]:
        """Return the tokens of a template with its words as messages."""
        if stream.name is not None and stream.name.endswith(".css"):
            return stream
        return _Reader().read(stream)


@dataclass
class _Reader:
    """Reads tokens; `run` holds what has been read of a message: texts, and values as tokens."""

    run: list[str | list[Token]] = field(default_factory=list)
    in_tag: bool = False
    in_style: bool = False

    def read(self, stream: Iterable[Token]) -> Iterator[Token]:
        line = 1
        tokens = iter(stream)
        for token in tokens:
            line = token.lineno
            if token.type == "data":
                yield from self._data(token)
            elif token.type == "variable_begin":
                value = [
                    one for one in _until(tokens, "variable_end") if one.type != "variable_end"
                ]
                value = list(_titles(value))
                if self.in_tag or self.in_style:
                    yield from _written(value, line)
                else:
                    self.run.append(value)
            else:
                yield from self._said(line)
                yield from _titles([token]) if token.type == "string" else [token]
        yield from self._said(line)

    def _data(self, token: Token) -> Iterator[Token]:
        line, text = token.lineno, token.value
        if self.in_style or self.in_tag:
            end = "</style>" if self.in_style else ">"
            before, found, text = text.partition(end)
            yield from _attributes(before + found, line)
            if not found:
                return
            self.in_style = self.in_tag = False
        if "<style>" in text:
            before, found, after = text.partition("<style>")
            yield from self._text(before, line)
            yield from self._said(line)
            yield Token(line, "data", found + after)
            self.in_style = "</style>" not in after
            return
        last = text.rfind("<")
        if last >= 0 and ">" not in text[last:] and text[last + 1 : last + 2].isalpha():
            yield from self._text(text[:last], line)
            yield from self._said(line)
            yield from _attributes(text[last:], line)
            self.in_tag = True
            return
        yield from self._text(text, line)

    def _text(self, text: str, line: int) -> Iterator[Token]:
        """Read text; a mark or a tag ends a message."""
        for at, part in enumerate(_MARKS.split(text)):
            if at % 2:
                yield from self._said(line)
                yield from _attributes(part, line)
            elif part:
                self.run.append(part)
            line += part.count("\n")

    def _said(self, line: int) -> Iterator[Token]:
        """Yield what has been read, as a message if there is a word in it."""
        run, self.run = self.run, []
        if not any(_WORD.search(unescape(part)) for part in run if isinstance(part, str)):
            for part in run:
                if isinstance(part, str):
                    yield Token(line, "data", part)
                else:
                    yield from _written(part, line)
            return
        text = ""
        values = []
        for part in run:
            if isinstance(part, str):
                text += part
            else:
                values.append(part)
                text += f"{{{len(values)}}}"
        bare = text.strip()
        before, _mark, after = text.partition(bare)
        if before:
            yield Token(line, "data", before)
        yield from _written(list(_call(unescape(bare), values, line)), line)
        if after:
            yield Token(line, "data", after)


def _until(tokens: Iterator[Token], kind: str) -> Iterator[Token]:
    for token in tokens:
        yield token
        if token.type == kind:
            return


def _written(value: list[Token], line: int) -> Iterator[Token]:
    yield Token(line, "variable_begin", "{{")
    yield from value
    yield Token(line, "variable_end", "}}")


def _call(message: str, values: list[list[Token]], line: int) -> Iterator[Token]:
    yield Token(line, "name", SAY)
    yield Token(line, "lparen", "(")
    yield Token(line, "string", message)
    for value in values:
        yield Token(line, "comma", ",")
        yield Token(line, "lparen", "(")
        yield from value
        yield Token(line, "rparen", ")")
    yield Token(line, "rparen", ")")


def _titles(tokens: list[Token]) -> Iterator[Token]:
    """Yield an expression with its titles as messages: a text that begins with a whole word."""
    for token in tokens:
        if token.type == "string" and _TITLE.match(token.value):
            yield from _call(token.value, [], token.lineno)
        else:
            yield token


def _attributes(text: str, line: int) -> Iterator[Token]:
    """Yield a tag with what people read of its attributes as messages."""
    done = 0
    for found in _ATTRIBUTE.finditer(text):
        if _WORD.search(found[1]):
            yield Token(line, "data", text[done : found.start(1)])
            yield from _written(list(_call(unescape(found[1]), [], line)), line)
            done = found.end(1)
    if text[done:]:
        yield Token(line, "data", text[done:])


def extract(
    fileobj: IO[bytes],
    keywords: object,  # noqa: ARG001  the names of these are Babel's
    comment_tags: object,  # noqa: ARG001
    options: object,  # noqa: ARG001
) -> Iterator[tuple[int, str, str, list[str]]]:
    """Yield the messages of a template as Babel wants them: line, function, message, comments."""
    read = Environment(extensions=[Words], trim_blocks=True, lstrip_blocks=True)  # noqa: S701
    for call in read.parse(fileobj.read().decode("utf-8")).find_all(nodes.Call):
        if isinstance(call.node, nodes.Name) and call.node.name == SAY:
            (message, *_rest) = call.args
            if isinstance(message, nodes.Const):
                yield call.lineno, "gettext", str(message.value), []
