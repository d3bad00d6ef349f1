"""The Python API: an inspection file as an object that is added to and asked.

In: paths, ids, answers as a person writes them. Out: the values of the stages below, unchanged:
`Checklist`, `CauseBelief`, `Advice`, `Report`. The command line works on the same object. What is
wrong with a file or an answer is a `TailblockError` whose text says what would be right.

>>> from tempfile import mkdtemp
>>> guitar = begin_inspection(
...     Path(mkdtemp()) / "job-7.yaml",
...     description="Ladder-braced guitar, its action crept up",
...     traits={"strings": "steel", "bracing": "ladder", "bridge": "pin"},
...     day=date(2031, 3, 2),
... )
>>> guitar.add_reading("action-12-bass", "9/64 in")
>>> guitar.add_reading("bridge-light", "gap", note="all along the back edge")
>>> max(guitar.causes(), key=lambda cause: cause.lead).id
'bridge-lifting'
>>> [reading.check for reading in guitar.visit.readings]
['action-12-bass', 'bridge-light']
>>> print(guitar.report_text("markdown").splitlines()[0])
# Ladder-braced guitar, its action crept up
>>> [offer.kind for offer in guitar.plan().offers]
['to-string', 'to-play', 'while-open']
>>> guitar.report(option="to-string").hours.title
'Needed before it may be strung'
>>> guitar.report_pdf(copy="player")[:5]
b'%PDF-'
"""

from __future__ import annotations

from datetime import date, datetime
from functools import cache, cached_property
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from tailblock.errors import TailblockError
from tailblock.inspection.answers import find_check, require_setup, understand
from tailblock.inspection.model import (
    AcceptedFields,
    InspectionFields,
    InstrumentFields,
    PhotoFields,
    PlayerFields,
    ReadingFields,
    VisitFields,
)
from tailblock.knowledge.library import HEAD, Shelves
from tailblock.knowledge.ready import open_checklist as open_on_shelves
from tailblock.pipeline import Examined, examine
from tailblock.pipeline import open_inspection as read_inspection

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from tailblock.advice import Advice, CauseBelief, Reasons, Verdict
    from tailblock.inspection.record import Answer, Inspection, Photo, Setup, Visit
    from tailblock.inspection.store import ChecklistFinder
    from tailblock.inspection.write import Edit
    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Check
    from tailblock.report.model import Copy, Plan, Report

Form = Literal["html", "markdown", "json"]


class NothingToTakeBack(TailblockError):
    """The reading that is to be taken back is gone from the file."""

    def __init__(self, path: Path, check: str) -> None:
        self.path, self.check = path, check
        super().__init__(
            f"{path}: {check} has no reading on the last visit that could be taken back"
        )


class NoReadingOf(TailblockError):
    """A photograph is to go with a reading that nobody took."""

    def __init__(self, path: Path, check: str) -> None:
        self.path, self.check = path, check
        super().__init__(
            f"{path}: {check} has no reading on the last visit that a photograph could go with "
            f"(`tailblock record {path} {check} VALUE --photo FILE` records both)"
        )


class VisitClosed(TailblockError):
    """Something is to be added to a job that is closed."""

    def __init__(self, path: Path, visit: int, day: date) -> None:
        self.path, self.visit = path, visit
        super().__init__(
            f"{path}: visit {visit} of {day} closed the job "
            f"(`tailblock walk {path} --stage follow-up` begins the next visit)"
        )


class InspectionFile:
    """One inspection file and its checklist: read, added to, asked.

    Every change is on disk when the method returns, whole or not at all; the text that stood in the
    file stays as it was. Beliefs are worked out when they are first asked for after a change.
    """

    def __init__(self, find: ChecklistFinder, checklist: Checklist, inspection: Inspection) -> None:
        self._find = find
        self.checklist = checklist
        self._inspection = inspection

    @property
    def path(self) -> Path:
        """Return the path of the file."""
        return self._inspection.path

    @property
    def inspection(self) -> Inspection:
        """Return the record as it is on disk."""
        return self._inspection

    @property
    def visit(self) -> Visit:
        """Return the last visit."""
        return self._inspection.visits[-1]

    @cached_property
    def examined(self) -> Examined:
        """Return all that follows from the readings of the last visit.

        Raises
        ------
        Contradiction
            The readings cannot all be true by the checklist.
        """
        return examine(self.checklist, self._inspection)

    def causes(self) -> tuple[CauseBelief, ...]:
        """Return every fault that applies, the most probable first; chances from 0 to 1."""
        return self.examined.causes

    def reasons(self, fault: str) -> Reasons:
        """Return the readings for and against a fault, in decibans.

        Raises
        ------
        KeyError
            The checklist has no such fault, or it does not apply to this instrument.
        """
        return self.examined.reasons[fault]

    def advice(self) -> Advice:
        """Return what to look at next, what is held back, and whether it is enough."""
        return self.examined.advice

    def verdict(self) -> Verdict:
        """Return whether something leads, nothing is wrong, or it is not determined yet."""
        return self.examined.verdict

    def plan(self) -> Plan:
        """Return the work in stages that the player decides on, in bench hours, and doing nothing.

        Its pieces name no cautions by number: those are numbered by a report.
        """
        from tailblock.report.plan import plan

        return plan(self.examined, {})

    def report(self, *, option: str = "", shop: Path | None = None) -> Report:
        """Return the graded report, with the plan and the photographs in it.

        Parameters
        ----------
        option
            The offer of the plan of which the hours are said; the widest that is needed if left
            out.
        shop
            The file that says what an hour costs; `shop.yaml` beside the inspection if left out,
            and without that all is said in hours.

        Raises
        ------
        NoSuchOption
            The plan has no such offer.
        NoSuchFile, ProblemsFound
            The shop's file cannot be used, or a photograph is missing or is none.
        """
        from tailblock.inspection.photos import pictures_of
        from tailblock.inspection.shop import shop_of
        from tailblock.report.build import build

        pictures = pictures_of(self._inspection)
        return build(self.examined, option, shop_of(self.path, shop), pictures)

    def report_text(
        self,
        form: Form = "html",
        *,
        copy: Copy = "bench",
        option: str = "",
        shop: Path | None = None,
    ) -> str:
        """Return the graded report as one HTML page, as Markdown or as JSON.

        Parameters
        ----------
        copy
            `player` for the player's copy, in plain words; `bench` for all of it.
        option, shop
            As for `report`.
        """
        from tailblock.report.to_html import to_html
        from tailblock.report.to_json import to_json
        from tailblock.report.to_markdown import to_markdown

        render = {"html": to_html, "markdown": to_markdown, "json": to_json}[form]
        return render(self.report(option=option, shop=shop), copy=copy)

    def report_pdf(
        self, *, copy: Copy = "bench", option: str = "", shop: Path | None = None
    ) -> bytes:
        """Return the graded report as PDF; parameters as for `report_text`."""
        from tailblock.report.to_pdf import to_pdf

        return to_pdf(self.report(option=option, shop=shop), copy=copy)

    def understood(
        self, check: str, value: str, setup: Setup | None = None
    ) -> tuple[Check, Answer]:
        """Return a check and what an answer to it means, without writing it.

        Parameters
        ----------
        check
            The id of a check.
        value
            A value with its unit, a level, or `unknown`.
        setup
            What of the present setup is different when it is read.

        Raises
        ------
        AnswerError
            The answer cannot stand.
        """
        entry = find_check(check, self.checklist, self._inspection.instrument.traits)
        require_setup(entry, {**self.visit.present_setup, **(setup or {})})
        return entry, understand(entry, value)

    def add_reading(
        self,
        check: str,
        value: str,
        *,
        setup: Mapping[str, str] | None = None,
        note: str = "",
        photos: Sequence[str | Photo] = (),
        at: datetime | None = None,
    ) -> None:
        """Write a reading at the end of the last visit.

        Parameters
        ----------
        check, value, setup
            As for `understood`.
        photos
            Paths as seen from the folder of the file, or such paths with their captions.
        at
            When it was taken, by the shop's clock; now if left out.

        Raises
        ------
        AnswerError
            The answer cannot stand; nothing was written.
        VisitClosed, Contradiction, ProblemsFound, FileLocked, CannotWrite
            Nothing was written.
        """
        from tailblock.inspection import edit

        self.require_open()
        self.understood(check, value, setup)
        before = self.visit.present_setup
        fields = ReadingFields(
            check=check,
            value=value,
            setup={name: to for name, to in (setup or {}).items() if before.get(name) != to},
            note=note or None,
            photos=tuple(_photo_fields(photo) for photo in photos),
            at=at or now(),
        )
        self.change(
            lambda text, as_is: edit.add_reading(
                text, str(as_is.path), len(as_is.visits) - 1, fields
            )
        )

    def add_photo(self, photo: str | Photo, check: str = "") -> None:
        """Add a photograph to the last reading of a check on the last visit, or to the instrument.

        Parameters
        ----------
        photo
            Its path as seen from the folder of the file, or that with its caption.
        check
            The id of a check; the instrument as a whole if left out.

        Raises
        ------
        NoSuchCheck
        NoReadingOf
            The last visit has no reading of the check that stands.
        VisitClosed, ProblemsFound, FileLocked, CannotWrite
            Nothing was written.
        """
        from tailblock.inspection import edit
        from tailblock.inspection.answer_errors import NoSuchCheck

        self.require_open()
        fields = _photo_fields(photo)

        def with_photo(text: str, as_is: Inspection) -> str:
            at = _last_standing(as_is, check) if check else None
            if check and at is None:
                if check not in self.checklist.checks:
                    raise NoSuchCheck(check, self.checklist.checks)
                raise NoReadingOf(as_is.path, check)
            return edit.add_photo(text, str(as_is.path), at, fields)

        self.change(with_photo)

    def take_back(self, check: str) -> None:
        """Take out the last reading of a check on the last visit; it stays on file.

        Raises
        ------
        NothingToTakeBack
            The last visit has no reading of it that stands.
        VisitClosed
        """
        from tailblock.inspection import edit

        self.require_open()

        def without(text: str, as_is: Inspection) -> str:
            at = _last_standing(as_is, check)
            if at is None:
                raise NothingToTakeBack(as_is.path, check)
            return edit.retract(text, str(as_is.path), *at)

        self.change(without)

    def accept(self, fault: str, *, by: str, why: str) -> None:
        """Write down that a person goes on against what a fault holds back.

        Raises
        ------
        ProblemsFound
            There is no such fault; nothing was written.
        """
        from tailblock.inspection import edit

        self.require_open()
        fields = AcceptedFields(fault=fault, by=by, why=why, at=now())
        self.change(
            lambda text, as_is: edit.add_accepted(
                text, str(as_is.path), len(as_is.visits) - 1, fields
            )
        )

    def new_visit(self, stage: str, *, day: date | None = None, by: str = "") -> None:
        """Begin a new visit, today unless said otherwise.

        Raises
        ------
        ProblemsFound
            There is no such stage, or the day is before the last visit; nothing was written.
        """
        from tailblock.inspection import edit

        fields = VisitFields(stage=stage, date=day or now().date(), by=by or None)
        self.change(lambda text, as_is: edit.add_visit(text, str(as_is.path), fields))

    def require_open(self) -> None:
        """Refuse to add to a job that is closed.

        Raises
        ------
        VisitClosed
        """
        if self.visit.closed:
            raise VisitClosed(self.path, len(self._inspection.visits), self.visit.day)

    def change(self, edit_text: Edit) -> None:
        """Write an edit of the text that the engine can still make sense of.

        Raises
        ------
        Contradiction, ProblemsFound, FileLocked, CannotWrite
            Nothing was written.
        """
        from tailblock.inspection import write

        after: list[Examined] = []
        self._inspection = write.change(
            self.path,
            self._find,
            edit_text,
            lambda record: after.append(examine(self.checklist, record)),
        )
        self.__dict__["examined"] = after[-1]  # worked out before it was written


def open_checklist(checklist: str | Path, folder: Path | None = None) -> Checklist:
    """Return a checklist that can be relied on.

    Parameters
    ----------
    checklist
        Its id, or the path of its folder.
    folder
        A folder with checklists that is looked in before those that ship with tailblock.

    Raises
    ------
    ChecklistNotFound
        There is none of that id.
    ProblemsFound
        It cannot be read, or breaks one of the rules that every use rests on.

    >>> open_checklist("flat-top").title
    'Steel-string flat-top guitar'
    """
    if (Path(checklist) / HEAD).is_file():
        own = Path(checklist).resolve()
        return open_on_shelves(own.name, Shelves(given=own, environment=folder))
    return open_on_shelves(str(checklist), Shelves(given=folder))


def open_inspection(path: str | Path, folder: Path | None = None) -> InspectionFile:
    """Read an inspection file and the checklist that it names.

    Parameters
    ----------
    path
        The file.
    folder
        As for `open_checklist`; a folder `checklists` beside the file is looked in after it.

    Raises
    ------
    NoSuchFile, NotAFile, CannotRead, ProblemsFound
        The file cannot be used; the text says where and what would be right.
    """
    find = _finder(Path(path), folder)
    return InspectionFile(find, *read_inspection(Path(path), find))


def begin_inspection(
    path: str | Path,
    *,
    description: str,
    checklist: str = "flat-top",
    job: str = "",
    traits: Mapping[str, str] | None = None,
    scale_length: str = "",
    frets_clear: int | None = None,
    player: str = "",
    stage: str = "arrival",
    setup: Mapping[str, str] | None = None,
    day: date | None = None,
    by: str = "",
    folder: Path | None = None,
) -> InspectionFile:
    """Write a new inspection file with its first visit, and open it.

    Parameters
    ----------
    path
        The file to make; its folder exists.
    description
        The instrument in a few words.
    job
        The shop's number; the name of the file if left out.
    traits
        Trait -> value; one that is left out is unknown.
    scale_length
        From nut to saddle with its unit, as `648 mm`.
    frets_clear
        How many frets stand clear of the body; as usual for its kind if left out.
    setup
        The state it comes in; at pitch unless said otherwise.
    day
        Of the visit; today if left out.
    folder
        As for `open_inspection`.

    Raises
    ------
    FileExists, CannotWrite
        Nothing was written.
    ProblemsFound
        The fields do not fit the checklist; nothing was written.
    """
    from tailblock.inspection import write

    path = Path(path)
    fields = InspectionFields(
        job=job or path.stem,
        checklist=checklist,
        instrument=InstrumentFields(
            description=description,
            traits=dict(traits or {}),
            scale_length=scale_length or None,
            frets_clear=frets_clear,
        ),
        player=PlayerFields(name=player) if player else None,
        visits=(
            VisitFields(
                stage=stage, date=day or now().date(), by=by or None, setup=dict(setup or {})
            ),
        ),
    )
    find = _finder(path, folder)
    inspection = write.begin(path, find, fields)
    return InspectionFile(find, find(checklist), inspection)


def _last_standing(inspection: Inspection, check: str) -> tuple[int, int] | None:
    """Return the last visit and the last reading of a check on it that was not taken back."""
    visit = len(inspection.visits) - 1
    standing = [
        (visit, index)
        for index, reading in enumerate(inspection.visits[visit].readings)
        if reading.check == check and not reading.retracted
    ]
    return standing[-1] if standing else None


def _photo_fields(photo: str | Photo) -> PhotoFields:
    if isinstance(photo, str):
        return PhotoFields(file=photo)
    return PhotoFields(file=photo.file, caption=photo.caption or None)


def now() -> datetime:
    """Return the moment by the shop's clock, to the minute: the file is for people there."""
    return datetime.now().replace(second=0, microsecond=0)  # noqa: DTZ005


def _finder(path: Path, folder: Path | None) -> ChecklistFinder:
    """Return a way from a checklist's id to the checklist; each is read once."""
    where = Shelves(given=folder, beside=path.absolute().parent)
    return cache(lambda name: open_on_shelves(name, where))
