"""`begin`: ask what is known at the start, and write a new inspection file.

In: options, and for what they leave open the answers of a person. Out: a file with its first visit.
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from tailblock.cli.boundary import Interrupted
from tailblock.cli.options import Checklists, Setups
from tailblock.errors import TailblockError

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tailblock.knowledge.checklist import Checklist
    from tailblock.measures.units import UnitError


class NotALength(TailblockError):
    """An option wants a length, and something else was given."""

    def __init__(self, option: str, error: UnitError) -> None:
        self.option = option
        super().__init__(f"{option}: {error}")


def begin(
    file: Annotated[
        Path, typer.Argument(metavar="FILE", help="The file to make.", show_default=False)
    ],
    *,
    checklist: Annotated[
        str, typer.Option(metavar="ID", help="The knowledge about this kind of instrument.")
    ] = "flat-top",
    job: Annotated[str, typer.Option(help="The number of the job.")] = "",
    description: Annotated[str, typer.Option(help="The instrument in a few words.")] = "",
    trait: Annotated[
        list[str] | None,
        typer.Option(metavar="NAME=VALUE", help="A trait, as bracing=ladder; may be repeated."),
    ] = None,
    scale_length: Annotated[str, typer.Option(help="From nut to saddle, as 648 mm.")] = "",
    frets_clear: Annotated[
        int | None, typer.Option(help="Frets clear of the body, as 14.", min=9, max=20)
    ] = None,
    by: Annotated[str, typer.Option(help="Who inspects.")] = "",
    player: Annotated[str, typer.Option(help="Whose instrument it is; may stay empty.")] = "",
    contact: Annotated[str, typer.Option(help="How to reach the player.")] = "",
    stage: Annotated[str, typer.Option(help="The kind of the first visit.")] = "arrival",
    date: Annotated[str, typer.Option(help="The day, as 2031-03-02; else today.")] = "",
    setup: Setups = None,
    no_questions: Annotated[
        bool, typer.Option("--no-questions", help="Take what is offered for all that is not given.")
    ] = False,
    checklists: Checklists = None,
) -> None:
    """Make a new inspection file; asks for what is not given."""
    from tailblock.cli.options import NotAFolder, day_of, finder, one_of, pairs, setup_with, shelves
    from tailblock.cli.output import Screen
    from tailblock.cli.questions import Questions
    from tailblock.inspection import write
    from tailblock.inspection.interpret import first_setup
    from tailblock.inspection.model import (
        InspectionFields,
        InstrumentFields,
        PlayerFields,
        VisitFields,
    )

    if file.exists():
        raise write.FileExists(file)
    if not file.absolute().parent.is_dir():
        raise NotAFolder(file.parent)
    find = finder(shelves(checklists, file))
    knowledge = find(checklist)
    one_of("--stage", stage, knowledge.stages)
    given = traits_given(trait, knowledge)
    state = setup_with(first_setup(knowledge), pairs("--setup", setup, "strings=slack"), knowledge)
    day = day_of(date)
    if scale_length:
        _require_length("--scale-length", scale_length)
    screen = Screen()
    ask = Questions(screen, silent=no_questions)
    try:
        job = job or ask.text("Job", "--job", file.stem)
        description = description or ask.text(
            "The instrument in a few words", "--description", None
        )
        traits = ask.traits(knowledge.traits, given)
        scale_length = scale_length or ask.length(
            "From nut to saddle, with its unit (may be empty)"
        )
        by = by or ask.text("Who inspects (may be empty)", "--by", "")
        player = player or ask.text("The player (may be empty)", "--player", "")
    except KeyboardInterrupt:
        raise Interrupted("broken off; nothing was written") from None
    fields = InspectionFields(
        job=job,
        checklist=checklist,
        instrument=InstrumentFields(
            description=description,
            traits=traits,
            scale_length=scale_length or None,
            frets_clear=frets_clear,
        ),
        player=PlayerFields(name=player or None, contact=contact or None)
        if player or contact
        else None,
        visits=(VisitFields(stage=stage, date=day, by=by or None, setup=state),),
    )
    write.begin(file, find, fields)
    screen.say(f"{file}: written. `tailblock walk {file}` begins the inspection.")


def _require_length(option: str, said: str) -> None:
    """Refuse what is no length, by the name of the option that it was given with."""
    from tailblock.measures import parse
    from tailblock.measures.units import UnitError

    try:
        parse(said, "length")
    except UnitError as error:
        raise NotALength(option, error) from error


def traits_given(trait: Sequence[str] | None, knowledge: Checklist) -> dict[str, str]:
    """Return the traits that were given as NAME=VALUE, each with a value that it can have.

    Raises
    ------
    NotAPair, GivenTwice, NoSuchName, NotOneOf
    """
    from tailblock.cli.options import one_of, pairs
    from tailblock.cli.questions import value_of

    return {
        one_of("--trait", name, knowledge.traits): value_of(knowledge.traits[name], value)
        for name, value in pairs("--trait", trait, "bracing=ladder").items()
    }
