"""Sentences that never change, and the words of grades, offers, pace and tension.

In: nothing. Out: tables from a grade or a kind to plain text.

The grades have the shape of the condition and urgency classes of EN 16096:2012 and of the four-step
scales of museum surveys (both from memory); levels and words are our own.
"""

from __future__ import annotations

from types import MappingProxyType
from typing import TYPE_CHECKING

from tailblock.advice import rules

if TYPE_CHECKING:
    from collections.abc import Mapping

NOT_DETERMINED = ("not determined", "not enough of it was looked at to say")
CONDITION: Mapping[int | None, tuple[str, str]] = MappingProxyType(
    {
        None: NOT_DETERMINED,
        0: ("sound", "what could be serious was looked at, and is not likely to be there"),
        1: ("worn", "it does its work, with wear that can be felt or seen"),
        2: ("failing", "something that it depends on is giving way"),
        3: ("failed", "something that it depends on no longer does its work"),
    }
)
URGENCY: Mapping[int, tuple[str, str]] = MappingProxyType(
    {
        0: ("nothing presses", "nothing has to be done"),
        1: ("keep watch", "it is enough to look at it again"),
        2: ("plan the work", "it should be mended, on a day that suits"),
        3: ("before it is strung or played", "it must be dealt with before it carries its strings"),
        4: ("slacken today", "the strings must come down today, whatever comes after"),
    }
)
# The second sentence of the verdict, by urgency.
PRESSES: Mapping[int, str] = MappingProxyType(
    {
        0: "nothing has to be done about it now",
        1: "it is enough to keep an eye on it",
        2: "the work can be planned for a day that suits you",
        3: "this must be dealt with before it is strung or played",
        4: "the strings should be slackened today",
    }
)

# Why a grade was given, for the player; the rule as written stands on the bench pages.
BECAUSE: Mapping[str, str] = MappingProxyType(
    {
        rules.CONDITION[0].words: "very likely something is broken that holds it together",
        rules.CONDITION[1].words: "likely something is wrong that it depends on",
        rules.CONDITION[2].words: "very likely something is as bad as it gets for playing",
        rules.CONDITION[3].words: "likely something is worn that you feel or see",
        rules.SOUND: "what could be serious was looked at, and is unlikely enough",
        rules.NOT_DETERMINED: "something that could be serious has not been ruled out by looking",
        rules.URGENCY[0].words: "it is at pitch, and likely something can give way under the pull",
        rules.URGENCY[1].words: "something serious may be there that can get worse at any moment",
        rules.URGENCY[2].words: "what was seen points to something that the strings can break",
        rules.URGENCY[3].words: "likely something gets worse within weeks under the strings",
        rules.URGENCY[4].words: "likely something is wrong that plays badly or does harm",
        rules.URGENCY[5].words: "something that the strings can break is not ruled out yet",
        rules.URGENCY[6].words: "something serious is possible",
        rules.URGENCY[7].words: "likely something in its looks goes on changing",
        rules.WATCHED: "work that was done on it is still being watched",
        rules.NO_URGENCY: "nothing in it calls for work or watching",
    }
)

HEADLINES: Mapping[str, str] = MappingProxyType(
    {
        "yes": "Yes. Nothing that was found speaks against bringing it to pitch.",
        "not-yet": "Not yet. Leave the strings slack for now.",
        "no": "No. Do not bring it to pitch.",
    }
)
AT_PITCH: Mapping[str, str] = MappingProxyType(
    {
        "yes": "Yes. It stands at pitch now, and nothing that was found speaks against it.",
        "not-yet": "Better not. It stands at pitch now; slacken the strings for now.",
        "no": "No. It stands at pitch now, and should not: slacken the strings.",
    }
)
NEAR_CERTAIN_TOO = "Near certain besides"
NOT_SETTLED = "not settled yet"
SLACK_HOLDS = "With the strings slack it does not get worse in the time that planning takes."
PRESSES_SLACK = "nothing gets worse while the strings are slack; the work can be planned"
PRESSES_UNSTRUNG = "the work can be planned, with the strings left slack until then"
NOTHING_FIRST = "Nothing has to be done first."
NOTHING_OPEN = "Nothing of weight is left open; what was not looked at is listed at the end."
NOTHING_SETTLES = "nothing that is still unread shows it; time and another visit may"
LOOKS_NAMED = "The looks above can tell"
NO_LOOK_LEFT = "No look that is left shows it; opening it or time will"
NO_ANSWER = "looked, and cannot say"
MAY_ONCE_LOOKED = "It may be brought to pitch once these looks find nothing"
MAY_ONCE_MENDED = ", and what no look can clear has been opened or mended"
MEND_FIRST = "It may be brought to pitch once that is mended and has been looked at again."
LOOKING_CANNOT_CLEAR = "Looking from outside cannot clear this; it takes opening or repair."
NO_LOOK = "no look can clear it, it takes opening or repair"  # of one danger among several

PACE: Mapping[str, str] = MappingProxyType(
    {
        "stable": "it does not get worse by itself",
        "years": "it gets worse over years",
        "months": "it gets worse over months",
        "weeks": "it gets worse over weeks",
        "any-moment": "it can give way at any moment",
    }
)
TENSION: Mapping[str, str] = MappingProxyType(
    {
        "fine": "string tension does not harm it",
        "watch": "watch it under string tension",
        "danger": "string tension can finish the break",
    }
)
REACH: Mapping[str, str] = MappingProxyType(
    {
        "now": "it can be done now",
        "held-back": "held back now: it needs more tension or load than is safe yet",
        "opened": "it is known only once the instrument is opened",
        "asked": "ask the player, whose word points and settles nothing",
    }
)
SEEN: Mapping[str, str] = MappingProxyType(
    {
        "read": "read",
        "from-memory": "from memory, not looked up again",
        "not-applicable": "nothing to be read",
    }
)
COMMON_PRACTICE = "common practice"
# Title of each offer and what it promises: what it buys, and what it does not.
OFFERS: Mapping[str, tuple[str, str]] = MappingProxyType(
    {
        "to-string": (
            "Needed before it may be strung",
            "Deals with what tension could finish. Until then it stays slack.",
        ),
        "to-play": (
            "Needed for it to play well",
            "Deals with what you feel and hear, and with what brings that about.",
        ),
        "while-open": (
            "Worth doing while it is open",
            "Nothing depends on it today; the way to it is open, or it is a matter of looks.",
        ),
    }
)
CHOICES_NOTE = (
    "Hours at the bench, enough for half of such jobs, and for 8 of 10. Each offer includes those "
    "above it."
)
SUFFICES = "{chance} that this is not enough: that a fault it is there for is still there after it."
SUFFICES_UNKNOWN = "How likely it is to be enough is out of reach here."
FOLLOWS: Mapping[str, str] = MappingProxyType(
    {
        "stable": "it stays as it is",
        "years": "it gets worse over years",
        "months": "it gets worse within months",
        "weeks": "it gets worse within weeks",
        "any-moment": "it can get worse at any moment",
    }
)
ONLY_IF_FOUND = "only what is found"
ASKED_AGAIN = "After this you are asked again"
LEAVE_DANGER = (
    "It can wait if it stays slack. Do not tune it up, and store it flat in its case.",
    "What was found does not mend by itself, and tension is what makes it worse.",
)
LEAVE_CALM = (
    (
        "It can wait. Play it as it is, and bring it back when something changes: a new gap, "
        "a new crack, a new buzz, strings that rise."
    ),
)
LEAVE_SOUND = ("It can be left as it is; nothing was found that needs work.",)
TERMS = (
    "Hours are hours at the bench, low / likely / high. Drying and settling are extra days.",
    (
        "A piece of work marked as a stopping point ends with a decision: you hear what was found "
        "and what it would take, and nothing goes on before you have said yes."
    ),
    "What shows only once it is open can change the work. You are asked before it does.",
    "Parts that are replaced are kept and handed back.",
    "No repair is promised to leave no trace, or to last while its cause stays.",
)

DEFERENCE = (
    "Local law, building and fire codes, and the rules for waste come before this page.",
    "The safety data sheet of the product in hand comes before this page.",
    (
        "Work that needs a licence (electrical mains, gas, asbestos, lead paint, spraying of "
        "two-part finishes, pest control, large mould damage) belongs to people who hold one."
    ),
    (
        "After a splash in the eye, a burn, fumes that do not pass or a bad reaction: fresh air, "
        "rinse, and medical help at once, with the data sheet in hand."
    ),
    (
        "This is an opinion on condition from what could be seen, asked and measured on that day. "
        "It is not an appraisal of value and not a guarantee."
    ),
)
ONE_AFTER_THE_OTHER = "Finish the one, cool down and air the room before the other begins."
NOT_AT_ONE_BENCH = "Not at the same time, and not at one bench before it is cold and aired."

# Printed even if the checklist has no caution of that kind; its own words come first.
AT_HOME: Mapping[str, str] = MappingProxyType(
    {
        "solvent": "No solvent, alcohol, lighter fluid or cleaner on it.",
        "heat": "No heat: no hair dryer, iron or lamp, no radiator, no parked car.",
        "bleach": "No bleach on it, in it or in the case.",
        "mould": "If it smells musty: shut the case and bag it; do not sniff, brush or wipe.",
    }
)
NO_FAST_WETTING = "No fast wetting: no wet cloth or sponge inside, no steam, no soaking."
NO_TUNING_UP = "Do not tune it up, not even to try it."
OWN_RULE = "our own, to be replaced by what a shop counts"
SAME_AGAIN = (
    "The same inspection file, checklist and engine make this report again: as HTML, Markdown and "
    "JSON byte for byte, as PDF with the day of the visit as its date."
)
# What is not known counts as the worst that it could be.
WORST: Mapping[str, str] = MappingProxyType(
    {
        "finish": (
            "The finish is not known: it counts as the one that burns fast and that heat, water, "
            "alcohol and tape all ruin, until a spot test says otherwise."
        ),
        "glue": (
            "The glue is not known: it counts as the one that does not open, and that gives off "
            "harmful fume when it is heated, until a test says otherwise."
        ),
    }
)
SPOT_TEST = "Such a finish must not meet these before the spot test: {hazards}."
HUMIDITY = "Keep it in its case at 45 to 55 % relative humidity (common practice), away from heat."
NOTICE = (
    (
        "This is an opinion on condition from what could be seen, asked and measured on that day. "
        "It is not an appraisal of value and not a guarantee."
    ),
    (
        "The repairs named here are work for a bench. Where work needs a licence, or local codes "
        "and the data sheet of a product say otherwise, those come first."
    ),
)
NO_GLUE = "No glue from the kitchen drawer: it makes the real repair harder."

CROSS_AGREE = (
    "The readings agree: none differs from what the others imply by more than both uncertainties "
    "allow."
)
CROSS_ONLY_ONE = "Without it the other readings agree, and that holds for no other one."
CROSS_SEVERAL = (
    "The readings do not agree, and they cannot tell which of them is wrong: the others agree "
    "without any one of several. Named is what would have to be wrong by least for its gauge."
)
CROSS_MORE_THAN_ONE = (
    "It differs most from the others, and they do not agree without it either: more than one "
    "reading is wrong, or they were not all taken at one string load."
)
CROSS_MIND = (
    "Before it is read again: does it stand at pitch? Does the straightedge lie on fret 1 and at "
    "the body joint, and not ride on a hump or a high fret? Were saddle and bridge read in the "
    "middle?"
)
CROSS_METHOD = (
    "Straight strings over a neck and a bridge tie action, relief, saddle, aim and bridge to one "
    "another. What the others imply is their least-squares value; ± is the standard uncertainty. A "
    "reading is off where it differs by more than twice the standard uncertainty of the "
    "difference. No probability in this report rests on this comparison."
)

# What a figure of the bench arithmetic is called beside recommended work.
ARITHMETIC: Mapping[str, str] = MappingProxyType(
    {
        "aim_lost": "Aim to be won at the bridge",
        "neck_angle_lost": "As an angle of the neck",
        "heel_cut": "Wood off each cheek at the heel cap, out to nothing at the top",
        "tongue_wedge": "Wedge under the soundhole end of the board, out to nothing at the joint",
        "saddle_for_action": "Saddle standing out that gives the usual action, all else left alone",
        "height_after_dressing": "Lowest fret once the groove is levelled out and crowned",
        "nut_slot_lowering": "To file out of the slot that was read",
        "action_at_normal_relief": "Action, sixth string, once the relief is as usual",
        "tension_saved": "Pull saved by the next lighter set",
        "tension_saved_by_a_tone": "Pull saved by the same set a whole tone lower",
    }
)
# Below this the figure calls for a word of its own; common practice, no source.
TOO_LITTLE: Mapping[str, tuple[float, str]] = MappingProxyType(
    {
        "saddle_for_action": (
            2.0,
            (
                "Under 2 mm the saddle cannot pay (common practice): what is wanted has to come "
                "from the neck or the top"
            ),
        ),
        "height_after_dressing": (
            0.75,
            (
                "That is under the least to leave, 0.75 mm (common practice): new wire rather than "
                "a file"
            ),
        ),
    }
)
# What an argument of a figure is called, where its own name is not enough.
USUAL_SIZES: Mapping[str, str] = MappingProxyType(
    {
        "join": "body joint at fret",
        "heel_height": "height of the heel",
        "tongue_length": "board from the joint to the soundhole",
        "action_wanted": "action to aim at",
        "rise": "aim to be won",
        "relief_wanted": "relief to aim at",
        "gap_wanted": "gap to aim at",
        "set_factor": "set against others of its name",
        "core_fill": "core section in squares of its diameter",
        "closeness": "closeness of the winding",
        "unevenness": "unevenness of the crowns",
        "first_gauge": "first string",
        "first_gauge_after": "first string afterwards",
        "semitones_lower_after": "semitones lower",
    }
)
CLIMATE_EXPLAINS = (
    "{check}: {change} since visit {number}, while the humidity went from {before} to {after}. The "
    "climate alone makes {expected}; {verdict}."
)
CLIMATE_ENOUGH = "that explains the change"
CLIMATE_NOT_ENOUGH = "that does not explain it: {left} is left, and something else has moved"
# How likely what is repaired is to come back.
RETURNS = "{chance} while its causes stay{through}"
NO_RETURN = "nothing that the checklist knows brings it back"
WITH_ALL = "{chance} with all the work here that does not wait for a finding"
NO_LESS = "no less"
RETURN_TERM = (
    "How likely something is to come back counts the causes that the checklist knows and that stay "
    "after the work. It does not say when."
)
NO_RETURN_TERM = (
    "How likely repaired faults are to come back is not said here: it takes exact probabilities, "
    "and those are out of reach for this checklist."
)
NOT_SEEN = (
    "The inside of closed joints, and wood under finish, glue, plates or labels: it needs opening",
)

TOGETHER = (
    "The faults in question, as they most probably go together: those named are there, the others "
    "in question are not; about all other faults this says nothing. In question are faults that "
    "are not improbable and for which a reading off normal speaks. A reading is covered by the "
    "fault without which it would be most of a surprise."
)
NOT_TOGETHER = (
    "Which faults together explain the readings, and which reading surprises, is not said here: it "
    "takes exact probabilities, and those are out of reach for this checklist."
)
NOTHING_OFF_NORMAL = "No reading is off normal, so there is nothing to explain."
NOT_OUTSIDE = (
    "Of {sampled} instruments drawn from the checklist and asked the same checks, {share} gave "
    "answers no likelier than these: such an instrument is within what the checklist knows."
)
OUTSIDE = (
    "Outside what the checklist knows: of {sampled} instruments drawn from it and asked the same "
    "checks, {share} gave answers no likelier than these. Look for a slip in the readings, or for "
    "a fault that the checklist does not have."
)

# Whether the ranking would be another if the checklist's words were other numbers.
STEADY = (
    "The ranking is steady: with every word of the checklist taken as the range that it is, "
    "{leads} in {share} of 200 trials."
)
NOT_WEIGHED = (
    "How far the ranking leans on the words of the checklist is not said here: it takes exact "
    "probabilities, and those are out of reach for this checklist."
)
LEANS = (
    "The ranking leans on rules of thumb: with every word of the checklist taken as the range that "
    "it is, {leads} in only {share} of 200 trials. One more reading is worth more than the numbers."
)

COMPARE_METHOD = (
    "Compared is what was read by the same check in the same setup; a change within twice its "
    "standard uncertainty counts as none. Better and worse are nearer to the normal band and "
    "farther from it. Trends are straight lines by weighted least squares over three readings or "
    "more, a year or more apart, with no work in between; the days of crossing are Fieller's "
    "interval (both from memory, see the sources in the manual)."
)
