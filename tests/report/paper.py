"""What a reader of a PDF finds: its text, its structure, what stands for its pictures."""

from __future__ import annotations

import io
import shutil
import subprocess
from typing import TYPE_CHECKING, Any

import pytest
from pypdf import PdfReader

if TYPE_CHECKING:
    from collections.abc import Iterator


def opened(pdf: bytes) -> PdfReader:
    """Return a PDF as its reader has it."""
    return PdfReader(io.BytesIO(pdf))


def text_of(pdf: bytes) -> str:
    """Return what poppler reads, in the order in which the pages were written."""
    if shutil.which("pdftotext") is None:
        pytest.skip("poppler is not installed")
    done = subprocess.run(
        ["pdftotext", "-raw", "-", "-"], input=pdf, capture_output=True, check=True
    )
    return done.stdout.decode()


def catalog(pdf: bytes) -> Any:
    """Return the catalogue, from which everything else hangs."""
    return opened(pdf).root_object


def elements(pdf: bytes) -> list[Any]:
    """Return the structure elements of a tagged PDF, in reading order."""
    return [*_elements(catalog(pdf)["/StructTreeRoot"])]


def tags(pdf: bytes) -> list[str]:
    """Return what its structure elements are, in reading order."""
    return [str(one["/S"]) for one in elements(pdf)]


def alternatives(pdf: bytes) -> list[str]:
    """Return the words that stand for its pictures, in reading order."""
    return [str(one["/Alt"]) for one in elements(pdf) if one["/S"] == "/Figure"]


def _elements(node: Any) -> Iterator[Any]:
    found = node.get_object() if hasattr(node, "get_object") else node
    if isinstance(found, list):
        for one in found:
            yield from _elements(one)
    elif isinstance(found, dict):
        if "/S" in found:
            yield found
        if "/K" in found:
            yield from _elements(found["/K"])
