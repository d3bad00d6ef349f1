"""The fields of an inspection file, as they are written.

In: plain data from YAML (texts, lists, mappings). Out: frozen entries whose quantities, ids and
answers are still text; `store` gives them their meaning. The same entries are what `edit` adds.
"""

from __future__ import annotations

from datetime import date, datetime
from typing import Annotated, Literal

from pydantic import (
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    PlainSerializer,
    StringConstraints,
)

Text = Annotated[str, StringConstraints(strip_whitespace=True, min_length=1, max_length=10_000)]
# As long as the file may be: who measures much writes much.
Note = Annotated[str, StringConstraints(strip_whitespace=True, min_length=1)]


def _true_or_false(value: object) -> object:
    """Take `true` and `false` only: in YAML 1.2 `yes` and `on` are words like any other."""
    known = {"true": True, "false": False, True: True, False: False}
    if not isinstance(value, str | bool) or value not in known:
        raise ValueError("write true or false")
    return known[value]


def _day(value: object) -> object:
    """Take a day as ISO 8601 writes it."""
    try:
        return date.fromisoformat(value) if isinstance(value, str) else value
    except ValueError:
        raise ValueError("write a date as year-month-day, such as 2031-03-02") from None


def _moment(value: object) -> object:
    """Take a moment as ISO 8601 writes it."""
    try:
        return datetime.fromisoformat(value) if isinstance(value, str) else value
    except ValueError:
        raise ValueError("write a moment as 2031-03-02T10:14") from None


def _blank_is_none(value: object) -> object:
    """Take a text of nothing but blanks as one that is not given."""
    return None if isinstance(value, str) and not value.strip() else value


MaybeText = Annotated[Text | None, BeforeValidator(_blank_is_none)]
MaybeNote = Annotated[Note | None, BeforeValidator(_blank_is_none)]
TrueOrFalse = Annotated[bool, BeforeValidator(_true_or_false)]
Day = Annotated[date, BeforeValidator(_day)]
Moment = Annotated[datetime, BeforeValidator(_moment)]


class Fields(BaseModel):
    """A mapping of the file: unknown fields are errors."""

    # One schema is built, that of what is read; each model's own would double the start-up time.
    model_config = ConfigDict(extra="forbid", frozen=True, defer_build=True)


class PhotoFields(Fields):
    """A photograph, and what is to be seen on it."""

    file: Text
    caption: MaybeText = None


def _photo(value: object) -> object:
    """Take a name alone as a photograph without a caption."""
    return {"file": value} if isinstance(value, str) else value


def _photo_written(photo: PhotoFields) -> str | dict[str, str]:
    """Write a photograph without a caption as its name alone."""
    return photo.file if photo.caption is None else {"file": photo.file, "caption": photo.caption}


Photos = tuple[
    Annotated[PhotoFields, BeforeValidator(_photo), PlainSerializer(_photo_written)], ...
]


class InstrumentFields(Fields):
    """What the instrument is."""

    description: Text
    traits: dict[str, Text] = {}
    scale_length: MaybeText = None
    frets_clear: Annotated[int, Field(ge=9, le=20)] | None = None
    note: MaybeNote = None
    photos: Photos = ()


class PlayerFields(Fields):
    """Who brought it."""

    name: MaybeText = None
    contact: MaybeText = None


class ClimateFields(Fields):
    """The air in the room."""

    temperature: MaybeText = None
    humidity: MaybeText = None


class ReadingFields(Fields):
    """The answer to one check."""

    check: Text
    value: Text
    setup: dict[str, Text] = {}
    note: MaybeNote = None
    photos: Photos = ()
    at: Moment | None = None
    retracted: TrueOrFalse = False


class ConfirmedFields(Fields):
    """A fault seen to be there, or not."""

    fault: Text
    present: TrueOrFalse


class AcceptedFields(Fields):
    """A person goes on against a held-back move."""

    fault: Text
    by: Text
    why: Text
    at: Moment | None = None


class WorkFields(Fields):
    """A remedy carried out since the visit before."""

    remedy: Text
    hours: Annotated[float, Field(gt=0, le=1000)] | None = None


class VisitFields(Fields):
    """One inspection of the instrument."""

    stage: Text
    date: Day
    by: MaybeText = None
    climate: ClimateFields = Field(default_factory=ClimateFields)
    setup: dict[str, Text] = {}
    note: MaybeNote = None
    work: tuple[WorkFields, ...] = ()
    readings: tuple[ReadingFields, ...] = ()
    confirmed: tuple[ConfirmedFields, ...] = ()
    accepted: tuple[AcceptedFields, ...] = ()
    closed: TrueOrFalse = False


class InspectionFields(Fields):
    """The whole file."""

    tailblock: Literal["1"] = "1"
    job: Text
    checklist: Text
    instrument: InstrumentFields
    player: PlayerFields | None = None
    visits: tuple[VisitFields, ...]
