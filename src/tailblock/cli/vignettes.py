"""`test`: a checklist tried on its own vignettes.

In: a checklist and a folder of vignettes. Out: a table of what came right, JSON, and exit code 1 if
one of them fails.
"""

from __future__ import annotations

from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from tailblock.cli.boundary import FINE, FOUND_ERRORS
from tailblock.cli.options import Checklists, Json, shelves

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tailblock.cli.output import Screen
    from tailblock.practice.unsafe import Unsafe
    from tailblock.practice.vignettes import Tried

_COLUMNS = ("leads", "first 3", "next", "unsafe", "title")
_ROW = "{:<6} {:<8} {:<5} {:<7} {}"


def try_(
    checklist: Annotated[
        str, typer.Argument(metavar="[CHECKLIST]", help="The id of a checklist, or its folder.")
    ] = "flat-top",
    vignettes: Annotated[
        Path | None,
        typer.Option(
            metavar="DIR", help="The folder of the vignettes; else `vignettes` in the checklist."
        ),
    ] = None,
    checklists: Checklists = None,
    as_json: Json = False,
) -> None:
    """Try a checklist on its vignettes; exit code 1 if one fails."""
    from tailblock.cli.checklist import checklist_at
    from tailblock.cli.output import Screen, print_data
    from tailblock.knowledge.files import VIGNETTES
    from tailblock.knowledge.ready import open_checklist
    from tailblock.practice.format import read_vignettes
    from tailblock.practice.vignettes import try_vignette

    name, where = checklist_at(checklist, shelves(checklists))
    known = open_checklist(name, where)
    cases = read_vignettes(vignettes or where.find(name) / VIGNETTES, known)
    screen = None if as_json else Screen()
    if screen:
        screen.say(f"{known.title} ({known.id} {known.version})", "title")
        screen.say(_ROW.format(*_COLUMNS), "quiet")
    tried = []
    for case in cases:
        tried.append(try_vignette(known, case))
        if screen:
            _show(screen, tried[-1])
    if screen:
        _show_totals(screen, tried)
    else:
        data = {"checklist": known.id, "version": known.version}
        print_data({**data, "vignettes": [_data(t) for t in tried], "totals": totals(tried)})
    raise typer.Exit(FINE if all(each.passed for each in tried) else FOUND_ERRORS)


def vignettes_of(checklist: str, checklists: Path | None) -> Path | None:
    """Return the folder of a checklist's own vignettes, None if it has none."""
    from tailblock.cli.checklist import checklist_at
    from tailblock.knowledge.files import VIGNETTES

    name, where = checklist_at(checklist, shelves(checklists))
    folder = where.find(name) / VIGNETTES
    return folder if folder.is_dir() else None


def totals(tried: Sequence[Tried]) -> dict[str, int]:
    """Return how many vignettes there are, and of how many each thing is right."""
    asked = [each for each in tried if each.next_right is not None]
    return {
        "vignettes": len(tried),
        "passed": sum(each.passed for each in tried),
        "leads_right": sum(each.leads_right for each in tried),
        "first_three_right": sum(each.first_right for each in tried),
        "next_asked": len(asked),
        "next_right": sum(bool(each.next_right) for each in asked),
        "unsafe": sum(bool(each.unsafe) for each in tried),
    }


def _show(screen: Screen, tried: Tried) -> None:
    """Print one line of the table, and under it what is not as expected."""
    asked = tried.next_right is not None
    row = _ROW.format(
        _yes(tried.leads_right),
        _yes(tried.first_right),
        _yes(bool(tried.next_right)) if asked else "-",
        len(tried.unsafe) or "none",
        tried.vignette.title,
    )
    screen.say(row, "plain" if tried.passed else "danger")
    expect = tried.vignette.expect
    if not (tried.leads_right and tried.first_right):
        wanted = ", ".join(dict.fromkeys((*expect.leads, *expect.among_first_three)))
        stood = ", ".join((*tried.nothing_wrong, *tried.first))
        screen.say(f"expected {wanted or 'nothing'}; first: {stood or 'nothing'}", indent=4)
    if tried.next_right is False:
        among = ", ".join(expect.next_among)
        screen.say(f"next is {tried.next_check or 'nothing'}, expected one of {among}", indent=4)
    for unsafe in _once(tried.unsafe):
        screen.say(_unsafe_line(unsafe), indent=4)


def _yes(right: bool) -> str:
    return "yes" if right else "NO"


def _once(found: Sequence[Unsafe]) -> list[Unsafe]:
    """Return each piece of unsafe advice once, where it was first given."""
    first: dict[tuple[str, str], Unsafe] = {}
    for each in found:
        first.setdefault((each.move, each.what), each)
    return list(first.values())


def _unsafe_line(unsafe: Unsafe) -> str:
    because = f", with {', '.join(unsafe.because)}" if unsafe.because else ""
    readings = "reading" if unsafe.after == 1 else "readings"
    return f"unsafe after {unsafe.after} {readings}: {unsafe.move} ({unsafe.what}){because}"


def _show_totals(screen: Screen, tried: Sequence[Tried]) -> None:
    of = totals(tried)
    said = (
        f"leads right {of['leads_right']}",
        f"in first three {of['first_three_right']}",
        f"next among {of['next_right']} of {of['next_asked']}",
        f"unsafe in {of['unsafe'] or 'none'}",
    )
    screen.say(f"{of['passed']} of {of['vignettes']} passed: {', '.join(said)}", "title")


def _data(tried: Tried) -> dict[str, Any]:
    return {
        "file": str(tried.vignette.path),
        "title": tried.vignette.title,
        "written": tried.vignette.written,
        "first": list(tried.first),
        "nothing_wrong": list(tried.nothing_wrong),
        "next": tried.next_check,
        "leads_right": tried.leads_right,
        "first_three_right": tried.first_right,
        "next_right": tried.next_right,
        "unsafe": [asdict(each) for each in tried.unsafe],
        "passed": tried.passed,
    }
