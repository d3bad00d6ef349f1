"""Whether the probabilities are exact: one line on the screen, three keys in JSON.

In: `Examined`. Out: text or data; the words are the report's.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tailblock.cli.output import Screen
    from tailblock.pipeline import Examined


def exactness_data(examined: Examined) -> dict[str, object]:
    """Return whether the probabilities are exact, and by how much they may be off if not."""
    beliefs = examined.beliefs
    return {
        "exact": not beliefs.approximate,
        "approximate": beliefs.approximate,
        "error": beliefs.error,
    }


def show_exactness(screen: Screen, examined: Examined) -> None:
    """Print that the probabilities are approximate, if they are."""
    from tailblock.report.wording import exactness

    if examined.beliefs.approximate:
        screen.say(exactness(examined.beliefs.error), "title")
