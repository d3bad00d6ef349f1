"""The words for numbers: chances, weights of evidence, levels, bands, spreads, hours.

In: numbers and names. Out: plain text. Every phrase that stands for a number is chosen here and
nowhere else, so that the same number always reads the same. The phrases and their limits are our
own; the number always stands beside them on the bench pages.
"""

from __future__ import annotations

from itertools import pairwise
from math import ceil
from typing import TYPE_CHECKING

from tailblock.advice import sentences
from tailblock.measures import Quantity, show
from tailblock.messages import N_, _, ngettext
from tailblock.report.conventions import day as day_by_locale
from tailblock.report.conventions import number as by_locale
from tailblock.report.conventions import value as value_by_locale

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from tailblock.knowledge.entries import Check
    from tailblock.report.model import Cause, Heading, Portrait, PortraitMark

# Up to (not including) this probability: the phrase, and the same as the start of a sentence.
CHANCES: tuple[tuple[float, str, str], ...] = (
    (0.02, N_("all but ruled out"), N_("All but ruled out")),
    (0.10, N_("unlikely"), N_("Unlikely")),
    (0.30, N_("possible"), N_("Possibly")),
    (0.50, N_("quite possible"), N_("Quite possibly")),
    (0.80, N_("likely"), N_("Likely")),
    (0.95, N_("very likely"), N_("Very likely")),
    (float("inf"), N_("almost certain"), N_("Almost certainly")),
)

FEW_HOURS = 0.9  # under which minutes are said
DECIBANS = N_(
    "Decibans say how far a reading moved the odds of a fault: 10 decibans make the odds ten times "
    "as high, -10 a tenth. Each is what that reading adds to all the others, so they do not add up "
    "to the whole."
)
# Up to this many decibans either way.
WEIGHTS: tuple[tuple[float, str], ...] = (
    (2.0, N_("a hint")),
    (5.0, N_("some weight")),
    (10.0, N_("good weight")),
    (20.0, N_("strong weight")),
    (float("inf"), N_("overwhelming weight")),
)
CLIMATE_METHOD = N_(
    "What the climate makes is the change of the wood's moisture in equilibrium with the air (Wood "
    "Handbook) times a rule for each reading that is from memory; it holds if the air has stood so "
    "for two weeks. A change is explained if what is left lies within twice its uncertainty. No "
    "probability in this report rests on it."
)
NO_HOURS = N_(
    "How many hours the work takes, and how sure that is, is not said here: it needs exact "
    "probabilities, which are out of reach."
)
WHERE = N_("Where it is")
NECK_LINE = N_("The line of the neck, to scale")
UNMOVED = N_("No reading has moved these from where such an instrument begins")
SPOKEN_AGAINST = N_("The readings speak against these, from the start to now")
LOOK_FIRST = N_("Likely on any instrument of its kind, so looked at before work is planned")


def sure(probability: float) -> str:
    """Return the phrase for a probability.

    >>> sure(0.85), sure(0.005)
    ('very likely', 'all but ruled out')
    """
    return _(next(phrase for limit, phrase, _adverb in CHANCES if probability < limit))


def surely(probability: float) -> str:
    """Return the phrase for a probability as the start of a sentence.

    >>> surely(0.6)
    'Likely'
    """
    return _(next(adverb for limit, _phrase, adverb in CHANCES if probability < limit))


def percent(probability: float) -> str:
    """Write a probability in per cent, so that no line ends within it.

    >>> percent(0.123) == together("12 %")
    True
    """
    return by_locale(together(sentences.percent(probability)))


def between(low: float, high: float) -> str:
    """Say how far a probability swings with the words of the checklist.

    >>> between(0.961, 0.982).replace("\N{NO-BREAK SPACE}", " ")
    '96 % to 98 % over the range of the words'
    >>> between(0.982, 0.984).replace("\N{NO-BREAK SPACE}", " ")
    '98 % over the whole range of the words'
    """
    if percent(low) == percent(high):
        return _("{low} over the whole range of the words").format(low=percent(low))
    return _("{low} to {high} over the range of the words").format(
        low=percent(low), high=percent(high)
    )


def together(text: str) -> str:
    r"""Return a value so that no line ends within it, except before a bracket.

    >>> together("2.50 mm (6.5/64 in)").split(" ")
    ['2.50\xa0mm', '(6.5/64\xa0in)']
    """
    return text.replace(" ", "\N{NO-BREAK SPACE}").replace("\N{NO-BREAK SPACE}(", " (")


def shown(value: float, dimension: str) -> str:
    """Write a value in the base unit of its dimension, in both systems of units."""
    return value_by_locale(together(show(Quantity(value, dimension))))


def weight(decibans: float) -> str:
    """Say what a weight of evidence means, with the factor on the odds.

    >>> weight(10.0), weight(-3.0)
    ('strong weight, odds × 10', 'some weight, odds ÷ 2.0')
    """
    words = _(next(words for limit, words in WEIGHTS if abs(decibans) < limit))
    factor = 10 ** (abs(decibans) / 10)
    shown = f"{factor:.1f}" if factor < 9.95 else f"{factor:.0f}" if factor < 100 else _("over 100")
    return _("{words}, odds {more} {shown}").format(
        words=words, more="×" if decibans >= 0 else "÷", shown=by_locale(shown)
    )


def scale_of_chances() -> str:
    """Return the table of phrases as one sentence for the reader."""
    parts = [_("{chances} (under 2 in 100)").format(chances=_(CHANCES[0][1]))]
    for before, (_limit, phrase, _adverb) in pairwise(CHANCES):
        parts.append(
            _("{phrase} (from {start:.0f})").format(phrase=_(phrase), start=100 * before[0])
        )
    return _("How sure: {parts}.").format(parts=", ".join(parts))


def briefly(sentence: str) -> str:
    """Return a sentence as a clause, up to its first semicolon.

    >>> briefly("The neck has tipped; the action is high.")
    'the neck has tipped'
    """
    return clause(sentence).partition(";")[0]


def listed(names: Sequence[str], last: str = N_("and")) -> str:
    """Return names as a sentence lists them.

    >>> listed(["nut", "saddle", "frets"])
    'nut, saddle and frets'
    """
    *first, end = names
    return f"{', '.join(first)} {_(last)} {end}" if first else end


def listed_some(names: Sequence[str], most: int) -> str:
    """Return the first names as a sentence lists them, and how many more there are.

    >>> listed_some(["nut", "saddle", "frets"], 2), listed_some(["nut"], 2)
    ('nut, saddle and 1 more', 'nut')
    """
    return listed(some(names, most))


def some(names: Sequence[str], most: int) -> tuple[str, ...]:
    """Return the first names, and how many more there are as the last of them.

    >>> some(["nut", "saddle", "frets"], 1)
    ('nut', '2 more')
    """
    rest = len(names) - most
    return (*names[:most], _("{rest} more").format(rest=rest)) if rest > 0 else tuple(names)


def shortened(text: str, most: int = 90) -> str:
    """Return a text that fits where only a line or two can stand; the whole stands elsewhere.

    >>> shortened("A guitar"), len(shortened("long " * 50))
    ('A guitar', 90)
    """
    text = " ".join(text.split())
    return text if len(text) <= most else f"{text[: most - 1]}…"


def cut(length: int) -> str:
    """Return what stands where a text of so many characters ends before its end.

    >>> cut(10_000_000)
    '… (Cut here. The whole of it, 10,000,000 characters, stands in the report as HTML.)'
    """
    return _(
        "… (Cut here. The whole of it, {length:,} characters, stands in the report as HTML.)"
    ).format(length=length)


def first_sentence(text: str) -> str:
    """Return a text up to its first full stop, where only a line can stand.

    >>> first_sentence("It buzzes. It is cheap to see."), first_sentence("It holds .5 mm.")
    ('It buzzes.', 'It holds .5 mm.')
    """
    first, stop, _ = text.partition(". ")
    return first + stop.strip()


def clause(sentence: str) -> str:
    """Return a sentence so that it can stand inside another: no full stop, no capital to begin.

    >>> clause("The bridge is coming off.")
    'the bridge is coming off'
    >>> clause("X leg off the top")
    'X leg off the top'
    """
    text = sentence.strip().removesuffix(".")
    starts_a_word = text[:1].isupper() and (text[1:2].islower() or text.startswith("A "))
    return text[0].lower() + text[1:] if starts_a_word else text


def marked(mark: PortraitMark) -> str:
    """Say what a number in the drawing of the instrument means."""
    unplaced = (
        _(" No place is marked: {unplaced}.").format(unplaced=mark.unplaced)
        if mark.unplaced
        else ""
    )
    return f"{mark.plain} {capital(mark.sure)}. {capital(mark.where)}.{unplaced}"


def with_number(drawn: Portrait | None, fault: str, text: str) -> str:
    """Return what is said of a fault behind its number in the drawing, if it has one there."""
    numbers = {mark.id: mark.number for mark in drawn.marks} if drawn else {}
    return f"{numbers[fault]}. {text}" if fault in numbers else text


def capital(text: str) -> str:
    """Return a text with a capital to begin."""
    return text[:1].upper() + text[1:]


def counted(number: int, one: str, many: str) -> str:
    """Return a number of things, by the messages for one and for many.

    >>> counted(1, "{number} check", "{number} checks")
    '1 check'
    """
    return ngettext(one, many, number).format(number=number)


def not_listed(cause: Cause) -> str:
    """Say on which side no reading weighs, and how many light readings are not listed."""
    sides = ((_("for it"), cause.in_favour), (_("against it"), cause.against))
    empty = [side for side, weights in sides if not weights]
    told = (
        [_("No reading of weight {empty}.").format(empty=listed(empty, N_("or")))] if empty else []
    )
    if cause.lighter:
        told.append(
            _("{lighter} not listed.").format(
                lighter=counted(
                    cause.lighter, "{number} lighter reading", "{number} lighter readings"
                )
            )
        )
    return " ".join(told)


def day(iso: str) -> str:
    """Return a day of the report as its locale writes it."""
    return day_by_locale(iso)


def signed(number: float) -> str:
    """Write a number with its sign and one decimal.

    >>> signed(3.14), signed(-2.0)
    ('+3.1', '-2.0')
    """
    return by_locale(f"{number:+.1f}")


def notes(numbers: Sequence[int]) -> str:
    """Name safety notes by their numbers.

    >>> notes([2]), notes([2, 5])
    ('note 2', 'notes 2 and 5')
    """
    told = listed([str(number) for number in numbers])
    return ngettext("note {numbers}", "notes {numbers}", len(numbers)).format(numbers=told)


def numbered(cautions: Iterable[str], numbers: Mapping[str, int]) -> tuple[int, ...]:
    """Return the numbers of the safety notes of some cautions, ascending.

    >>> numbered(["steam", "heat"], {"heat": 1, "steam": 2})
    (1, 2)
    """
    return tuple(sorted(numbers[caution] for caution in cautions if caution in numbers))


def exactness(error: float | None) -> str:
    """Say whether the probabilities are exact; `error` is how far they may be off, None for exact.

    >>> exactness(None)
    'Probabilities are exact for this checklist.'
    >>> exactness(0.021)
    'Approximate: probabilities are sampled, and any of them may be off by 3 percentage points.'
    """
    if error is None:
        return _("Probabilities are exact for this checklist.")
    off = counted(
        max(1, ceil(100 * error)), "{number} percentage point", "{number} percentage points"
    )
    return _("Approximate: probabilities are sampled, and any of them may be off by {off}.").format(
        off=off
    )


def points(difference: float) -> str:
    """Write a difference of two probabilities.

    >>> points(0.272), points(0.006)
    ('27 points', '1 point')
    """
    return counted(round(100 * difference), "{number} point", "{number} points")


def setup_words(setup: Mapping[str, str]) -> str:
    """Say a state of the instrument.

    >>> setup_words({"strings": "at-pitch", "bridge": "on"})
    'strings at pitch, bridge on'
    """
    return ", ".join(f"{name} {state.replace('-', ' ')}" for name, state in setup.items())


def words_of_level(check: Check, level: str) -> str:
    """Return the words for a level of a check: what its entry says, or its id in words."""
    texts: dict[str, str | None] = {choice.level: choice.text for choice in check.choices}
    if check.measure is not None:
        measure = check.measure
        texts |= {one.level: one.text for one in (*measure.levels, *measure.levels_high)}
        texts |= {one.level: one.text for one in measure.levels_low}
    return texts.get(level) or level.replace("-", " ")


def band(low: str | None, high: str | None) -> str:
    """Return a band of values in words.

    >>> band("1 mm", "2 mm"), band(None, "2 mm"), band("1 mm", None)
    ('1 mm to 2 mm', 'up to 2 mm', '1 mm or more')
    """
    if low is None:
        return _("up to {high}").format(high=high)
    return (
        _("{low} or more").format(low=low)
        if high is None
        else _("{low} to {high}").format(low=low, high=high)
    )


def spread(u: float, dimension: str) -> str:
    """Write a standard uncertainty in both systems of units.

    >>> print(spread(0.5, "temperature").replace("\N{NO-BREAK SPACE}", " "))
    0.5 °C (0.9 °F)
    """
    if dimension == "temperature":  # a difference: the two scales do not begin at one point
        return value_by_locale(together(f"{u:.1f} °C ({1.8 * u:.1f} °F)"))
    return shown(u, dimension)


def minutes(number: float) -> str:
    r"""Write attended minutes.

    >>> minutes(0.5)
    '0.5\xa0min'
    """
    return by_locale(together(_("{number:g} min").format(number=number)))


def hours(number: float) -> str:
    r"""Write bench hours.

    >>> hours(3.5)
    '3.5\xa0h'
    """
    return by_locale(together(f"{number:g} h"))


def about_hours(number: float) -> str:
    r"""Write bench hours as exactly as an estimate of them is: to half an hour from four on.

    >>> about_hours(9.4), about_hours(1.26), about_hours(0.263)
    ('9.5\xa0h', '1.3\xa0h', '0.26\xa0h')
    """
    if number >= 4:
        return hours(round(2 * number) / 2)
    return hours(round(number, 1 if number >= 1 else 2))


def time_spent(number: float) -> str:
    r"""Write bench hours in minutes, to the next five, where they are few.

    >>> time_spent(0.32), time_spent(9.6)
    ('20\xa0min', '9.5\xa0h')
    """
    return minutes(5 * ceil(12 * number)) if number < FEW_HOURS else about_hours(number)


def of_offer(title: str) -> str:
    """Say which offer the hours are of."""
    return _("For the offer “{title}”, with all that it builds on.").format(title=title)


def attached(heading: Heading) -> str:
    """Return what stands above a report that goes with other papers."""
    return _("Job {job} · {visit} · {day} · found on this date; may change once opened").format(
        job=shortened(heading.job, 40), visit=heading.visit, day=day_by_locale(heading.day)
    )
