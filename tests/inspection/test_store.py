"""An inspection file is read whole, or every problem in it is located."""

from __future__ import annotations

import hashlib
from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from builders import HEAD, Read
from tailblock.errors import ProblemsFound, TailblockError
from tailblock.inspection import store
from tailblock.inspection.record import Accepted, Answer, Confirmed, WorkDone
from tailblock.knowledge.library import ChecklistNotFound
from tailblock.knowledge.yamlmarks import Place

if TYPE_CHECKING:
    from tailblock.knowledge.checklist import Checklist

WHOLE = """\
# A comment
tailblock: 1
job: 0012
checklist: bench
instrument:
  description: a ladder-braced parlour guitar
  traits: {bridge: pin}
  scale_length: 25 1/2 in
  photos: [photos/front.jpg]
player: {name: a player}
visits:
  - stage: arrival
    date: 2031-03-02
    by: the apprentice
    climate: {temperature: 21 C, humidity: 43 %}
    readings:
      - {check: action, value: 7/64 in, note: "bass side, twelfth", at: 2031-03-02T10:14}
      - {check: feeler, value: 6, setup: {strings: slack}, photos: [photos/a.jpg]}
      - {check: tap, value: unknown, note: could not reach}
      - {check: tap, value: SLIGHT, retracted: true}
    confirmed: [{fault: top-hump, present: false}]
    accepted: [{fault: bridge-lifting, by: the owner, why: one song, at: 2031-03-02T11:00}]
    note:
  - stage: settled
    date: 2031-03-09
    setup: {bridge: "off"}
    work: [{remedy: bridge-reglue, hours: 3.5}]
"""


def test_everything_in_a_file_is_in_the_record(inspection: Read) -> None:
    record = inspection(WHOLE, whole=True)
    assert (record.job, record.checklist) == ("0012", "bench")
    assert record.digest == hashlib.sha256(WHOLE.encode()).hexdigest()
    assert record.instrument.description == "a ladder-braced parlour guitar"
    assert record.instrument.scale_length == 647.7
    assert record.instrument.frets_clear is None
    assert [photo.file for photo in record.instrument.photos] == ["photos/front.jpg"]
    assert (record.player.name, record.player.contact) == ("a player", "")
    arrival, settled = record.visits
    assert (arrival.stage, arrival.day, arrival.by) == (
        "arrival",
        date(2031, 3, 2),
        "the apprentice",
    )
    assert arrival.climate == {"temperature": "21 C", "humidity": "43 %"}
    assert arrival.note == ""
    assert arrival.confirmed == (Confirmed("top-hump", False, Place("job.yaml", 21, 17)),)
    moment = datetime(2031, 3, 2, 11, 0)  # noqa: DTZ001  (the clock of the shop)
    accepted = Accepted(
        "bridge-lifting", "the owner", "one song", Place("job.yaml", 22, 16), at=moment
    )
    assert arrival.accepted == (accepted,)
    assert settled.work == (WorkDone("bridge-reglue", 3.5, Place("job.yaml", 27, 12)),)
    action, feeler, reached, retracted = arrival.readings
    assert action.written == "7/64 in"
    assert action.answer == Answer(value=2.778125)
    assert (action.note, action.place) == ("bass side, twelfth", Place("job.yaml", 17, 9))
    assert feeler.answer == Answer(value=6.0, assumed_unit="mm")
    assert [photo.file for photo in feeler.photos] == ["photos/a.jpg"]
    assert reached.answer == Answer(unknown=True)
    assert (retracted.answer, retracted.retracted) == (Answer(level="slight"), True)


def test_a_trait_that_is_left_out_is_unknown(inspection: Read) -> None:
    record = inspection(WHOLE, whole=True)
    assert record.instrument.traits == {"bridge": "pin", "strings": "unknown"}


def test_a_setup_is_that_of_the_reading_before_and_of_the_visit_before(inspection: Read) -> None:
    record = inspection(
        """\
  - stage: arrival
    date: 2031-03-02
    readings:
      - {check: action, value: 2 mm}
      - {check: feeler, value: 0 mm, setup: {strings: slack}}
      - {check: tap, value: none}
  - stage: opened
    date: 2031-03-09
    setup: {bridge: "off"}
    readings: [{check: feeler, value: 0 mm}]
  - stage: settled
    date: 2031-03-10
"""
    )
    arrival, opened, settled = record.visits
    pitch, slack = {"strings": "at-pitch", "bridge": "on"}, {"strings": "slack", "bridge": "on"}
    assert arrival.setup == pitch
    assert [reading.setup for reading in arrival.readings] == [pitch, slack, slack]
    assert opened.setup == opened.readings[0].setup == {"strings": "slack", "bridge": "off"}
    assert settled.present_setup == {"strings": "slack", "bridge": "off"}


VISIT = "  - {stage: arrival, date: 2031-03-02, "

# What is wrong -> the visits, with » before the place that is named, and what is said of it.
WRONG = {
    "unknown check": (
        VISIT + "readings: [{check: »feler, value: 2 mm}]}",
        "[unknown-check] visit 1, feler: there is no such check (did you mean `feeler`?)",
    ),
    "derived check": (
        VISIT + "readings: [{check: »tilt-change, value: 2 deg}]}",
        (
            "[derived-check] visit 1, tilt-change: it is computed, never asked; give the "
            "readings it is made from: tilt with strings at-pitch and tilt with strings slack"
        ),
    ),
    "wrong setup": (
        VISIT + "readings: [»{check: feeler, value: 2 mm}]}",
        (
            "[wrong-setup] visit 1, feeler: it cannot be read with strings at-pitch (it needs "
            "strings slack or off; say the setup it was read in)"
        ),
    ),
    "wrong setup that was written": (
        VISIT + "readings: [{check: feeler, value: 2 mm, setup: »{strings: at-pitch}}]}",
        (
            "[wrong-setup] visit 1, feeler: it cannot be read with strings at-pitch (it needs "
            "strings slack or off; say the setup it was read in)"
        ),
    ),
    "out of range": (
        VISIT + "readings: [{check: action, value: »40 mm}]}",
        (
            "[out-of-range] visit 1, action: 40.00 mm (1 37/64 in) cannot be; possible is from "
            "0.50 mm (.020 in) up to 12.00 mm (15/32 in) (look at the number and its unit again)"
        ),
    ),
    "unknown stage": (
        "  - {stage: »arival, date: 2031-03-02}",
        (
            "[unknown-stage] visit 1: there is no stage 'arival' in this checklist (did you "
            "mean `arrival`?)"
        ),
    ),
    "unknown fault": (
        VISIT + "confirmed: [{fault: »top-humpp, present: true}]}",
        (
            "[unknown-fault] visit 1: there is no fault 'top-humpp' in this checklist (did you "
            "mean `top-hump`?)"
        ),
    ),
    "unknown fault accepted": (
        VISIT + "accepted: [{fault: »nothing-like-it, by: a, why: b}]}",
        (
            "[unknown-fault] visit 1: there is no fault 'nothing-like-it' in this checklist "
            "(there is bridge-lifting, top-hump, neck-angle-lost)"
        ),
    ),
    "unknown remedy": (
        VISIT + "work: [{remedy: »polish}]}",
        (
            "[unknown-remedy] visit 1: there is no remedy 'polish' in this checklist (there is "
            "bridge-reglue)"
        ),
    ),
    "unknown dimension of a setup": (
        VISIT + "setup: {neck: »'off'}}",
        (
            "[unknown-setup] visit 1: there is no setup 'neck' in this checklist (there is "
            "strings, bridge)"
        ),
    ),
    "unknown state of a setup": (
        VISIT + "setup: {strings: »tight}}",
        "[setup-state] visit 1: strings cannot be 'tight' (it is one of off, slack, at-pitch)",
    ),
    "no date": (
        "  - »{stage: arrival}",
        "[missing-field] `date` is missing (add `date: ...`)",
    ),
    "no such day": (
        "  - {stage: arrival, date: »2031-02-30}",
        "[bad-value] write a date as year-month-day, such as 2031-03-02",
    ),
    "no such moment": (
        VISIT + "readings: [{check: tap, value: none, at: »noon}]}",
        "[bad-value] write a moment as 2031-03-02T10:14",
    ),
    "yes is no boolean": (
        VISIT + "confirmed: [{fault: top-hump, present: »yes}]}",
        "[bad-value] write true or false",
    ),
    "unknown field": (
        VISIT + "readings: [{check: tap, value: none, »notes: x}]}",
        "[unknown-field] unknown field `notes` (did you mean `note`?)",
    ),
    "visits out of order": (
        VISIT + "by: a}\n  - {stage: opened, date: »2031-03-01}",
        (
            "[visit-order] visit 2: the visit before is of 2031-03-02, later than 2031-03-01 "
            "(visits stand in the order in which they were made)"
        ),
    ),
    "contradiction": (
        VISIT + "confirmed: [{fault: top-hump, present: true},\n"
        "      »{fault: top-hump, present: false}]}",
        (
            "[contradiction] visit 1: top-hump is confirmed as absent here and as present in "
            "line 6 (keep the one that was seen)"
        ),
    ),
    "temperature in percent": (
        VISIT + "climate: {temperature: »43 %}}",
        "[unit] visit 1: '43 %' is a percentage; a temperature is wanted, such as 21 C or 70 F",
    ),
    "more than all the humidity": (
        VISIT + "climate: {humidity: »430 %}}",
        "[range] visit 1: a relative humidity of 430 % cannot be (possible is from 0 to 100 %)",
    ),
    "no visit": (
        "  »[]",
        "[no-visit] there is no visit (begin one: `- stage: ...`)",
    ),
}


NEW = "\n"


def marked(text: str) -> tuple[str, str]:
    """Return a text without its mark, and the place of the mark."""
    before, _, after = text.partition("»")
    return before + after, f"{before.count(NEW) + 1}:{len(before) - before.rfind(NEW)}"


@pytest.mark.parametrize(("visits", "said"), WRONG.values(), ids=WRONG)
def test_what_is_wrong_in_a_visit_is_said_at_its_place(
    inspection: Read, visits: str, said: str
) -> None:
    text, place = marked(HEAD + visits)
    with pytest.raises(ProblemsFound) as found:
        inspection(text, whole=True)
    assert str(found.value) == f"job.yaml:{place}: error {said}"


VISITS = "tailblock: 1\njob: a\nchecklist: bench\nvisits: [{stage: arrival, date: 2031-03-02}]\n"
WRONG_INSTRUMENT = {
    "unknown trait": (
        "{description: a, traits: {bridge: pin, head: »x}}",
        "[unknown-trait] there is no trait 'head' in this checklist (there is bridge, strings)",
    ),
    "unknown value": (
        "{description: a, traits: {bridge: »glued}}",
        "[trait-value] bridge cannot be 'glued' (it is one of pin, pinless, floating)",
    ),
    "a trait that must be known": (
        "»{description: a}",
        (
            "[trait-missing] the trait bridge is missing, and everything depends on it (it is "
            "one of pin, pinless, floating)"
        ),
    ),
    "a scale without its unit": (
        "{description: a, traits: {bridge: pin}, scale_length: »648}",
        "[unit] '648' has no unit; a length is wanted, such as 0.3 mm or 5/64 in",
    ),
    "more frets clear than there are": (
        "{description: a, traits: {bridge: pin}, frets_clear: »22}",
        "[bad-value] `frets_clear` must be less than or equal to 20",
    ),
    "no scale at all": (
        "{description: a, traits: {bridge: pin}, scale_length: »0 mm}",
        "[range] a scale is longer than nothing",
    ),
}


def test_the_frets_clear_of_the_body_are_a_number(inspection: Read) -> None:
    text = f"{VISITS}instrument: {{description: a, traits: {{bridge: pin}}, frets_clear: 12}}\n"
    assert inspection(text, whole=True).instrument.frets_clear == 12


@pytest.mark.parametrize(("instrument", "said"), WRONG_INSTRUMENT.values(), ids=WRONG_INSTRUMENT)
def test_what_is_wrong_with_the_instrument_is_said_at_its_place(
    inspection: Read, instrument: str, said: str
) -> None:
    text, place = marked(f"{VISITS}instrument: {instrument}\n")
    with pytest.raises(ProblemsFound) as found:
        inspection(text, whole=True)
    assert str(found.value) == f"job.yaml:{place}: error {said}"


def test_a_check_for_another_kind_of_instrument_is_refused_with_the_trait(inspection: Read) -> None:
    text = WHOLE.replace("bridge: pin", "bridge: floating").replace("check: action", "check: pins")
    with pytest.raises(ProblemsFound) as found:
        inspection(text, whole=True)
    assert [str(problem) for problem in found.value.problems] == [
        (
            "job.yaml:17:17: error [does-not-apply] visit 1, pins: it does not apply to this "
            "instrument: bridge is floating (it is for bridge pin)"
        ),
        (
            "job.yaml:22:24: error [does-not-apply] visit 1: bridge-lifting does not apply to "
            "this instrument: bridge is floating (it is for bridge pin, pinless)"
        ),
    ]


def test_all_problems_of_a_file_are_found_together(inspection: Read) -> None:
    with pytest.raises(ProblemsFound) as found:
        inspection(
            VISIT + "readings: [{check: tap, value: 3}, {check: action, value: 4 C},\n"
            "    {check: action, value: high}, {check: gone, value: 1}]}"
        )
    assert [(p.line, p.rule) for p in found.value.problems] == [
        (6, "not-a-level"),
        (6, "not-a-value"),
        (7, "value-wanted"),
        (7, "unknown-check"),
    ]


@pytest.mark.parametrize(
    ("content", "message"),
    [
        (
            b"",
            (
                "job.yaml:1:1: error [not-an-inspection] the file is empty (`tailblock begin` "
                "writes one that begins with `tailblock: 1`)"
            ),
        ),
        (
            b"- a list",
            (
                "job.yaml:1:1: error [not-an-inspection] this is no inspection (`tailblock "
                "begin` writes one that begins with `tailblock: 1`)"
            ),
        ),
        (
            b"tailblock: 2\nanything: new",
            (
                "job.yaml:1:12: error [newer-version] the file was written by a newer version "
                "(2) (this Tailblock reads version 1: install the newer one)"
            ),
        ),
        (
            b"tailblock: one",
            (
                "job.yaml:1:12: error [version] 'one' is no version of the format (begin the "
                "file with `tailblock: 1`)"
            ),
        ),
        (
            b"job: a",
            (
                "job.yaml:1:1: error [version-missing] the file does not say which version of "
                "the format it is (begin the file with `tailblock: 1`)"
            ),
        ),
    ],
)
def test_what_is_no_inspection_of_this_version_is_refused(
    bench: Checklist, content: bytes, message: str
) -> None:
    with pytest.raises(ProblemsFound) as found:
        store.from_bytes(content, Path("job.yaml"), lambda _: bench)
    assert str(found.value) == message


@pytest.mark.parametrize("content", [b"tailblock: 1\njob: \xff", b"tailblock: 1\njob: {a"])
def test_what_is_not_utf_8_or_not_yaml_is_located(bench: Checklist, content: bytes) -> None:
    with pytest.raises(ProblemsFound, match=r"^job\.yaml:2:\d+: error \[yaml\]"):
        store.from_bytes(content, Path("job.yaml"), lambda _: bench)


def test_a_missing_checklist_is_a_problem_of_the_line_that_names_it() -> None:
    def find(name: str) -> Checklist:
        raise ChecklistNotFound(name, ())

    with pytest.raises(
        ProblemsFound, match=r"job\.yaml:4:12: error \[unknown-checklist\] .*'bench'"
    ):
        store.from_bytes(WHOLE.encode(), Path("job.yaml"), find)


def test_problems_of_the_checklist_itself_are_passed_on() -> None:
    broken = ProblemsFound(())

    def find(name: str) -> Checklist:
        raise broken

    with pytest.raises(ProblemsFound) as found:
        store.from_bytes(WHOLE.encode(), Path("job.yaml"), find)
    assert found.value is broken


def test_a_file_is_read_from_disk(tmp_path: Path, bench: Checklist) -> None:
    path = tmp_path / "job.yaml"
    path.write_text(WHOLE, encoding="utf-8")
    assert store.read(path, lambda _: bench).path == path


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("a" * 300, r": cannot be read: File name too long$"),
        ("gone.yaml", r"gone\.yaml: there is no such file \(`tailblock begin "),
        ("", r": this is a folder; name the inspection file itself$"),
    ],
)
def test_a_file_that_cannot_be_had_is_named(
    tmp_path: Path, bench: Checklist, name: str, said: str
) -> None:
    with pytest.raises(TailblockError, match=said) as error:
        store.read(tmp_path / name, lambda _: bench)
    assert "\n" not in str(error.value)


def test_a_device_is_not_a_file(bench: Checklist) -> None:
    with pytest.raises(store.NotAFile, match=r"^/dev/null: this is not a plain file"):
        store.read(Path("/dev/null"), lambda _: bench)


def test_a_file_that_the_system_keeps_back_is_named(
    tmp_path: Path, bench: Checklist, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "job.yaml"
    path.write_text(WHOLE, encoding="utf-8")

    def refuse(*_: object, **__: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "open", refuse)
    with pytest.raises(store.CannotRead, match=r"job\.yaml: cannot be read: Permission denied$"):
        store.read(path, lambda _: bench)


def test_a_giant_is_refused_without_being_read_whole(tmp_path: Path, bench: Checklist) -> None:
    path = tmp_path / "job.yaml"
    with path.open("wb") as file:
        file.truncate(10**10)  # a hole: it takes no room
    with pytest.raises(ProblemsFound, match="larger than"):
        store.read(path, lambda _: bench)
