"""A checklist to begin with: small, sound, and with a case that it passes.

In: an id, a title, and the folder that it goes into. Out: a folder of YAML files, each with the
line by which an editor finds the JSON Schema beside it. Either all of it is written or nothing.
"""

from __future__ import annotations

import json
import re
import shutil
import tempfile
from importlib.resources import files
from pathlib import Path
from typing import TYPE_CHECKING

from tailblock.errors import TailblockError
from tailblock.inspection import spell
from tailblock.knowledge.entries import ID_PATTERN
from tailblock.knowledge.schema import json_schema

if TYPE_CHECKING:
    from collections.abc import Iterator
    from importlib.resources.abc import Traversable

SCHEMA = "schema.json"
LONGEST_ID = 64


class NotAnId(TailblockError):
    """An id that no checklist can have."""

    def __init__(self, given: str) -> None:
        self.given = given
        super().__init__(
            f"{given!r} is no id (small letters, digits and hyphens, at most {LONGEST_ID}, "
            "as ukulele)"
        )


class IsThere(TailblockError):
    """Something stands where the new checklist should go."""

    def __init__(self, path: Path) -> None:
        self.path = path
        super().__init__(f"{path}: there is something of that name already (choose another id)")


def new_checklist(name: str, title: str, into: Path) -> Path:
    """Write a checklist to begin with, and return its folder.

    Parameters
    ----------
    name
        Its id, and the name of its folder.
    title
        What it is about; the id in words if empty.
    into
        The folder that holds checklists; it is made if there is none.

    Raises
    ------
    NotAnId, IsThere
        Nothing was written.
    OSError
        The system refuses; nothing of the checklist is left.
    """
    if not re.fullmatch(ID_PATTERN, name) or len(name) > LONGEST_ID:
        raise NotAnId(name)
    folder = into / name
    if folder.exists() or folder.is_symlink():
        raise IsThere(folder)
    words = title.strip() or name.replace("-", " ").capitalize()
    into.mkdir(parents=True, exist_ok=True)
    made = Path(tempfile.mkdtemp(prefix=f".{name}-", dir=into))
    try:
        for path, text in _texts(files("tailblock.practice") / "skeleton"):
            target = made / path
            target.parent.mkdir(exist_ok=True)
            filled = text.replace("@ID@", spell.flow(name)).replace("@TITLE@", spell.flow(words))
            target.write_text(filled, encoding="utf-8")
        schema = json.dumps(json_schema(), ensure_ascii=False, indent=2)
        (made / SCHEMA).write_text(schema + "\n", encoding="utf-8")
        made.chmod(0o755)  # a temporary folder is for its owner alone
        made.rename(folder)
    except BaseException:
        shutil.rmtree(made, ignore_errors=True)
        raise
    return folder


def _texts(folder: Traversable, above: str = "") -> Iterator[tuple[str, str]]:
    """Yield path and text of every file of the skeleton."""
    for entry in sorted(folder.iterdir(), key=lambda found: found.name):
        path = f"{above}{entry.name}"
        if entry.is_dir():
            yield from _texts(entry, f"{path}/")
        elif path.endswith(".yaml"):
            yield path, entry.read_text(encoding="utf-8")
