"""What a reader of a PDF finds: its catalogue, its structure, what stands for its pictures."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING, Any

from pypdf import PdfReader

if TYPE_CHECKING:
    from collections.abc import Iterator


def catalog(pdf: bytes) -> Any:
    """Return the catalogue, from which everything else hangs."""
    return PdfReader(io.BytesIO(pdf)).root_object


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
