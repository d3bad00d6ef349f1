"""The files of a checklist's folder.

In: a folder. Out: every `.yaml` file below it as plain data with places, `checklist.yaml` first and
the others by name, and problems; what exactly was read, so that a change is noticed.
"""

from __future__ import annotations

import hashlib
import os
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING

from tailblock.errors import Problem
from tailblock.knowledge.library import HEAD, checklists_in
from tailblock.knowledge.yamlmarks import LARGEST, Marked, read_marked

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

VIGNETTES = "vignettes"  # the folder beside `checklist.yaml` that holds cases, no knowledge
MOST_FILES = 500  # of one checklist; more is a folder given by mistake


@dataclass(slots=True)
class FolderRead:
    """What came of a folder.

    `files`: those that could be read; `checklist.yaml` is the first of them, or missing.
    `problems`: what could not be read and why. `digests`: path to sha256 of all that was read.
    """

    files: list[Marked] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)
    digests: dict[str, bytes] = field(default_factory=dict)


def read_folder(folder: Path) -> FolderRead:
    """Read the files of a checklist."""
    if not (folder / HEAD).is_file():
        return FolderRead(problems=[_no_head(folder)])
    paths = _paths(folder)
    if len(paths) > MOST_FILES:
        message = f"there are more than {MOST_FILES} YAML files below {folder}"
        mend = "give the checklist's folder"
        return FolderRead(problems=[Problem(str(folder), 1, 1, "", "file", message, mend)])
    read = FolderRead()
    for path in paths:
        marked, found = _read(path, read.digests)
        read.problems.extend(found)
        if marked is not None:
            read.files.append(marked)
    return read


def digests_of(folder: Path) -> dict[str, bytes]:
    """Return path to sha256 of every file that `read_folder` would read.

    Raises
    ------
    OSError
        A file cannot be read.
    """
    return {str(path): _digest(path.read_bytes()) for path in _paths(folder)}


def stamp_of(roots: Iterable[Path]) -> str:
    """Return a text that is another one if any YAML file below some folders has changed.

    It goes by names, sizes and times of change, so that it costs no reading.
    """
    seen = hashlib.sha256()
    for root in roots:
        for path in sorted(_below(root)):
            try:
                status = path.stat()
            except OSError:  # gone since, or a link to nowhere
                continue
            seen.update(f"{path} {status.st_size} {status.st_mtime_ns}\n".encode())
    return seen.hexdigest()


def _paths(folder: Path) -> list[Path]:
    head = folder / HEAD
    return [head, *sorted(path for path in _below(folder) if path != head)]


def _below(folder: Path) -> Iterator[Path]:
    """Yield the YAML files below a folder, except in what is hidden and among its vignettes."""
    for place, folders, files in os.walk(folder):
        folders[:] = [name for name in folders if not name.startswith(".")]
        if Path(place) == folder and VIGNETTES in folders:
            folders.remove(VIGNETTES)
        for name in (*folders, *files):
            if name.endswith((".yaml", ".yml")) and not name.startswith("."):
                yield Path(place, name)


def _digest(content: bytes) -> bytes:
    return hashlib.sha256(content).digest()


def _read(path: Path, digests: dict[str, bytes]) -> tuple[Marked | None, tuple[Problem, ...]]:
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
    digests[name] = _digest(content)
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
