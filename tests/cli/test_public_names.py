"""What `import tailblock` offers, and that it costs nothing until it is used."""

from __future__ import annotations

import subprocess
import sys
from importlib.metadata import version

import pytest

import tailblock

NAMES = [
    "Advice", "CauseBelief", "Checklist", "Examined", "Inspection", "InspectionFile", "Problem",
    "ProblemsFound", "Report", "Shelves", "TailblockError", "__version__", "begin_inspection",
    "build", "evaluate", "examine", "load", "open_checklist", "open_inspection", "parse", "show",
    "to_html", "to_json", "to_markdown",
]  # fmt: skip


def test_the_public_names_are_these() -> None:
    assert tailblock.__all__ == NAMES
    assert dir(tailblock) == sorted(NAMES)


@pytest.mark.parametrize("name", [name for name in NAMES if name != "__version__"])
def test_every_public_name_is_there(name: str) -> None:
    assert getattr(tailblock, name).__name__ == name


def test_the_version_is_that_of_the_installed_package() -> None:
    assert tailblock.__version__ == version("tailblock")


def test_another_name_is_missed_by_the_usual_error() -> None:
    with pytest.raises(AttributeError, match="module 'tailblock' has no attribute 'nothing'"):
        _ = tailblock.nothing


def test_the_import_loads_no_other_module_of_ours() -> None:
    program = "import sys, tailblock; print([m for m in sys.modules if 'tailblock.' in m])"
    done = subprocess.run(
        [sys.executable, "-c", program], capture_output=True, text=True, check=True
    )
    assert done.stdout == "[]\n"
