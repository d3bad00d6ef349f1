"""Which pieces of work an option has, and which of them are done whatever is found."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tailblock.advice.choose_work import Chosen, PlannedWork
from tailblock.advice.hours.called import Piece
from tailblock.report.options import options

if TYPE_CHECKING:
    from tailblock.advice.choose_work import Kind


def work(
    remedy: str,
    *faults: str,
    kind: Kind = "to-string",
    if_found: bool = False,
    needs: tuple[str, ...] = (),
) -> PlannedWork:
    return PlannedWork(
        remedy, kind, faults, if_found, None, needs, instead=(), access={}, shared=(), ahead_of=()
    )


OFF = work("take-off")
REGLUE = work("reglue", "lifting", needs=("take-off",))
SURE, ASKED = Piece("take-off", (), always=True), Piece("take-off", ())


@pytest.mark.parametrize(
    ("works", "pieces"),
    [
        ((OFF, REGLUE), (SURE, Piece("reglue", ("lifting",)))),
        # what waits for a finding opens nothing before it
        (
            (OFF, work("reglue", "lifting", if_found=True, needs=("take-off",))),
            (ASKED, Piece("reglue", ("lifting",))),
        ),
        # needed by what is needed
        (
            (work("steam"), work("take-off", needs=("steam",)), REGLUE),
            (Piece("steam", (), always=True), SURE, Piece("reglue", ("lifting",))),
        ),
        # what is called by a fault of its own is done for that
        (
            (work("glue", "crack"), work("cleats", "crack", "old-crack", needs=("glue",))),
            (Piece("glue", ("crack",)), Piece("cleats", ("old-crack",))),
        ),
    ],
    ids=["firm", "if found", "chained", "own fault"],
)
def test_what_firm_work_needs_first_is_done_in_any_case(
    works: tuple[PlannedWork, ...], pieces: tuple[Piece, ...]
) -> None:
    (option,) = options(Chosen(works, {}, ()))
    assert option.pieces == pieces


def test_an_option_counts_its_own_firm_work_only() -> None:
    """Opened for something that is if found at first, and for firm work in the wider option."""
    found = work("mend", "torn", if_found=True, needs=("take-off",))
    firm = work("reglue", "lifting", kind="to-play", needs=("take-off",))
    narrow, wide = options(Chosen((OFF, found, firm), {}, ()))
    assert narrow.pieces[0] == ASKED
    assert wide.pieces[0] == SURE
