"""`learn`: how often what was thought probable turned out to be there.

In: a folder of inspections with confirmed faults. Out: a reliability table and scores, as text or
JSON in a shape that is a contract. No chance of any checklist is changed or proposed here.
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from tailblock.cli.options import Checklists, Json, NotAFolder, finder, shelves

if TYPE_CHECKING:
    from tailblock.cli.output import Screen
    from tailblock.measures.scoring import Forecast

FEW = 30  # confirmations in a row of the table below which its share says little


def learn(
    folder: Annotated[
        Path, typer.Argument(metavar="DIR", help="A folder with inspections.", show_default=False)
    ],
    checklists: Checklists = None,
    as_json: Json = False,
) -> None:
    """Compare what was thought probable with what was then confirmed."""
    from dataclasses import asdict

    from tailblock.cli.output import Screen, print_data
    from tailblock.cli.progress import going_through
    from tailblock.errors import TailblockError
    from tailblock.inspection.book import files_of
    from tailblock.measures.scoring import brier_parts, log_loss, reliability_table
    from tailblock.pipeline import foreseen, open_inspection

    if not folder.is_dir():
        raise NotAFolder(folder)
    find = finder(shelves(checklists, folder / "any"))
    forecasts: list[Forecast] = []
    cases, left_out = 0, list[str]()
    for name, _ in going_through("Inspections")(sorted(files_of(folder))):
        try:
            found = foreseen(*open_inspection(folder / name, find))
        except TailblockError as error:
            left_out.append(str(error).splitlines()[0])
            continue
        cases += bool(found)
        forecasts += [(probability, present) for _, probability, present in found]
    if not as_json:
        show_calibration(Screen(), forecasts, cases, left_out)
        return
    print_data(
        {
            "cases": cases,
            "confirmations": len(forecasts),
            "table": [asdict(row) for row in reliability_table(forecasts)],
            "brier": asdict(brier_parts(forecasts)) if forecasts else None,
            "log_loss": log_loss(forecasts) if forecasts else None,
            "left_out": left_out,
        }
    )


def show_calibration(
    screen: Screen, forecasts: list[Forecast], cases: int, left_out: list[str]
) -> None:
    """Print the table, the scores, and what was left out."""
    from tailblock.measures.scoring import brier_parts, log_loss, reliability_table
    from tailblock.report.wording import counted, percent

    for line in left_out:
        screen.say(f"left out: {line}", "danger")
    confirmed = counted(len(forecasts), "{number} confirmation", "{number} confirmations")
    read = counted(cases, "{number} inspection", "{number} inspections")
    screen.say(f"{confirmed} in {read}.", "title")
    if not forecasts:
        screen.say("`confirmed` in the visits of an inspection says what was seen in the end.")
        return
    screen.say(f"{'said':>11}  {'on average':>10}  {'was there':>9}  {'by chance':>9}  of", "quiet")
    for row in reliability_table(forecasts):
        band = f"{100 * row.low:.0f} to {100 * row.high:.0f} %"
        few = "  (few)" if row.count < FEW else ""
        screen.say(
            f"{band:>11}  {percent(row.said):>10}  {percent(row.seen):>9}  "
            f"{'±' + percent(row.error):>9}  {row.count}{few}"
        )
    parts = brier_parts(forecasts)
    screen.say(
        f"Brier score {parts.score:.3f} = reliability {parts.reliability:.3f} - resolution "
        f"{parts.resolution:.3f} + uncertainty {parts.uncertainty:.3f} + within the rows "
        f"{parts.within:.3f}; logarithmic score {log_loss(forecasts):.3f} nat."
    )
    screen.say(
        "Only what somebody confirmed counts, and people confirm what they suspect: this says how "
        "far the numbers can be trusted on such faults, not how common they are.",
        "quiet",
    )
