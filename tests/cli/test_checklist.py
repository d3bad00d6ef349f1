"""`lint`, `table` and `schema`."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

import pytest
import yaml
from jsonschema import Draft202012Validator

from cli.conftest import SMALL
from cli.shapes import LINT, fits

if TYPE_CHECKING:
    from pathlib import Path

    from cli.conftest import Run


@pytest.fixture
def broken(shop: Path) -> Path:
    """Return the folder of a checklist with an error in line 35 and one in line 37."""
    file = shop / "checklists" / "small" / "checklist.yaml"
    text = SMALL.replace("harm: serious", "harm: terrible").replace("pace: years", "pase: years", 1)
    file.write_text(text, encoding="utf-8")
    return file.parent


@pytest.mark.parametrize("words", [["checklists/small"], ["small", "--checklists", "checklists"]])
def test_a_sound_checklist_lints_with_exit_code_0(words: list[str], run: Run) -> None:
    ran = run("lint", *words)
    assert ran.code == 0, ran.out
    assert ran.out.splitlines()[-1].startswith("small: 0 errors, ")


def test_errors_are_placed_for_an_editor_and_end_with_exit_code_1(broken: Path, run: Run) -> None:
    ran = run("lint", "checklists")
    assert ran.code == 1
    first, *_, last = ran.out.splitlines()
    assert first.startswith("checklists/small/checklist.yaml:")
    assert "`terrible` is not one of none, cosmetic, playability, serious, destructive" in first
    assert last.startswith("small: ")
    assert ran.err == ""


def test_lint_as_json_has_the_agreed_shape(broken: Path, run: Run) -> None:
    ran = run("lint", "checklists", "--json")
    assert ran.code == 1
    fits(ran.data, LINT)
    entry = ran.data["errors"][0]
    assert (entry["file"], entry["entry"]) == ("checklists/small/checklist.yaml", "bridge-lifting")
    lines = (broken / "checklist.yaml").read_text(encoding="utf-8").splitlines()
    assert lines[entry["line"] - 1][entry["column"] - 1 :].startswith("terrible")


def test_lint_as_json_of_a_sound_checklist(run: Run) -> None:
    ran = run("lint", "checklists/small", "--json")
    assert ran.code == 0
    fits(ran.data, LINT)
    assert ran.data["errors"] == []


def test_without_a_folder_everything_that_is_found_is_linted(
    shop: Path, run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("TAILBLOCK_CHECKLISTS", str(shop / "checklists"))
    assert "small" in run("lint").out.splitlines()[-1]


@pytest.mark.parametrize(
    ("folder", "said"),
    [
        ("./nowhere", "nowhere: there is no such folder (a folder is wanted)\n"),
        ("job.yaml", "job.yaml: this is a file (a folder is wanted)\n"),
        ("empty", "empty: no checklist here (a folder with a checklist.yaml is wanted)\n"),
    ],
)
def test_a_folder_without_a_checklist_is_bad_input(
    folder: str, said: str, shop: Path, run: Run
) -> None:
    (shop / "empty").mkdir()
    for command in ("lint", "table"):
        if command == "table" and folder != "empty":
            continue
        ran = run(command, folder)
        assert (ran.code, ran.out, ran.err) == (2, "", said)


@pytest.mark.parametrize("command", ["lint", "table", "test"])
def test_an_id_that_there_is_not_names_those_that_there_are(command: str, run: Run) -> None:
    ran = run(command, "smal", "--checklists", "checklists")
    assert (ran.code, ran.out) == (2, "")
    assert ran.err.startswith(
        "there is no checklist 'smal'; there is flat-top, nylon-string, small"
    )


@pytest.mark.parametrize("words", [["small", "--checklists", "checklists"], ["checklists/small"]])
def test_a_table_lists_every_entry(words: list[str], run: Run) -> None:
    ran = run("table", *words)
    assert ran.code == 0
    assert "bridge-feeler, bridge: Feel for an open seam" in ran.out
    assert "fault (3)" in ran.out


def test_a_table_of_one_kind_as_json(run: Run) -> None:
    data = run("table", "checklists/small", "--kind", "remedy", "--json").data
    assert (data["tailblock"], data["checklist"]) == (1, "small")
    (row,) = data["rows"]
    assert (row["kind"], row["id"], row["facts"]["hours"]) == ("remedy", "bridge-reglue", 3.0)


def test_a_table_of_an_unknown_checklist(run: Run) -> None:
    ran = run("table", "banjo", "--checklists", "checklists")
    assert ran.code == 2
    assert ran.err.startswith("there is no checklist 'banjo'; there is ")
    assert "small" in ran.err


def test_a_broken_checklist_is_not_listed(broken: Path, run: Run) -> None:
    ran = run("table", "checklists/small")
    assert ran.code == 2
    assert ran.err.startswith("checklists/small/checklist.yaml:")


def test_the_schema_is_one_and_takes_what_the_loader_takes(run: Run) -> None:
    schema = json.loads(run("schema").out)
    Draft202012Validator.check_schema(schema)
    assert Draft202012Validator(schema).is_valid(yaml.safe_load(SMALL))


def test_a_table_as_pages_goes_into_a_folder_over_older_ones(run: Run, shop: Path) -> None:
    for _ in range(2):
        ran = run("table", "checklists/small", "--pages", "site/small")
        assert (ran.code, ran.out) == (0, "site/small/index.md\n")
    index = (shop / "site" / "small" / "index.md").read_text(encoding="utf-8")
    assert index.startswith("# A small checklist\n")
    assert "[Bridge](part-bridge.md)" in index
    assert (shop / "site" / "small" / "part-bridge.md").is_file()


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--pages", "job.yaml"], "job.yaml: this is a file (a folder is wanted)\n"),
        (["--pages", "x", "--json"],
         "--pages writes all kinds as Markdown (leave out --kind and --json)\n"),
    ],
)  # fmt: skip
def test_pages_that_cannot_be_written_are_bad_input(words: list[str], said: str, run: Run) -> None:
    ran = run("table", "checklists/small", *words)
    assert (ran.code, ran.out, ran.err) == (2, "", said)
