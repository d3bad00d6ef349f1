"""The pages whose commands are run as their reader would run them, from an empty folder."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from docs.console import DOCS, Changed, Shell, Shown, Written, compare, follow, steps
from tailblock.knowledge.loader import load

if TYPE_CHECKING:
    from pathlib import Path

DEMOS = DOCS.parent / "demo_inspections"
PAGES = (
    "after-first-stringing.md",
    "at-the-bench.md",
    "at-the-counter.md",
    "drills.md",
    "first-inspection.md",
    "teaching.md",
    "tutorial-ukulele.md",
    "writing-checklists.md",
)


@pytest.mark.parametrize("name", PAGES)
def test_every_command_prints_what_the_page_shows(
    name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("TAILBLOCK_CHECKLISTS", raising=False)
    follow((DOCS / name).read_text(encoding="utf-8"), compare)


def test_the_tutorial_counts_what_it_makes(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    page = (DOCS / "tutorial-ukulele.md").read_text(encoding="utf-8")
    follow(page, lambda *_: None)
    made = load(tmp_path / "checklists" / "ukulele").checklist
    assert made is not None
    counts = (len(made.faults), len(made.checks), len(made.remedies))
    assert counts == (8, 15, 7)
    said = "eight faults, fifteen checks, seven remedies, three cases"
    assert said in " ".join(page.split())
    assert len(list(tmp_path.glob("checklists/ukulele/vignettes/*.yaml"))) == 3


@pytest.mark.parametrize("name", PAGES)
def test_a_page_has_something_to_run(name: str) -> None:
    assert any(isinstance(step, Shown) for step in steps((DOCS / name).read_text(encoding="utf-8")))


def test_the_runner_sees_a_page_as_its_reader_does() -> None:
    page = """\
Write `a/b.yaml`:

```yaml
x: 1
```

In `a/b.yaml`:

```diff
-x: 1
+x: 2
```

```console
$ tailblock lint a
one
$ echo $?
1
```
"""
    written, changed, *run = steps(page)
    shown = [step for step in run if isinstance(step, Shown)]
    assert shown == run
    assert written == Written("a/b.yaml", "x: 1\n")
    assert changed == Changed("a/b.yaml", "x: 1\n", "x: 2\n")
    assert [(each.command, each.lines, page[each.start : each.end]) for each in shown] == [
        ("tailblock lint a", ["one"], "one\n"),
        ("echo $?", ["1"], "1\n"),
    ]


def test_a_command_is_fed_from_a_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "said.txt").write_text("stop\n")
    (tmp_path / "a.yaml").write_text((DEMOS / "hot-car.yaml").read_text(encoding="utf-8"))
    fed, starved = (Shell().run(f"tailblock walk a.yaml{end}") for end in (" < said.txt", ""))
    assert "> stop" in fed[-2]
    assert "> stop" not in starved[-2]


@pytest.mark.parametrize(
    ("shown", "printed"),
    [
        (["a", "b"], ["a", "b", "c"]),
        (["a", "...", "d"], ["a", "b", "c"]),
        (["...", "b"], ["a", "b", "c"]),
        (["...", "c", "...", "a", "..."], ["a", "b", "c"]),
        ([], ["a"]),
    ],
)
def test_what_is_shown_wrongly_is_noticed(shown: list[str], printed: list[str]) -> None:
    with pytest.raises(AssertionError):
        compare(Shown("tailblock", shown, 0, 0), printed)


@pytest.mark.parametrize("shown", [["a", "b", "c"], ["..."], ["a", "..."], ["...", "b", "c"]])
def test_what_is_shown_rightly_passes(shown: list[str]) -> None:
    compare(Shown("tailblock", shown, 0, 0), ["a", "b", "c"])
