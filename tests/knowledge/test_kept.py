"""A kept checklist is the one that reading again would give, or it is not used."""

from __future__ import annotations

import os
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from tailblock.errors import ProblemsFound
from tailblock.knowledge import kept, ready
from tailblock.knowledge.library import Shelves, shipped_roots
from tailblock.knowledge.ready import open_checklist

if TYPE_CHECKING:
    from tailblock.knowledge.checklist import Checklist

BASE = """\
tailblock: 1
id: base
title: Base
version: "1"
parts: [{id: top, name: Top}]
faults:
  - {id: crack, part: top, name: Crack, plain: It is cracked., alone: seldom, harm: serious,
     pace: months, under_tension: fine}
checks:
  - id: look
    part: top
    title: Look at the top
    ask: Is there a crack?
    how: Look along the grain in raking light.
    minutes: 1
    choices: [{level: none, text: None}, {level: crack, text: A crack}]
    shows: [{fault: crack, at_least: {crack: usually}}]
"""
OWN = """\
tailblock: 1
id: own
title: Own
version: "1"
extends: base
parts: [{id: back, name: Back}]
"""


@pytest.fixture
def shelf(tmp_path: Path) -> Path:
    for name, text in (("base", BASE), ("own", OWN)):
        folder = tmp_path / "shelf" / name
        folder.mkdir(parents=True)
        (folder / "checklist.yaml").write_text(text, encoding="utf-8")
    return tmp_path / "shelf"


@pytest.fixture
def keep_in(tmp_path: Path) -> Path:
    return tmp_path / "keep" / "here"


@pytest.fixture
def readings(monkeypatch: pytest.MonkeyPatch) -> list[Path]:
    """Return the folders that are read anew, as they come."""
    seen: list[Path] = []
    read = ready._read

    def noted(folder: Path, shelves: Shelves, keep_in: Path | None) -> Checklist:
        seen.append(folder)
        return read(folder, shelves, keep_in)

    monkeypatch.setattr(ready, "_read", noted)
    return seen


def test_the_second_time_nothing_is_read(shelf: Path, keep_in: Path, readings: list[Path]) -> None:
    first = open_checklist("own", Shelves(given=shelf), keep_in)
    second = open_checklist("own", Shelves(given=shelf), keep_in)
    assert readings == [shelf / "own"]
    assert second.digest == first.digest
    assert second.places.within("fault", "crack") == first.places.within("fault", "crack")
    assert dict(second.faults) == dict(first.faults)


def test_the_shipped_one_comes_back_whole(keep_in: Path) -> None:
    shelves = Shelves(given=shipped_roots()[0])
    fresh = open_checklist("flat-top", shelves)
    open_checklist("flat-top", shelves, keep_in)
    again = open_checklist("flat-top", shelves, keep_in)
    assert again.digest == fresh.digest
    with pytest.raises(TypeError):
        again.faults["new"] = None  # type: ignore[index]


@pytest.mark.parametrize(
    "change",
    [
        ("own/checklist.yaml", "title: Own", "title: One"),
        ("base/checklist.yaml", "alone: seldom", "alone: rarely"),
        ("base/checklist.yaml", "usually", "usually "),
        ("own/more.yaml", "", "faults: []\n"),
        ("base/deep/er.yaml", "", "# nothing yet\n"),
    ],
)
def test_any_other_byte_counts(
    shelf: Path, keep_in: Path, readings: list[Path], change: tuple[str, str, str]
) -> None:
    file, old, new = change
    open_checklist("own", Shelves(given=shelf), keep_in)
    path = shelf / file
    path.parent.mkdir(exist_ok=True)
    before = path.read_text(encoding="utf-8") if path.exists() else ""
    stamp = path.stat() if path.exists() else None
    path.write_text(before.replace(old, new) if old else new, encoding="utf-8")
    if stamp:  # a time that was put back hides nothing
        os.utime(path, ns=(stamp.st_atime_ns, stamp.st_mtime_ns))
    fresh = open_checklist("own", Shelves(given=shelf), keep_in)
    assert len(readings) == 2
    assert fresh.digest == open_checklist("own", Shelves(given=shelf)).digest


def test_a_file_that_is_gone_counts(shelf: Path, keep_in: Path, readings: list[Path]) -> None:
    extra = shelf / "own" / "extra.yaml"
    extra.write_text("cautions: []\n", encoding="utf-8")
    open_checklist("own", Shelves(given=shelf), keep_in)
    extra.unlink()
    open_checklist("own", Shelves(given=shelf), keep_in)
    assert len(readings) == 2


def test_a_base_that_is_found_elsewhere_counts(
    shelf: Path, tmp_path: Path, keep_in: Path, readings: list[Path]
) -> None:
    apart = tmp_path / "apart"
    apart.mkdir()
    (shelf / "base").rename(apart / "base")
    shelves = Shelves(given=shelf, environment=apart)
    assert open_checklist("own", shelves, keep_in).faults["crack"].alone == 0.10
    nearer = shelf / "base" / "checklist.yaml"
    nearer.parent.mkdir()
    nearer.write_text(BASE.replace("alone: seldom", "alone: rarely"), encoding="utf-8")
    assert open_checklist("own", shelves, keep_in).faults["crack"].alone == 0.03


def test_a_base_that_is_gone_counts(shelf: Path, keep_in: Path) -> None:
    open_checklist("own", Shelves(given=shelf), keep_in)
    (shelf / "base").rename(shelf / "bare")
    with pytest.raises(ProblemsFound):
        open_checklist("own", Shelves(given=shelf), keep_in)


def test_other_readers_read_anew(
    shelf: Path, keep_in: Path, readings: list[Path], monkeypatch: pytest.MonkeyPatch
) -> None:
    open_checklist("own", Shelves(given=shelf), keep_in)
    monkeypatch.setattr(kept, "readers", lambda: ("a newer version",))
    open_checklist("own", Shelves(given=shelf), keep_in)
    assert len(readings) == 2


def test_every_module_that_reads_is_told() -> None:
    told = "\n".join(kept.readers())
    for module in ("knowledge/loader.py", "knowledge/entries/checks.py", "measures/units.py",
                   "knowledge/lint/levels.py"):  # fmt: skip
        assert module in told


@pytest.mark.parametrize("place", [0, 5, 40, -1])
def test_a_damaged_one_is_not_used(
    shelf: Path, keep_in: Path, readings: list[Path], place: int
) -> None:
    whole = open_checklist("own", Shelves(given=shelf), keep_in)
    (file,) = keep_in.iterdir()
    content = bytearray(file.read_bytes())
    content[place] ^= 0xFF
    file.write_bytes(content)
    assert open_checklist("own", Shelves(given=shelf), keep_in).digest == whole.digest
    assert len(readings) == 2


@pytest.mark.parametrize("length", [0, 10, 32, 200])
def test_a_torn_one_is_not_used(shelf: Path, keep_in: Path, length: int) -> None:
    whole = open_checklist("own", Shelves(given=shelf), keep_in)
    (file,) = keep_in.iterdir()
    file.write_bytes(file.read_bytes()[:length])
    assert open_checklist("own", Shelves(given=shelf), keep_in).digest == whole.digest


@pytest.mark.skipif(not hasattr(os, "getuid"), reason="only where files have owners")
def test_one_that_others_may_write_is_not_used(
    shelf: Path, keep_in: Path, readings: list[Path]
) -> None:
    open_checklist("own", Shelves(given=shelf), keep_in)
    (file,) = keep_in.iterdir()
    assert file.stat().st_mode & 0o077 == 0
    file.chmod(0o666)
    open_checklist("own", Shelves(given=shelf), keep_in)
    assert len(readings) == 2


def test_a_place_that_cannot_be_written_is_no_trouble(shelf: Path, tmp_path: Path) -> None:
    in_the_way = tmp_path / "a file"
    in_the_way.touch()
    assert open_checklist("own", Shelves(given=shelf), in_the_way / "below").id == "own"


def test_a_full_disk_leaves_nothing_behind(
    shelf: Path, keep_in: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(self: Path, target: Path) -> Path:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "replace", full)
    assert open_checklist("own", Shelves(given=shelf), keep_in).id == "own"
    assert list(keep_in.iterdir()) == []


def test_an_unsound_one_is_not_kept(shelf: Path, keep_in: Path) -> None:
    path = shelf / "base" / "checklist.yaml"
    path.write_text(BASE.replace("{fault: crack, at", "{fault: creak, at"), encoding="utf-8")
    for _ in range(2):
        with pytest.raises(ProblemsFound):
            open_checklist("base", Shelves(given=shelf), keep_in)
    assert not keep_in.exists()
