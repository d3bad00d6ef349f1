"""From a folder to a checklist: files together, problems together, values as written."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from types import MappingProxyType

import pytest

from tailblock.knowledge.checklist import Checklist
from tailblock.knowledge.loader import load

Write = Callable[..., Path]
Read = Callable[..., Checklist]

HEAD = """\
tailblock: 1
id: small
title: Small
version: 1.10
parts: [{id: bridge, name: Bridge}]
"""
FAULT = """\
faults:
  - id: hump
    part: bridge
    name: Hump
    plain: It rises.
    alone: seldom
    harm: serious
    pace: years
    under_tension: watch
"""
CHECK = """\
checks:
  - id: look
    part: bridge
    title: Look
    ask: Does it rise?
    how: Look along it.
    minutes: 0.50
    choices: [{level: off, text: Flat}, {level: on, text: Humped}]
    setup: {strings: off}
    shows: [{fault: hump, at_least: {on: usually}}]
"""
REMEDY = """\
remedies:
  - id: press
    part: bridge
    name: Press it flat
    plain: We press it.
    fixes: [{fault: hump, how_well: often}]
    hours: {low: 1, likely: 2, high: 4}
    reversible: true
"""


def problems(folder: Path) -> list[str]:
    loaded = load(folder)
    return [
        f"{Path(p.file).name}:{p.line}:{p.column} [{p.rule}] {p.message}" for p in loaded.problems
    ]


def test_one_file_or_many_give_the_same_checklist(checklist: Read) -> None:
    one = checklist(HEAD + FAULT + CHECK + REMEDY)
    many = checklist(
        {"checklist.yaml": HEAD, "faults/a.yaml": FAULT, "b.yaml": CHECK + REMEDY}, "many/small"
    )
    assert one.digest == many.digest
    assert many.places["fault", "hump"].file.endswith("faults/a.yaml")
    assert many.places["check", "look"][1:] == (2, 5)
    assert many.places.within("check", "look", "shows", 0, "at_least", "on")[1:] == (10, 42)


def test_sections_that_are_left_out_have_usual_values(checklist: Read) -> None:
    read = checklist(HEAD + FAULT + CHECK + REMEDY)
    assert list(read.stages) == ["arrival", "opened", "first-stringing", "settled", "follow-up"]
    assert read.setups.states == {"strings": ("off", "slack", "at-pitch")}
    assert read.limits.danger == 0.10
    assert read.limits.harm_weight["destructive"] == 1.5
    assert read.licence == "not stated"


def test_texts_are_taken_as_written_and_numbers_as_numbers(checklist: Read) -> None:
    read = checklist(HEAD + FAULT + CHECK + REMEDY)
    look = read.checks["look"]
    assert read.version == "1.10"
    assert [choice.level for choice in look.choices] == ["off", "on"]
    assert look.setup == {"strings": ("off",)}  # a single value stands for a list of one
    assert look.minutes == 0.5
    assert read.remedies["press"].reversible is True


def test_a_table_of_constants_names_only_what_differs(checklist: Read) -> None:
    read = checklist(HEAD + "limits: {harm_weight: {serious: 2}, onset_over: {stable: 90 y}}\n")
    assert read.limits.harm_weight["serious"] == 2.0
    assert read.limits.harm_weight["cosmetic"] == 0.2
    assert read.limits.onset_over["stable"] == "90 y"


def test_entries_keep_the_order_of_the_files(checklist: Read) -> None:
    late = FAULT.replace("hump", "early")
    read = checklist({"checklist.yaml": HEAD, "z.yaml": FAULT, "a.yaml": late})
    assert list(read.faults) == ["early", "hump"]


def test_a_checklist_cannot_be_changed(checklist: Read) -> None:
    read = checklist(HEAD + FAULT)
    assert isinstance(read.faults, MappingProxyType)
    with pytest.raises(AttributeError):
        read.title = "Other"  # type: ignore[misc]
    with pytest.raises(ValueError, match="frozen"):
        read.faults["hump"].alone = 0.9


def test_methods_look_entries_up(checklist: Read) -> None:
    symptom = """\
symptoms: [{id: gap, part: bridge, name: Gap, alone: rarely, caused_by: []}]
families: [{id: looks, checks: [touch, look]}]
"""
    read = checklist(HEAD + FAULT + CHECK + CHECK[8:].replace("look", "touch", 1) + symptom)
    assert [node.id for node in read.nodes()] == ["hump", "gap"]
    assert read.fault_or_symptom("gap").name == "Gap"
    assert read.fault_or_symptom("hump").name == "Hump"
    assert [check.id for check in read.checks_of_family("looks")] == ["touch", "look"]
    family = read.family_of("look")
    assert family is not None
    assert family.id == "looks"
    assert read.family_of("other") is None
    assert len(read.places) == len(list(read.places)) == 6
    with pytest.raises(KeyError):
        read.places["fault", "gap"]


def test_the_digest_is_that_of_the_content(checklist: Read) -> None:
    first = checklist(HEAD + FAULT)
    assert first.digest == checklist(HEAD + "# a comment\n" + FAULT).digest
    assert first.digest == checklist(HEAD + FAULT.replace("alone: seldom", "alone: 0.10")).digest
    assert first.digest != checklist(HEAD + FAULT.replace("seldom", "rarely")).digest
    assert first.digest != checklist(HEAD + FAULT + "limits: {danger: 0.2}\n").digest


def test_all_errors_of_all_files_are_reported_together(checklist_folder: Write) -> None:
    folder = checklist_folder(
        {
            "checklist.yaml": HEAD + "titel: x\n",
            "a.yaml": FAULT.replace("alone: seldom", "alone: mostly"),
            "b.yaml": CHECK.replace("minutes: 0.50", "minutes: some"),
            "c.yaml": "a: b: c\n",
        }
    )
    assert [line.split("]")[0] for line in problems(folder)] == [
        "a.yaml:6:12 [bad-value",
        "b.yaml:7:14 [bad-value",
        "c.yaml:1:5 [yaml",
        "checklist.yaml:6:1 [unknown-field",
    ]
    assert load(folder).checklist is None


def test_a_duplicate_names_both_places_across_files(checklist_folder: Write) -> None:
    folder = checklist_folder({"checklist.yaml": HEAD, "a.yaml": FAULT, "b.yaml": FAULT})
    [problem] = load(folder).problems
    assert problem.message == f"the fault `hump` is there already, at {folder / 'a.yaml'}:2:5"
    assert (Path(problem.file).name, problem.line, problem.column) == ("b.yaml", 2, 9)


@pytest.mark.parametrize(
    ("file", "text", "said"),
    [
        ("a.yaml", "- faults\n", "a.yaml:1:1 [bad-value] the file must be a mapping of sections"),
        ("a.yaml", "faults: x\n", "a.yaml:1:9 [bad-value] `faults` must be a list"),
        ("a.yaml", "faults: [x]\n", "a.yaml:1:10 [missing-field] a fault is a mapping of fields"),
        ("a.yaml", "parts: []\n", "a.yaml:1:1 [unknown-field] `parts` belongs into checklist.yaml"),
        ("a.yaml", "falts: []\n", "a.yaml:1:1 [unknown-field] unknown section `falts`"),
        ("a.yaml", "withdraw: [[x]]\n", "a.yaml:1:12 [bad-value] `withdraw` is a list of ids"),
        ("a.yml", "faults: []\n", "a.yml:1:1 [file] this file would not be read"),
    ],
)
def test_a_file_of_the_wrong_form(checklist_folder: Write, file: str, text: str, said: str) -> None:
    assert problems(checklist_folder({"checklist.yaml": HEAD, file: text})) == [said]


@pytest.mark.parametrize("text", ["", "# nothing yet\n", "faults:\n", "faults: []\n"])
def test_an_empty_file_or_section_is_no_problem(checklist_folder: Write, text: str) -> None:
    assert problems(checklist_folder({"checklist.yaml": HEAD, "a.yaml": text})) == []


def test_hidden_files_are_not_read(checklist_folder: Write) -> None:
    files = {"checklist.yaml": HEAD, ".draft.yaml": "x: y: z", ".old/a.yaml": "x: y: z"}
    assert problems(checklist_folder(files)) == []


def test_a_folder_that_is_none(tmp_path: Path) -> None:
    assert problems(tmp_path / "nowhere") == ["nowhere:1:1 [file] there is no such folder"]


def test_a_folder_of_checklists_is_not_one_itself(checklist_folder: Write) -> None:
    folder = checklist_folder(HEAD)
    [problem] = load(folder.parent).problems
    assert problem.message == "there is no checklist.yaml in it"
    assert problem.mend == "give one of its folders: small"


def test_a_folder_given_by_mistake_is_not_read_through(
    checklist_folder: Write, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("tailblock.knowledge.files.MOST_FILES", 2)
    folder = checklist_folder({"checklist.yaml": HEAD, "a.yaml": "", "b.yaml": "", "c.yaml": ""})
    [problem] = load(folder).problems
    assert problem.message == f"there are more than 2 YAML files below {folder}"


def test_a_folder_that_is_called_differently_is_a_warning(checklist_folder: Write) -> None:
    loaded = load(checklist_folder(HEAD, "other"))
    assert loaded.checklist is not None
    assert [p.message for p in loaded.problems] == [
        "a checklist is found by its folder, and that is called other"
    ]


def test_a_folder_in_the_place_of_a_file(checklist_folder: Write) -> None:
    folder = checklist_folder(HEAD)
    (folder / "a.yaml").mkdir()
    assert problems(folder) == ["a.yaml:1:1 [file] cannot be read: is a directory"]


@pytest.mark.parametrize(
    ("was", "becomes", "message", "mend"),
    [
        ("alone: seldom", "alnoe: seldom", "unknown field `alnoe`", "did you mean `alone`?"),
        ("harm: serious", "harm: serius", ("`serius` is not one of none, cosmetic, playability, "
         "serious, destructive"), "did you mean `serious`?"),
        ("alone: seldom", "alone: 1.5", ("`1.5` is no chance: say almost-always, usually, often, "
         "sometimes, seldom, rarely, very-rarely, or a number between 0 and 1"), ""),
        ("part: bridge", "part: [bridge]", "`part` must be a text", ""),
        ("part: bridge", "part: The Bridge", ("`part` must be an id: small letters, digits and "
         "hyphens"), "for example `bridge-lifting`"),
        ("name: Hump", "name: ''", "`name` must be a text that is not empty", ""),
        ("name: Hump", "name: ~", "`name` is empty", "give it a value, or leave the field out"),
        ("pace: years", "pace: years\n    caused_by: {fault: x}", "`caused_by` must be a list", ""),
        ("pace: years", "pace: years\n    caused_by: [x]",
         "`caused_by` must be a mapping (`name: value`)", ""),
        ("pace: years", "pace: years\n    alone_when: [{when: {a: b}}]",
         "give `alone` or `shift`, one of the two", ""),
        ("pace: years", "pace: years\n    alone_when: [{when: {a: b}, shift: 1.5}]",
         "`shift` must be a whole number", ""),
        ("part: bridge", "part: " + 65 * "b", "`part` must be at most 64 characters long", ""),
        ("pace: years", "pace: years\n    applies_when: {Bracing: x}",
         "`Bracing` must be an id: small letters, digits and hyphens",
         "for example `bridge-lifting`"),
    ],
)  # fmt: skip
def test_a_field_that_is_wrong_is_explained(
    checklist_folder: Write, was: str, becomes: str, message: str, mend: str
) -> None:
    folder = checklist_folder(HEAD + FAULT.replace(was, becomes))
    found = {(p.message, p.mend) for p in load(folder).problems}
    assert (message, mend) in found
    assert all(p.entry == "hump" for p in load(folder).problems)
