"""What `begin` asks, one thing after the other.

In: a way to ask, and what was given already. Out: answers; a wrong one is asked again.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from tailblock.errors import TailblockError
from tailblock.knowledge.entries import UNKNOWN
from tailblock.measures import UnitError, parse

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from tailblock.cli.output import Screen
    from tailblock.knowledge.entries import Trait


class NotAnswered(TailblockError):
    """Something is needed that was neither given nor answered."""

    def __init__(self, question: str, option: str) -> None:
        self.question, self.option = question, option
        super().__init__(f"{question}: no answer; nothing was written (give {option})")


class NotOneOf(TailblockError):
    """A value is none of those that there are."""

    def __init__(self, name: str, given: str, values: Sequence[str]) -> None:
        self.name, self.given, self.values = name, given, tuple(values)
        super().__init__(f"{name} cannot be {given!r} (it is one of {', '.join(values)})")


@dataclass(frozen=True, slots=True)
class Questions:
    """Asks a person; `silent` takes what is offered without asking."""

    screen: Screen
    silent: bool

    def text(self, question: str, option: str, offered: str | None) -> str:
        """Return a text; an empty answer takes what is offered, None offers nothing.

        Raises
        ------
        NotAnswered
            Nothing is offered, and nobody answers.
        """
        while True:
            said = None if self.silent else self._line(question, offered)
            if said:
                return said
            if offered is not None:
                return offered
            if said is None:
                raise NotAnswered(question, option)
            self.screen.say("This is needed.", indent=2)

    def length(self, question: str) -> str:
        """Return a length with its unit, or nothing."""
        while True:
            said = self.text(question, "", "")
            try:
                if said:
                    parse(said, "length")
            except UnitError as error:
                self.screen.say(str(error), indent=2)
                continue
            return said

    def traits(self, traits: Mapping[str, Trait], given: Mapping[str, str]) -> dict[str, str]:
        """Return a value for every trait: as given, or as answered.

        Raises
        ------
        NotAnswered
            Without questions, what is neither given nor usual nor may stay unknown; all at once.
        """
        if self.silent:
            left = [t for t, trait in traits.items() if t not in given and not _offered(trait)]
            if left:
                options = " ".join(f"--trait {trait}=..." for trait in left)
                raise NotAnswered(", ".join(left), options)
        return {
            name: given[name] if name in given else self.trait(trait)
            for name, trait in traits.items()
        }

    def trait(self, trait: Trait) -> str:
        """Return the value of a trait, asked with how to tell it.

        Raises
        ------
        NotAnswered
            It cannot stay unknown, no value is usual, and nobody answers.
        """
        offered = _offered(trait)
        if not self.silent:
            self.screen.say()
            self.screen.say(trait.ask, "title")
            if trait.how:
                self.screen.say(trait.how, "quiet", indent=2)
            for number, value in enumerate(trait.values, start=1):
                text = trait.texts.get(value)
                self.screen.say(f"{number}  {value}{f': {text}' if text else ''}", indent=2)
        while True:
            said = self.text(trait.id, f"--trait {trait.id}=...", offered)
            try:
                return value_of(trait, said)
            except NotOneOf as error:
                self.screen.say(str(error), indent=2)

    def _line(self, question: str, offered: str | None) -> str | None:
        line = self.screen.ask(f"{question}{f' [{offered}]' if offered else ''}: ")
        return None if line is None else line.strip()


def _offered(trait: Trait) -> str | None:
    """Return what an empty answer means: the usual value, else unknown where that may be."""
    return trait.default or (UNKNOWN if trait.may_be_unknown else None)


def value_of(trait: Trait, said: str) -> str:
    """Return the value of a trait that a text names, by its word or by its number in the list.

    Raises
    ------
    NotOneOf
    """
    word = "-".join(said.casefold().split())
    if word in trait.values:
        return word
    if word.isdecimal() and 1 <= int(word) <= len(trait.values):
        return trait.values[int(word) - 1]
    raise NotOneOf(trait.id, said, trait.values)
