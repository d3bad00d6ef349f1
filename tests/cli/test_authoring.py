"""`new-checklist`, `explain` and `diff`: a checklist begun, asked about and compared."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

import pytest
import yaml
from jsonschema import Draft202012Validator

from cli.shapes import DIFF, EXPLAIN, fits
from cli.test_vignettes import LIFTING

if TYPE_CHECKING:
    from pathlib import Path

    from cli.conftest import Run


@pytest.fixture
def cases(shop: Path) -> Path:
    folder = shop / "checklists" / "small" / "vignettes"
    folder.mkdir()
    (folder / "lifting.yaml").write_text(LIFTING, encoding="utf-8")
    return folder


def test_a_new_checklist_passes_lint_and_test(run: Run) -> None:
    ran = run("new-checklist", "ukulele", "--title", 'Ukuleles: of "any" size')
    assert ran.code == 0, ran.err
    assert run("lint", "checklists/ukulele").out == "ukulele: 0 errors, 0 warnings\n"
    tried = run("test", "checklists/ukulele")
    assert tried.code == 0
    assert tried.out.startswith('Ukuleles: of "any" size (ukulele 0.1.0)\n')


def test_its_files_name_the_schema_beside_them_and_satisfy_it(run: Run, shop: Path) -> None:
    run("new-checklist", "ukulele")
    folder = shop / "checklists" / "ukulele"
    files = [path for path in folder.rglob("*.yaml") if path.parent.name != "vignettes"]
    assert len(files) == 4
    for path in files:
        text = path.read_text(encoding="utf-8")
        modeline, _ = text.split("\n", 1)
        _, named = modeline.split("# yaml-language-server: $schema=")
        schema = json.loads((path.parent / named).read_text(encoding="utf-8"))
        Draft202012Validator(schema).validate(yaml.safe_load(text))


def test_a_checklist_that_is_there_is_not_written_over(run: Run, shop: Path) -> None:
    before = (shop / "checklists" / "small" / "checklist.yaml").read_bytes()
    ran = run("new-checklist", "small")
    assert (ran.code, ran.out) == (2, "")
    assert ran.err == (
        "checklists/small: there is something of that name already (choose another id)\n"
    )
    assert (shop / "checklists" / "small" / "checklist.yaml").read_bytes() == before
    assert sorted(path.name for path in (shop / "checklists").iterdir()) == ["small"]


@pytest.mark.parametrize("name", ["Ukulele", "my ukulele", "../up", "", "-", "u" * 65])
def test_an_id_that_no_checklist_can_have_is_refused(name: str, run: Run, shop: Path) -> None:
    ran = run("new-checklist", "--", name)
    assert ran.code == 2
    assert "is no id (small letters, digits and hyphens" in ran.err
    assert sorted(path.name for path in (shop / "checklists").iterdir()) == ["small"]


def test_into_a_file_nothing_can_be_written(run: Run) -> None:
    ran = run("new-checklist", "ukulele", "--into", "job.yaml")
    assert (ran.code, ran.err) == (2, "job.yaml: this is a file (a folder is wanted)\n")


def test_explain_says_what_names_an_entry_and_what_its_chances_move(cases: Path, run: Run) -> None:
    ran = run("explain", "bridge-lifting", "checklists/small")
    assert ran.code == 0, ran.err
    assert ran.out.splitlines()[:7] == [
        "bridge-lifting: fault of small 1.0.0",
        "  brings about: pin-holes-worn",
        "  shown by: bridge-light, bridge-creak, bridge-feeler",
        "  mended by: bridge-reglue",
        "Its chances",
        "  bridge-lifting alone: seldom",
        "    down to rarely: the same lead in all; most: bridge-lifting 1 point down in lifting",
    ]


def test_explain_counts_another_next_check_if_asked(cases: Path, run: Run) -> None:
    ran = run("explain", "pin-look", "checklists/small", "--advice", "--json")
    fits(ran.data, EXPLAIN)
    assert ran.data["vignettes"] == 1
    assert {moved["way"] for moved in ran.data["moved"]} == {"down", "up"}
    assert all(moved["next"] is not None for moved in ran.data["moved"])


def test_explain_without_vignettes_says_that_there_are_none(run: Run) -> None:
    ran = run("explain", "bridge-lifting", "checklists/small")
    assert "No vignettes to try them on (`--vignettes DIR` names a folder)." in ran.out
    assert run("explain", "bridge-lifting", "checklists/small", "--json").data["moved"] == []


def test_explain_of_what_has_no_chances_only_says_what_names_it(run: Run) -> None:
    assert run("explain", "string-tension", "checklists/small").out.splitlines() == [
        "string-tension: caution of small 1.0.0",
        "  goes with: bridge-feeler",
    ]


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["explain", "bridge-liftin", "checklists/small"], "did you mean `bridge-lifting`?"),
        (["explain", "bridge-lifting", "smal"], "there is no checklist 'smal'"),
        (["explain", "bridge-lifting", "checklists/small", "--vignettes", "none"],
         "none: there is no such folder of vignettes"),
        (["diff", "checklists/small", "smal"], "there is no checklist 'smal'"),
        (["diff", "checklists/small", "checklists/small", "--vignettes", "none"],
         "none: there is no such folder of vignettes"),
    ],
)  # fmt: skip
def test_what_is_not_there_is_said_in_one_line(words: list[str], says: str, run: Run) -> None:
    ran = run(*words)
    assert ran.code == 2
    assert says in ran.err
    assert len(ran.err.splitlines()) == 1


def test_diff_says_what_changed_and_which_vignettes_rank_differently(
    cases: Path, shop: Path, run: Run
) -> None:
    old = (shop / "checklists" / "small" / "checklist.yaml").read_text(encoding="utf-8")
    new = shop / "new" / "small"
    new.mkdir(parents=True)
    changed = old.replace("version: 1.0.0", "version: 1.1.0").replace(
        "shows: [{fault: bridge-lifting, at_least: {slight: almost-always, open: often}}]",
        "shows: [{fault: neck-bow, at_least: {slight: almost-always, open: often}}]",
    ).replace(
        "shows: [{fault: bridge-lifting, at_least: {slight: usually, marked: often}}]",
        "shows: [{fault: neck-bow, at_least: {slight: usually, marked: often}}]",
    )  # fmt: skip
    (new / "checklist.yaml").write_text(changed, encoding="utf-8")
    ran = run("diff", "checklists/small", "new/small")
    assert ran.code == 0, ran.err
    assert ran.out.splitlines() == [
        "small 1.0.0 -> small 1.1.0",
        "~ checklist small",
        "    version: 1.0.0 -> 1.1.0",
        "~ check bridge-light",
        "    shows: neck-bow added",
        "    shows: bridge-lifting removed",
        "~ check bridge-feeler",
        "    shows: neck-bow added",
        "    shows: bridge-lifting removed",
        "1 of 1 vignettes rank differently",
        "  lifting",
        "    leads: bridge-lifting, pin-holes-worn -> neck-bow",
    ]
    data = run("diff", "checklists/small", "new/small", "--json").data
    fits(data, DIFF)
    assert data["vignettes"][0]["differs"] is True


def test_diff_of_the_same_says_so(run: Run) -> None:
    assert run("diff", "checklists/small", "checklists/small").out.splitlines() == [
        "small 1.0.0 -> small 1.0.0",
        "Nothing changed in meaning.",
        "No vignettes to try (`--vignettes DIR` names a folder).",
    ]
