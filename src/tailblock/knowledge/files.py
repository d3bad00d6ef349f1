"""The files of a checklist's folder.

In: a folder. Out: every `.yaml` file below it as plain data with places, `checklist.yaml` first and
the others by name, and problems.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tailblock.errors import Problem
from tailblock.knowledge.library import HEAD, checklists_in
from tailblock.knowledge.yamlmarks import LARGEST, Marked, read_marked

if TYPE_CHECKING:
    from pathlib import Path

MOST_FILES = 500  # of one checklist; more is a folder given by mistake


def read_folder(folder: Path) -> tuple[list[Marked], list[Problem]]:
    """Read the files of a checklist.

    Returns
    -------
    files
        Those that could be read; `checklist.yaml` is the first of them, or missing.
    problems
        What could not be read and why.
    """
    head = folder / HEAD
    if not head.is_file():
        return [], [_no_head(folder)]
    below = sorted(
        path
        for path in folder.rglob("*.y*ml")
        if path != head and not any(name.startswith(".") for name in path.relative_to(folder).parts)
    )
    if len(below) > MOST_FILES:
        message = f"there are more than {MOST_FILES} YAML files below {folder}"
        return [], [Problem(str(folder), 1, 1, "", "file", message, "give the checklist's folder")]
    files: list[Marked] = []
    problems: list[Problem] = []
    for path in (head, *below):
        marked, found = _read(path)
        problems.extend(found)
        if marked is not None:
            files.append(marked)
    return files, problems


def _read(path: Path) -> tuple[Marked | None, tuple[Problem, ...]]:
    """Read one file; one that holds only comments has nothing to say."""
    name = str(path)
    if path.suffix != ".yaml":
        mend = f"call it {path.stem}.yaml"
        return None, (Problem(name, 1, 1, "", "file", "this file would not be read", mend),)
    try:
        with path.open("rb") as file:
            content = file.read(LARGEST + 1)
    except OSError as error:
        message = f"cannot be read: {(error.strerror or str(error)).lower()}"
        return None, (Problem(name, 1, 1, "", "file", message),)
    marked, problems = read_marked(content, name)
    if marked is None or isinstance(marked.data, dict):
        return marked, problems
    if marked.data is None:
        return None, ()
    message = "the file must be a mapping of sections"
    mend = "begin it with `faults:`, `checks:` or another section"
    return None, (Problem(*marked.root.place, "", "bad-value", message, mend),)


def _no_head(folder: Path) -> Problem:
    """Say that there is no checklist, and what there is instead."""
    if not folder.is_dir():
        return Problem(str(folder), 1, 1, "", "file", "there is no such folder")
    near = ", ".join(found.name for found in checklists_in(folder))
    mend = f"give one of its folders: {near}" if near else "give the folder of a checklist"
    return Problem(str(folder), 1, 1, "", "file", f"there is no {HEAD} in it", mend)
