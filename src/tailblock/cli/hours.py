"""`hours`: the bench hours of an option as a distribution.

In: an inspection file and the option. Out: text, or JSON in a shape that is a contract.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tailblock.cli.options import Checklists, File, Json, ShopFile, WhichOption

if TYPE_CHECKING:
    from tailblock.cli.output import Screen
    from tailblock.report.model import HoursOfWork, Money


def hours(
    file: File,
    option: WhichOption = "",
    shop: ShopFile = None,
    checklists: Checklists = None,
    as_json: Json = False,
) -> None:
    """Say how many hours the work takes, and how sure that is."""
    from dataclasses import asdict

    from tailblock.cli.output import Screen, print_data
    from tailblock.cli.session import Session
    from tailblock.inspection.shop import shop_of
    from tailblock.report.hours import hours_of_work
    from tailblock.report.options import option_of

    charges = shop_of(file, shop)
    examined = Session.open(file, checklists).examined
    picked = option_of(examined.chosen, option, at_pitch=examined.may_string.answer == "yes")
    hours = examined.hours_of(picked.pieces) if picked else None
    checklist = examined.checklist
    found = hours_of_work(hours, picked, checklist, charges) if picked and hours else None
    if as_json:
        print_data({"hours": asdict(found) if found else None})
    elif found is None:
        what = "no work is offered" if picked is None else "exact probabilities are out of reach"
        Screen().say(f"There are no hours to say: {what}.")
    else:
        show_hours(Screen(), found)


def show_hours(screen: Screen, found: HoursOfWork) -> None:
    """Print the hours of an option."""
    from tailblock.report.wording import hours as hours_text
    from tailblock.report.wording import percent

    screen.say(f"{found.title} ({found.id})", "title")
    for sentence in found.said:
        screen.say(sentence)
    screen.say()
    screen.say(f"{'comes up':>9}  {'low / likely / high':<20}  work", "quiet")
    for line in found.lines:
        three = " / ".join(
            hours_text(number) for number in (line.hours.low, line.hours.likely, line.hours.high)
        )
        why = f" ({line.why})" if line.why else ""
        screen.say(f"{percent(line.chance):>9}  {three:<20}  {line.name}{why}")
    for title, lines in (
        ("What makes the spread:", found.because),
        ("What would narrow it before a price is promised:", found.narrows),
    ):
        if lines:
            screen.say()
            screen.say(title, "title")
        for text in lines:
            screen.say(text, indent=2)
    show_money(screen, found.money)
    screen.say()
    screen.say(found.picture, "quiet")
    screen.say(found.method, "quiet")


def show_money(screen: Screen, found: Money | None) -> None:
    """Print what the hours come to, if a shop says what they cost."""
    if found is None:
        return
    screen.say()
    screen.say("What that comes to:", "title")
    for line in found.lines:
        tax = f", {found.tax} {line.tax}" if found.tax else ""
        least = " (least charge)" if line.minimum else ""
        screen.say(
            f"{line.label}: {line.total} ({line.hours} h: {line.labour}{least}, "
            f"materials {line.materials}{tax}, rounding {line.rounding})",
            indent=2,
        )
    for note in found.notes:
        screen.say(note, "quiet", indent=2)
