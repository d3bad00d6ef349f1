"""The examples of docs/api.md, run in their order as one session in an empty folder."""

from __future__ import annotations

import doctest
import re
from pathlib import Path
from typing import TYPE_CHECKING

import tailblock

if TYPE_CHECKING:
    import pytest

PAGE = (Path(__file__).parents[2] / "docs" / "api.md").read_text(encoding="utf-8")


def test_the_examples_print_what_the_page_shows(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    session = "\n".join(re.findall(r"```pycon\n(.*?)```", PAGE, re.DOTALL))
    example = doctest.DocTestParser().get_doctest(session, {}, "docs/api.md", None, 0)
    said: list[str] = []
    done = doctest.DocTestRunner(verbose=False).run(example, out=said.append)
    assert done.attempted > 20
    assert done.failed == 0, "".join(said)


def test_every_public_name_stands_in_the_table() -> None:
    table = PAGE.split("## What is stable")[1]
    for name in tailblock.__all__:
        assert name == "__version__" or f"`{name}`" in table, name
