"""What `learn` says to a person: the reliability table with its scores, and proposed chances.

In: forecasts with what came of them; a lesson. Out: lines on the screen.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tailblock.cli.output import Screen
    from tailblock.learning.lessons import Lesson
    from tailblock.measures.scoring import Forecast

FEW = 30  # confirmations in a row of the table below which its share says little


def show_calibration(screen: Screen, forecasts: Sequence[Forecast], cases: int) -> None:
    """Print the table and the scores."""
    from tailblock.measures.scoring import brier_parts, log_loss, reliability_table
    from tailblock.report.wording import counted, percent

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


def show_lesson(screen: Screen, lesson: Lesson) -> None:
    """Print the chances that the cases of a checklist would change."""
    from tailblock.knowledge.numbers import spoken
    from tailblock.knowledge.words import word_for
    from tailblock.learning.fit import STRENGTH
    from tailblock.learning.proposals import LEAST_TRIALS
    from tailblock.report.wording import counted

    cases = counted(lesson.cases, "{number} confirmed case", "{number} confirmed cases")
    screen.say(f"{lesson.checklist.id}: what {cases} would change", "title")
    proposed = [chance for chance in lesson.chances if chance.proposed]
    for chance in proposed:
        screen.say(chance.says)
        screen.say(
            f"{spoken(chance.before)} -> {chance.after:g} ({word_for(chance.after)}), "
            f"90 % interval {chance.low:.2g} to {chance.high:.2g}; "
            f"{chance.trials:.0f} trials, met {chance.met:.0f} times",
            indent=2,
        )
    stay = len(lesson.chances) - len(proposed)
    changes = counted(len(proposed), "{number} change", "{number} changes")
    screen.say(
        f"{changes} proposed; {stay} more chances have "
        f"{LEAST_TRIALS:.0f} trials or more and stay. A word counts as {STRENGTH:.0f} trials. "
        "Nothing is changed: --propose FOLDER writes a checklist to review.",
        "quiet",
    )
