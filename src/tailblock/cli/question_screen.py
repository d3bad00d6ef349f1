"""How one question of a walk looks: cautions first, then why, the setup, how, and the answers.

In: a question and the session it is asked in. Out: lines on the screen.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tailblock.cli.dialogue import WORDS
from tailblock.cli.phrases import PHASES, change_text, normal_text
from tailblock.knowledge.entries import UNKNOWN
from tailblock.measures.definitions import EXAMPLES
from tailblock.report.wording import listed, minutes, percent

if TYPE_CHECKING:
    from tailblock.cli.events import Question
    from tailblock.cli.output import Screen
    from tailblock.cli.session import Session
    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Check, Measure


def show_question(screen: Screen, session: Session, asked: Question, warned: set[str]) -> None:
    """Print a check. A caution is printed in full the first time, then by its title."""
    check, advised = asked.check, asked.advised
    part = session.checklist.parts[check.part].name
    screen.say()
    screen.say(f"{part}: {check.title}  [{check.id}, {minutes(check.minutes)}]", "title")
    _show_cautions(screen, session, check, warned)
    if advised:
        condition = f", {advised.if_trait}" if advised.if_trait else ""
        screen.say(f"{_phase(session, condition)} {advised.reason}", "quiet", indent=2)
    change = change_text(session.present, asked.setup, advised.setup_minutes if advised else 0.0)
    if change:
        screen.say(f"First bring {change}.", indent=2)
    if check.how:
        screen.say(check.how.strip(), indent=2)
    if check.tools:
        screen.say(f"Tools: {', '.join(check.tools)}.", indent=2)
    if check.wait:
        screen.say(f"Wait: {check.wait}.", indent=2)
    whom = "Ask the player: " if check.asked == "player" else ""
    screen.say(f"{whom}{check.ask}", "title", indent=2)
    _show_answers(screen, session, check)


def _phase(session: Session, condition: str) -> str:
    """Write where a visit stands: its stage, the minutes used, of a second inspection the part."""
    stage = session.checklist.stages[session.visit.stage]
    advice = session.examined.advice
    where = f" {PHASES[advice.phase]}" if advice.phase else ""
    used = f"{advice.minutes_used:g} of {stage.budget} used"
    return f"{stage.name or stage.id}, {used}{condition}.{where}"


def _show_cautions(screen: Screen, session: Session, check: Check, warned: set[str]) -> None:
    for name in check.cautions:
        caution = session.checklist.cautions[name]
        if name in warned:
            screen.say(f"Caution: {caution.title} (as above).", "danger", indent=2)
            continue
        warned.add(name)
        screen.say(f"Caution: {caution.title}. {caution.text}", "danger", indent=2)
        for control in caution.controls:
            screen.say(f"- {control}", indent=4)


def _show_answers(screen: Screen, session: Session, check: Check) -> None:
    """Print the levels by number, or the unit and what is normal."""
    width = max((len(choice.level) for choice in check.choices), default=0)
    for number, choice in enumerate(check.choices, start=1):
        screen.say(f"{number}  {choice.level:<{width}}  {choice.text}", indent=4)
    if check.measure is not None:
        screen.say(_how_to_write(check.measure), indent=4)
        traits = session.inspection.instrument.traits
        normal = normal_text(check, traits, session.checklist)
        screen.say(f"Normal: {normal}.", indent=4)
    screen.say(f"Or `{UNKNOWN}`.", "quiet", indent=4)


def _how_to_write(measure: Measure) -> str:
    example = EXAMPLES[measure.quantity][1]
    if measure.quantity == "count":
        return f"Write a number, such as {example}."
    return f"Write it like {example}; a bare number is taken in {measure.unit}."


def show_reason(screen: Screen, session: Session, asked: Question) -> None:
    """Print why a check is asked now, what it shows, and what it is mistaken for."""
    check, advised = asked.check, asked.advised
    if advised:
        screen.say(f"{advised.reason} It tells {advised.gain_bits:.3f} bits.", indent=2)
    chance = {cause.id: cause.probability for cause in session.examined.causes}
    shown = [
        f"{session.checklist.fault_or_symptom(target).name}"
        + (f" ({percent(chance[target])})" if target in chance else "")
        for target in dict.fromkeys(link.target for link in check.shows)
    ]
    if shown:
        screen.say(f"It shows {listed(shown)}.", indent=2)
    if check.trap:
        screen.say(f"Trap: {check.trap}", indent=2)
    if check.look_alike:
        screen.say(f"Mistaken for it: {check.look_alike}", indent=2)


def show_help(screen: Screen, checklist: Checklist) -> None:
    """Print the words that a person may say in the place of an answer."""
    told = {
        f"{name} STATE": f"tell what it is now: {', '.join(states)}"
        for name, states in checklist.setups.states.items()
    }
    words = {**WORDS, **told}
    width = max(map(len, words))
    for word, what in words.items():
        screen.say(f"{word:<{width}}  {what}", indent=2)
    screen.say("A level may be given by its number or by the beginning of its word.", indent=2)
