"""Adding to a file leaves every byte outside the addition as it was."""

from __future__ import annotations

from datetime import date, datetime
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builders import TYPED
from tailblock.errors import ProblemsFound
from tailblock.inspection import edit
from tailblock.inspection.edit import EditRefused, WorkAfterReadings
from tailblock.inspection.model import (
    AcceptedFields,
    ConfirmedFields,
    PhotoFields,
    ReadingFields,
    VisitFields,
    WorkFields,
)
from tailblock.knowledge.yamlmarks import read_marked

FILE = "job.yaml"
FEELER = ReadingFields(check="feeler", value="5/64 in")


def data_of(text: str) -> Any:
    marked, problems = read_marked(text, FILE)
    assert problems == ()
    assert marked is not None
    return marked.data


def only_inserted(before: str, after: str) -> str:
    """Return what was inserted, having made sure that nothing else has changed."""
    extra = len(after) - len(before)
    pairs = enumerate(zip(before, after, strict=False))
    at = next((place for place, (old, new) in pairs if old != new), len(before))
    assert extra > 0
    assert before[at:] == after[at + extra :]
    return after[at : at + extra]


BLOCK = """\
visits:
  - stage: arrival
    readings:   # the first day
      - {check: top-tap, value: none}   # dull, but whole
    # nothing more that day
"""


@pytest.mark.parametrize(
    ("before", "inserted"),
    [
        pytest.param(BLOCK, "      - {check: feeler, value: 5/64 in}\n", id="behind the comment"),
        pytest.param(
            "visits:\n- stage: arrival\n  readings:\n  - check: top-tap\n    value: none",
            "\n  - {check: feeler, value: 5/64 in}",
            id="list at the field's indentation, no last line end",
        ),
        pytest.param(
            "visits:\r\n - stage: arrival\r\n   readings:\r\n",
            "     - {check: feeler, value: 5/64 in}\r\n",
            id="empty field, CRLF",
        ),
        pytest.param(
            "visits:\n  - stage: arrival\n    by: someone  # new\n\n# end\n",
            "    readings:\n      - {check: feeler, value: 5/64 in}\n",
            id="no field yet",
        ),
        pytest.param(
            "visits: [{stage: arrival, by: someone}]\n",
            ", readings: [{check: feeler, value: 5/64 in}]",
            id="visit in braces",
        ),
        pytest.param(
            "visits:\n  - stage: arrival\n    readings: []\n",
            "{check: feeler, value: 5/64 in}",
            id="empty brackets",
        ),
        pytest.param(
            "visits:\n- stage: arrival\n  readings: [\n   {check: a, value: b}, # one\n  ]\n",
            ", {check: feeler, value: 5/64 in}",
            id="brackets over several lines with a last comma",
        ),
        pytest.param(
            "visits:\n  - readings:\n      - check: a\n        value: b\n        note: |\n"
            "          two\n          lines\n\n    stage: arrival\n",
            "      - {check: feeler, value: 5/64 in}\n",
            id="behind a text in several lines",
        ),
        pytest.param(
            "\ufeffvisits:\n  - stage: arrival\n",
            "    readings:\n      - {check: feeler, value: 5/64 in}\n",
            id="byte order mark",
        ),
        pytest.param(
            "visits:\n  - stage: arrival\n    readings:\n      - {check: a, value: b}\n...\n",
            "      - {check: feeler, value: 5/64 in}\n",
            id="end of the document marked",
        ),
        pytest.param(
            "visits:\n  - readings:\n      - {check: a, value: 'ä\u2028 ö'}\n    stage: arrival\n",
            "      - {check: feeler, value: 5/64 in}\n",
            id="other letters and line ends inside a text",
        ),
    ],
)
def test_a_reading_goes_to_the_end_of_its_visit(before: str, inserted: str) -> None:
    after = edit.add_reading(before, FILE, 0, FEELER)
    assert after.replace(inserted, "", 1) == before
    readings = data_of(after)["visits"][0]["readings"]
    assert readings[-1] == {"check": "feeler", "value": "5/64 in"}


def test_all_that_a_reading_can_say_is_written() -> None:
    fields = ReadingFields(
        check="feeler",
        value='1 3/16"',
        setup={"strings": "slack"},
        note='he said: "since May", #2\nand left\x85, grim',
        photos=(
            PhotoFields(file="photos/a, b.jpg"),
            PhotoFields(file="c.jpg", caption="back: open"),
        ),
        at=datetime(2031, 3, 2, 10, 14),  # noqa: DTZ001  (the clock of the shop)
    )
    after = edit.add_reading(BLOCK, FILE, 0, fields)
    assert data_of(after)["visits"][0]["readings"][-1] == {
        "check": "feeler",
        "value": '1 3/16"',
        "setup": {"strings": "slack"},
        "note": 'he said: "since May", #2\nand left\x85, grim',
        "photos": ["photos/a, b.jpg", {"file": "c.jpg", "caption": "back: open"}],
        "at": "2031-03-02T10:14:00",
    }


def test_a_blank_note_is_no_note() -> None:
    fields = ReadingFields(check="tap", value="none", note="  ")
    assert "note" not in edit.add_reading(BLOCK, FILE, 0, fields)


TWO_VISITS = """\
visits:
  - stage: arrival
    readings:
      - {check: top-tap, value: none}
  - stage: opened
"""


@pytest.mark.parametrize("visit", [0, 1])
def test_a_reading_goes_to_the_visit_that_is_named(visit: int) -> None:
    after = data_of(edit.add_reading(TWO_VISITS, FILE, visit, FEELER))
    assert [len(v.get("readings", [])) for v in after["visits"]] == (
        [2, 0] if visit == 0 else [1, 1]
    )


def test_a_visit_is_written_with_a_field_a_line() -> None:
    fields = VisitFields.model_validate(
        {
            "stage": "first-stringing",
            "date": "2031-03-12",
            "setup": {"strings": "slack"},
            "work": [{"remedy": "bridge-reglue", "hours": "3.5"}],
        }
    )
    after = edit.add_visit(TWO_VISITS, FILE, fields)
    assert after == TWO_VISITS + (
        "  - stage: first-stringing\n"
        "    date: 2031-03-12\n"
        "    setup: {strings: slack}\n"
        "    work:\n"
        "      - {remedy: bridge-reglue, hours: 3.5}\n"
    )
    read = VisitFields.model_validate(data_of(after)["visits"][-1])
    assert (read.date, read.work[0].hours) == (date(2031, 3, 12), 3.5)


def test_confirmations_accepted_risks_and_work_have_lists_of_their_own() -> None:
    text = edit.add_work(TWO_VISITS, FILE, 1, WorkFields(remedy="bridge-reglue", hours=3.5))
    text = edit.add_confirmed(text, FILE, 1, ConfirmedFields(fault="bridge-warped", present=True))
    text = edit.add_confirmed(text, FILE, 1, ConfirmedFields(fault="top-torn", present=False))
    fields = AcceptedFields(fault="bridge-lifting", by="the owner", why="one song, then slack")
    text = edit.add_accepted(text, FILE, 1, fields)
    assert data_of(text)["visits"][1] == {
        "stage": "opened",
        "work": [{"remedy": "bridge-reglue", "hours": "3.5"}],
        "confirmed": [
            {"fault": "bridge-warped", "present": "true"},
            {"fault": "top-torn", "present": "false"},
        ],
        "accepted": [{"fault": "bridge-lifting", "by": "the owner", "why": "one song, then slack"}],
    }


def test_work_after_readings_needs_a_new_visit() -> None:
    with pytest.raises(WorkAfterReadings, match=r"visit 1 already has readings.*open a new visit"):
        edit.add_work(TWO_VISITS, FILE, 0, WorkFields(remedy="bridge-reglue"))


@pytest.mark.parametrize(
    ("reading", "inserted"),
    [
        ("- {check: top-tap, value: none}", ", retracted: true"),
        ("- check: top-tap\n        value: none  # dull", "        retracted: true\n"),
    ],
)
def test_a_reading_taken_back_stays_in_the_file(reading: str, inserted: str) -> None:
    before = f"visits:\n  - stage: arrival\n    readings:\n      {reading}\n"
    after = edit.retract(before, FILE, 0, 0)
    assert after.replace(inserted, "", 1) == before
    assert data_of(after)["visits"][0]["readings"][0]["retracted"] == "true"


REFUSED = {
    "an alias last": (
        "visits:\n  - stage: arrival\n    readings:\n      - &a {check: a, value: b}\n      - *a\n",
        (
            "job.yaml:4:9: nothing was added: an alias (`*name`) stands last in the list "
            "(write out what the alias stands for)"
        ),
    ),
    "an anchor first": (
        "visits:\n  - stage: arrival\n    readings: &r\n      - {check: a, value: b}\n",
        (
            "job.yaml:3:15: nothing was added: the list begins with an anchor "
            "(begin it with its first dash)"
        ),
    ),
    "a null": (
        "visits:\n  - stage: arrival\n    readings: ~\n",
        (
            "job.yaml:3:15: nothing was added: the addition would change what stands here "
            "(write this part plainly: an item a line, the same indentation)"
        ),
    ),
    "a text that the line end would change": (
        "visits:\n  - readings:\n      - check: a\n        value: |\n          b",
        (
            "job.yaml:3:7: nothing was added: the addition would change what stands here "
            "(write this part plainly: an item a line, the same indentation)"
        ),
    ),
}


@pytest.mark.parametrize(("before", "message"), REFUSED.values(), ids=REFUSED)
def test_what_cannot_be_added_to_safely_is_refused_at_its_place(before: str, message: str) -> None:
    with pytest.raises(EditRefused) as refused:
        edit.add_reading(before, FILE, 0, FEELER)
    assert str(refused.value) == message


def test_a_reading_is_not_taken_back_twice() -> None:
    before = BLOCK.replace("value: none", "value: none, retracted: false")
    with pytest.raises(EditRefused, match=r"job\.yaml:4:39: .* `retracted` already"):
        edit.retract(before, FILE, 0, 0)


def test_broken_yaml_is_reported_not_edited() -> None:
    with pytest.raises(ProblemsFound, match=r"job\.yaml:2:"):
        edit.add_reading("visits:\n\t- stage: arrival\n", FILE, 0, FEELER)


# Files as people write them: any indentation, line end, comments and order, braces or lines.

COMMENT = st.sampled_from(["", "  # ok", " # 'quote", "   ", "\t# tab"])
BETWEEN = st.sampled_from(["", "\n", "# note: {x}\n", "      # deep\n", "  \n"])
VALUES = st.sampled_from(["5/64", '"a: b"', "'it''s'", '1 3/16"', "über", '"\\u2028"'])


@st.composite
def one_reading(draw: st.DrawFn, indent: str) -> str:
    value = draw(VALUES)
    comment = draw(COMMENT)
    return draw(
        st.sampled_from(
            [
                f"{indent}- {{check: a, value: {value}}}{comment}\n",
                f"{indent}-   check: a{comment}\n{indent}    value: {value}{comment}\n",
                f"{indent}- {{check: a,{comment}\n{indent} value: {value}{comment}\n{indent} }}\n",
                (
                    f"{indent}- check: a\n{indent}  value: b\n{indent}  note: >-{comment}\n"
                    f"{indent}     folded\n\n{indent}     text\n"
                ),
            ]
        )
    )


@st.composite
def files(draw: st.DrawFn) -> str:
    """Return a file with two visits, written in some hand."""
    pad = " " * draw(st.integers(0, 3))
    fields = pad + " " * draw(st.integers(2, 5))
    lines = fields + " " * draw(st.integers(0, 4))
    text = draw(BETWEEN) + "visits:" + draw(COMMENT) + "\n"
    for _ in range(2):
        text += f"{pad}-{fields[len(pad) + 1 :]}stage: arrival{draw(COMMENT)}\n" + draw(BETWEEN)
        body = "".join(
            draw(one_reading(lines)) + draw(BETWEEN) for _ in range(draw(st.integers(0, 3)))
        )
        listed = f"{fields}readings:{draw(COMMENT)}\n{body}"
        after = f"{fields}by: someone{draw(COMMENT)}\n" + draw(BETWEEN)
        text += draw(st.permutations([listed, after]).map("".join))
    if draw(st.booleans()):
        text = text.rstrip("\n")
    line_end = draw(st.sampled_from(["\n", "\r\n", "\r"]))
    return draw(st.sampled_from(["", "\ufeff"])) + text.replace("\n", line_end)


NOTES = st.none() | st.text(TYPED, max_size=30).filter(lambda text: text.strip())


@given(files(), st.integers(0, 1), NOTES)
def test_outside_the_insertion_no_character_changes(
    before: str, visit: int, note: str | None
) -> None:
    fields = ReadingFields(check="feeler", value="6 mm", note=note)
    wanted = data_of(before)
    after = edit.add_reading(before, FILE, visit, fields)
    only_inserted(before, after)
    new = {"check": "feeler", "value": "6 mm"} | ({"note": fields.note} if note else {})
    holder = wanted["visits"][visit]
    holder["readings"] = [*(holder.get("readings") or []), new]
    assert data_of(after) == wanted


@given(files(), st.data())
def test_several_edits_in_a_row_add_up(before: str, data: st.DataObject) -> None:
    text, inserted = before, 0
    for _ in range(3):
        after = edit.add_reading(text, FILE, data.draw(st.integers(0, 1)), FEELER)
        inserted += len(only_inserted(text, after))
        text = after
    assert len(text) == len(before) + inserted
