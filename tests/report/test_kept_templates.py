"""Compiled templates are kept between runs, and never change what a report says."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

import pytest
from jinja2 import Environment, FileSystemBytecodeCache

from demos import demo_report
from tailblock.report import markdown_page, to_html, to_markdown
from tailblock.report.kept_templates import kept_templates as kept

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

DEMO = "nothing-to-do"


def html() -> str:
    """Return a page as a new process would make it."""
    to_html._environment.cache_clear()
    markdown_page.environment.cache_clear()
    return to_html.to_html(demo_report(DEMO), copy="bench")


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    folder = tmp_path / "cache"
    monkeypatch.setenv("XDG_CACHE_HOME", str(folder))
    yield folder
    to_html._environment.cache_clear()
    markdown_page.environment.cache_clear()


def files(home: Path) -> dict[str, bytes]:
    return {str(p.relative_to(home)): p.read_bytes() for p in home.rglob("*.cache")}


def test_the_second_run_compiles_nothing(home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    first = html()
    before = files(home)
    assert before
    compiled = []
    monkeypatch.setattr(Environment, "_generate", lambda *given, **_: compiled.append(given))
    assert html() == first
    assert compiled == []
    assert files(home) == before


def test_pages_that_escape_and_pages_that_do_not_are_kept_apart(home: Path) -> None:
    html()
    to_markdown.to_markdown(demo_report(DEMO))
    assert len({name.split("/")[1] for name in files(home)}) == 2


@pytest.mark.parametrize("content", [b"", b"j2", b"\x00" * 400])
def test_what_is_not_whole_is_made_again(home: Path, content: bytes) -> None:
    first = html()
    for name in files(home):
        (home / name).write_bytes(content)
    assert html() == first


def test_a_folder_that_others_may_write_to_is_not_used(home: Path) -> None:
    html()
    for folder in home.glob("*/templates-*"):
        folder.chmod(0o777)
    assert kept(to_html._shown, autoescape=True) is None
    html()


def test_nowhere_to_keep_them_is_no_error(home: Path) -> None:
    home.write_text("a file where the folder should be", encoding="utf-8")
    assert kept(to_html._shown, autoescape=True) is None
    assert html()


@pytest.mark.skipif(os.name != "posix", reason="rights as POSIX has them")
def test_a_full_disk_is_no_error(home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(FileSystemBytecodeCache, "dump_bytecode", full)
    assert html()
    assert files(home) == {}


def test_a_shops_own_templates_are_not_kept(home: Path, tmp_path: Path) -> None:
    (tmp_path / "own").mkdir()
    to_html._environment.cache_clear()
    to_html.to_html(demo_report(DEMO), templates=tmp_path / "own")
    assert files(home) == {}
