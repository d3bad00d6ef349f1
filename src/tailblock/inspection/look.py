"""How a shop's papers look: its logo, its colours, its own words, its templates.

In: the part of a `shop.yaml` that says so. Out: a frozen `Look`, or problems with their places. A
colour that cannot be read well on its ground is a problem, and the nearest that can is named.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from types import MappingProxyType
from typing import TYPE_CHECKING, Annotated, Literal

from pydantic import BaseModel, BeforeValidator, ConfigDict, StringConstraints

from tailblock.errors import Problem, TailblockError
from tailblock.inspection import contrast
from tailblock.inspection.locales import INCH_FIRST, ON_LETTER, UnknownLocale, territory_of
from tailblock.inspection.logo import Logo, read_logo

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping
    from pathlib import Path

    from tailblock.knowledge.yamlmarks import Marked

# What stands behind each colour in the report: paper, a calm box, a warning box.
GROUNDS: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "heading": ("#ffffff", "#f3f1ea", "#fbeee8"),
        "warning": ("#ffffff", "#fbeee8"),
    }
)
MOST_LINES = 12  # of an address, and paragraphs of own words
Line = Annotated[str, StringConstraints(strip_whitespace=True, min_length=1, max_length=200)]
Words = Annotated[str, StringConstraints(strip_whitespace=True, min_length=1, max_length=2_000)]


def _colour(value: object) -> object:
    if value is None:  # what YAML makes of `heading: #24463f`
        raise ValueError(
            'no colour: a bare # begins a comment (write it like "#24463f", in quotes)'
        )
    if not isinstance(value, str) or not contrast.is_colour(value):
        raise ValueError(f'`{value}` is no colour (write it like "#24463f", in quotes)')
    return value.lower()


def _several(value: object) -> object:
    """Take a single text as a list of one."""
    return [value] if isinstance(value, str) else value


Colour = Annotated[str, BeforeValidator(_colour)]
Paragraphs = Annotated[tuple[Words, ...], BeforeValidator(_several)]


class _Fields(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True, defer_build=True)


class LogoFields(_Fields):
    """A picture, and what it shows, for those who do not see it."""

    file: Line
    text: Line


class ColourFields(_Fields):
    """Colours of headings and of warnings."""

    heading: Colour = ""
    warning: Colour = ""


class WordFields(_Fields):
    """What the shop says in its own words, as paragraphs of plain text."""

    closing: Paragraphs = ()
    terms: Paragraphs = ()
    notice: Paragraphs = ()


class LookFields(_Fields):
    """The fields of a `shop.yaml` that say how its papers look."""

    logo: LogoFields | None = None
    colours: ColourFields = ColourFields()
    words: WordFields = WordFields()
    templates: Line | None = None
    locale: Line | None = None
    first_unit: Literal["mm", "inch"] | None = None
    paper: Literal["A4", "Letter"] | None = None


@dataclass(frozen=True, slots=True)
class Look:
    """How a shop's papers look.

    `colours` are `heading` and `warning` as `#rrggbb`, as far as the shop has its own; `templates`
    is a folder that is looked in before ours. `locale` is a tag of BCP 47 that CLDR knows, empty
    for none; `inch_first` and `paper` follow it where the shop does not say them.
    """

    logo: Logo | None = None
    colours: Mapping[str, str] = field(default_factory=dict)
    closing: tuple[str, ...] = ()
    terms: tuple[str, ...] = ()
    notice: tuple[str, ...] = ()
    templates: Path | None = None
    locale: str = ""
    inch_first: bool = False
    paper: str = "A4"


def look(fields: LookFields, marked: Marked, folder: Path) -> tuple[Look, tuple[Problem, ...]]:
    """Return how a shop's papers look, and what is wrong with it.

    Parameters
    ----------
    folder
        Where the shop's file stands; other files are named from there.
    """
    problems: list[Problem] = []

    def wrong(path: tuple[str, ...], message: str, mend: str = "") -> None:
        place = marked.root.below(path).place
        problems.append(Problem(*place, "", "bad-value", message, mend))

    logo = None
    if fields.logo is not None:
        path = folder / fields.logo.file
        try:
            logo = read_logo(path, fields.logo.text)
        except TailblockError as error:
            wrong(("logo", "file"), f"{path.name} cannot be the logo: {error}")
    colours = {name: value for name, value in fields.colours if value}
    for name, value in colours.items():
        for message, mend in _hard_to_read(name, value):
            wrong(("colours", name), message, mend)
    templates = None
    if fields.templates is not None:
        templates = folder / fields.templates
        if not templates.is_dir():
            wrong(("templates",), f"there is no folder {templates}", "make it, or leave the field")
    territory = ""
    if fields.locale is not None:
        try:
            territory = territory_of(fields.locale)
        except UnknownLocale as error:
            wrong(("locale",), str(error), error.mend)
    words = fields.words
    inch_first = territory in INCH_FIRST
    if fields.first_unit:
        inch_first = fields.first_unit == "inch"
    found = Look(
        logo,
        colours,
        words.closing,
        words.terms,
        words.notice,
        templates,
        fields.locale or "",
        inch_first,
        fields.paper or ("Letter" if territory in ON_LETTER else "A4"),
    )
    return found, tuple(problems)


def _hard_to_read(name: str, colour: str) -> Iterator[tuple[str, str]]:
    ground, found = contrast.worst(colour, GROUNDS[name])
    if found < contrast.ENOUGH:
        better = contrast.nearest_readable(colour, GROUNDS[name])
        said = (
            f"{colour} on {ground} has a contrast of {int(100 * found) / 100:.2f}:1, "
            f"{contrast.ENOUGH}:1 is needed"
        )
        yield said, f"the nearest that passes is {better}"
