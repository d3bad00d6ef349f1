"""A card as PDF for one printed sheet: the tree as an outline, the traps under it.

In: a `Card`. Out: the bytes of a PDF, the same for the same card on machines with the same fonts.
Letters are as large as the sheet allows, and none smaller than 5.5 pt: a card too long for that
goes on over the page.
"""

from __future__ import annotations

import json
from datetime import UTC, datetime
from importlib.resources import files
from typing import TYPE_CHECKING

from tailblock.practice.card_outline import A4, outline
from tailblock.report.to_pdf import typeset
from tailblock.report.to_typst import Typeset, plain_data

if TYPE_CHECKING:
    from tailblock.practice.card import Card

# A card belongs to no day; the typesetter wants one.
_NO_DAY = datetime(2000, 1, 1, tzinfo=UTC)


def to_pdf(card: Card, paper: tuple[float, float] = A4) -> bytes:
    """Return a card as PDF.

    Parameters
    ----------
    paper
        Width and height of the sheet [mm].
    """
    data = plain_data({"outline": outline(card), "paper": paper})
    program = files("tailblock.practice").joinpath("templates/card.typ").read_text("utf-8")
    return typeset(Typeset(program, json.dumps(data, ensure_ascii=False)), _NO_DAY)
