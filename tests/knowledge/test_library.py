"""Where a checklist id is looked for, and in which order."""

from __future__ import annotations

from pathlib import Path

import pytest

from tailblock.knowledge import library
from tailblock.knowledge.library import (
    ChecklistNotFound,
    Shelves,
    checklists_in,
    shipped_roots,
)


def put(root: Path, *ids: str) -> Path:
    for name in ids:
        (root / name).mkdir(parents=True)
        (root / name / "checklist.yaml").write_text("tailblock: 1\n", encoding="utf-8")
    return root


@pytest.fixture
def shelves(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Shelves:
    """Return shelves of every kind, each with a checklist of its own and one that all have."""
    shipped = put(tmp_path / "shipped", "shared", "only-shipped")
    monkeypatch.setattr(library, "shipped_roots", lambda: (shipped,))
    put(tmp_path / "job" / "checklists", "shared", "only-beside")
    return Shelves(
        given=put(tmp_path / "given", "shared", "only-given"),
        environment=put(tmp_path / "environment", "shared", "only-environment"),
        beside=tmp_path / "job",
    )


def test_the_order(shelves: Shelves, tmp_path: Path) -> None:
    assert [root.relative_to(tmp_path).parts[0] for root in shelves.roots()] == [
        "given", "environment", "job", "shipped",
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("checklist", "root"),
    [
        ("shared", "given"),
        ("only-given", "given"),
        ("only-environment", "environment"),
        ("only-beside", "job/checklists"),
        ("only-shipped", "shipped"),
    ],
)
def test_the_first_shelf_that_has_it(
    shelves: Shelves, tmp_path: Path, checklist: str, root: str
) -> None:
    assert shelves.find(checklist) == tmp_path / root / checklist


def test_a_folder_may_be_looked_in_before_all_others(shelves: Shelves, tmp_path: Path) -> None:
    first = put(tmp_path / "first", "shared")
    assert shelves.find("shared", first) == first / "shared"
    assert shelves.find("only-given", first) == tmp_path / "given" / "only-given"


def test_the_folder_of_a_checklist_itself_may_be_given(tmp_path: Path) -> None:
    folder = put(tmp_path, "mine") / "mine"
    assert Shelves(given=folder).find("mine") == folder


def test_one_that_is_nowhere_names_every_place(shelves: Shelves, tmp_path: Path) -> None:
    with pytest.raises(ChecklistNotFound) as caught:
        shelves.find("flat-tpo")
    assert caught.value.looked_in == shelves.roots()
    assert str(caught.value) == (
        "there is no checklist 'flat-tpo'; there is only-beside, only-environment, only-given, "
        f"only-shipped, shared (looked in {tmp_path}/given, {tmp_path}/environment, "
        f"{tmp_path}/job/checklists, {tmp_path}/shipped)"
    )


@pytest.mark.parametrize("odd", ["", ".", "..", "../given/shared", "/etc", "shared/", "a\0b"])
def test_an_id_is_no_path(shelves: Shelves, odd: str) -> None:
    with pytest.raises(ChecklistNotFound):
        shelves.find(odd)


def test_shelves_that_are_not_there_are_passed_over(tmp_path: Path) -> None:
    with pytest.raises(ChecklistNotFound):
        Shelves(given=tmp_path / "nowhere").find("nothing-like-it")
    assert checklists_in(tmp_path / "nowhere") == ()


def test_a_checkout_ships_its_own_folder() -> None:
    """An editable install has no copy inside the package."""
    [root] = shipped_roots()
    assert root == Path(__file__).parents[2] / "checklists"


def test_a_wheel_ships_a_copy_inside_the_package(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    package = tmp_path / "site-packages" / "tailblock"
    put(package / "shipped" / "checklists", "flat-top")
    put(tmp_path / "checklists", "not-ours")
    monkeypatch.setattr(library, "__file__", str(package / "knowledge" / "library.py"))
    assert shipped_roots() == (package / "shipped" / "checklists",)


def test_a_broken_install_ships_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(library, "__file__", str(tmp_path / "a" / "tailblock" / "k" / "l.py"))
    assert shipped_roots() == ()
