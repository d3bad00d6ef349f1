"""Sentences that never change, and the words of grades, offers, pace and tension.

In: nothing. Out: tables from a grade or a kind to plain text.

The grades have the shape of the condition and urgency classes of EN 16096:2012 and of the four-step
scales of museum surveys (both from memory); levels and words are our own.
"""

from __future__ import annotations

from types import MappingProxyType
from typing import TYPE_CHECKING

from tailblock.advice import rules
from tailblock.messages import N_

if TYPE_CHECKING:
    from collections.abc import Mapping

NOT_DETERMINED = (N_("not determined"), N_("not enough of it was looked at to say"))
CONDITION: Mapping[int | None, tuple[str, str]] = MappingProxyType(
    {
        None: NOT_DETERMINED,
        0: (N_("sound"), N_("what could be serious was looked at, and is not likely to be there")),
        1: (N_("worn"), N_("it does its work, with wear that can be felt or seen")),
        2: (N_("failing"), N_("something that it depends on is giving way")),
        3: (N_("failed"), N_("something that it depends on no longer does its work")),
    }
)
URGENCY: Mapping[int, tuple[str, str]] = MappingProxyType(
    {
        0: (N_("nothing presses"), N_("nothing has to be done")),
        1: (N_("keep watch"), N_("it is enough to look at it again")),
        2: (N_("plan the work"), N_("it should be mended, on a day that suits")),
        3: (
            N_("before it is strung or played"),
            N_("it must be dealt with before it carries its strings"),
        ),
        4: (N_("slacken today"), N_("the strings must come down today, whatever comes after")),
    }
)
# The second sentence of the verdict, by urgency.
PRESSES: Mapping[int, str] = MappingProxyType(
    {
        0: N_("nothing in it presses"),
        1: N_("it is enough to keep an eye on it"),
        2: N_("the work can be planned for a day that suits you"),
        3: N_("this must be dealt with before it is strung or played"),
        4: N_("the strings should be slackened today"),
    }
)

# Why a grade was given, for the player; the rule as written stands on the bench pages.
BECAUSE: Mapping[str, str] = MappingProxyType(
    {
        rules.CONDITION[0].words: N_("very likely something is broken that holds it together"),
        rules.CONDITION[1].words: N_("likely something is wrong that it depends on"),
        rules.CONDITION[2].words: N_("very likely something is as bad as it gets for playing"),
        rules.CONDITION[3].words: N_("likely something is worn that you feel or see"),
        rules.SOUND: N_("what could be serious was looked at, and is unlikely enough"),
        rules.NOT_DETERMINED: N_(
            "something that could be serious has not been ruled out by looking"
        ),
        rules.URGENCY[0].words: N_(
            "it is at pitch, and likely something can give way under the pull"
        ),
        rules.URGENCY[1].words: N_(
            "something serious may be there that can get worse at any moment"
        ),
        rules.URGENCY[2].words: N_("what was seen points to something that the strings can break"),
        rules.URGENCY[3].words: N_("likely something gets worse within weeks under the strings"),
        rules.URGENCY[4].words: N_("likely something is wrong that plays badly or does harm"),
        rules.URGENCY[5].words: N_("something that the strings can break is not ruled out yet"),
        rules.URGENCY[6].words: N_("something serious is possible"),
        rules.URGENCY[7].words: N_("likely something in its looks goes on changing"),
        rules.WATCHED: N_("work that was done on it is still being watched"),
        rules.NO_URGENCY: N_("nothing in it calls for work or watching"),
    }
)

HEADLINES: Mapping[str, str] = MappingProxyType(
    {
        "yes": N_("Yes. Nothing that was found speaks against bringing it to pitch."),
        "not-yet": N_("Not yet. Leave the strings slack for now."),
        "no": N_("No. Do not bring it to pitch."),
    }
)
AT_PITCH: Mapping[str, str] = MappingProxyType(
    {
        "yes": N_("Yes. It stands at pitch now, and nothing that was found speaks against it."),
        "not-yet": N_("Better not. It stands at pitch now; slacken the strings for now."),
        "no": N_("No. It stands at pitch now, and should not: slacken the strings."),
    }
)
NEAR_CERTAIN_TOO = N_("Near certain besides")
NOT_SETTLED = N_("not settled yet")
SLACK_HOLDS = N_("With the strings slack it does not get worse in the time that planning takes.")
PRESSES_SLACK = N_("nothing gets worse while the strings are slack; the work can be planned")
PRESSES_UNSTRUNG = N_("the work can be planned, with the strings left slack until then")
NOTHING_FIRST = N_("Nothing has to be done first.")
NOTHING_OPEN = N_("Nothing of weight is left open; what was not looked at is listed at the end.")
NOTHING_SETTLES = N_("nothing that is still unread shows it; time and another visit may")
LOOKS_NAMED = N_("The looks above can tell")
NO_LOOK_LEFT = N_("No look that is left shows it; opening it or time will")
NO_ANSWER = N_("looked, and cannot say")
MAY_ONCE_LOOKED = N_("It may be brought to pitch once these looks find nothing")
MAY_ONCE_MENDED = N_(", and what no look can clear has been opened or mended")
MEND_FIRST = N_("It may be brought to pitch once that is mended and has been looked at again.")
LOOKING_CANNOT_CLEAR = N_("Looking from outside cannot clear this; it takes opening or repair.")
NO_LOOK = N_("no look can clear it, it takes opening or repair")  # of one danger among several

PACE: Mapping[str, str] = MappingProxyType(
    {
        "stable": N_("it does not get worse by itself"),
        "years": N_("it gets worse over years"),
        "months": N_("it gets worse over months"),
        "weeks": N_("it gets worse over weeks"),
        "any-moment": N_("it can give way at any moment"),
    }
)
TENSION: Mapping[str, str] = MappingProxyType(
    {
        "fine": N_("string tension does not harm it"),
        "watch": N_("watch it under string tension"),
        "danger": N_("string tension can finish the break"),
    }
)
REACH: Mapping[str, str] = MappingProxyType(
    {
        "now": N_("it can be done now"),
        "held-back": N_("held back now: it needs more tension or load than is safe yet"),
        "opened": N_("it is known only once the instrument is opened"),
        "asked": N_("ask the player, whose word points and settles nothing"),
    }
)
SEEN: Mapping[str, str] = MappingProxyType(
    {
        "read": N_("read"),
        "from-memory": N_("from memory, not looked up again"),
        "not-applicable": N_("nothing to be read"),
    }
)
COMMON_PRACTICE = N_("common practice")
# Title of each offer and what it promises: what it buys, and what it does not.
OFFERS: Mapping[str, tuple[str, str]] = MappingProxyType(
    {
        "to-string": (
            N_("Needed before it may be strung"),
            N_("Deals with what tension could finish. Until then it stays slack."),
        ),
        "to-play": (
            N_("Needed for it to play well"),
            N_("Deals with what you feel and hear, and with what brings that about."),
        ),
        "while-open": (
            N_("Worth doing while it is open"),
            N_("Nothing depends on it today; the way to it is open, or it is a matter of looks."),
        ),
    }
)
# The first of them where nothing speaks against bringing it to pitch.
OFFERED_AT_PITCH = (
    N_("Needed so that it stays sound"),
    N_("Deals with what the pull of the strings makes worse in time."),
)
CHOICES_NOTE = N_(
    "Hours at the bench, enough for half of such jobs, and for 8 of 10. Each offer includes those "
    "above it."
)
SPARES_WORK = N_("Where a later one takes fewer hours, work in it spares other work.")
SUFFICES = N_(
    "{chance} that this is not enough: that a fault it is there for is still there after it."
)
SUFFICES_UNKNOWN = N_("How likely it is to be enough is out of reach here.")
# The scale of words of a checklist.
HOW_OFTEN: Mapping[str, str] = MappingProxyType(
    {
        "almost-always": N_("almost always"),
        "usually": N_("usually"),
        "often": N_("often"),
        "sometimes": N_("sometimes"),
        "seldom": N_("seldom"),
        "rarely": N_("rarely"),
        "very-rarely": N_("very rarely"),
    }
)
FOLLOWS: Mapping[str, str] = MappingProxyType(
    {
        "stable": N_("it stays as it is"),
        "years": N_("it gets worse over years"),
        "months": N_("it gets worse within months"),
        "weeks": N_("it gets worse within weeks"),
        "any-moment": N_("it can get worse at any moment"),
    }
)
ONLY_IF_FOUND = N_("only if another look calls for it")
HOURS_BESIDE = N_(
    "The hours beside an offer are those of its sure work; page 1 counts the offers before it too, "
    "and by its chance what waits for a look or may come to light."
)
OFFERED_FROM = N_(
    "Work is offered for every fault at {firm} or more that was looked at at the bench, work with "
    "heat or solvents from {sure}. What is less sure than that, from {if_found} on, is listed for "
    "the case that the fault is found; what something else has brought about, dry or wet air too, "
    "for the case that it stays when that is put right. Each option holds with those before it; "
    "for each fault it names the best cure, and of those about as good the one that takes the "
    "fewest hours more."
)
BESIDES_WAITING = N_("{hours} without the work that waits for another look")
ASKED_AGAIN = N_("After this you are asked again")
# What doing nothing means: first in a clause, then in sentences.
LEAVE_DANGER = (
    N_("it can wait if it stays slack"),
    N_("It can wait if it stays slack. Do not tune it up, and store it flat in its case."),
    N_("What was found does not mend by itself, and tension is what makes it worse."),
)
LEAVE_CALM = (
    N_("it can wait"),
    (
        N_(
            "It can wait. Play it as it is, and bring it back when something changes: a new gap, "
            "a new crack, a new buzz, strings that rise."
        )
    ),
)
LEAVE_SOUND = (
    N_("it can be left as it is"),
    N_("It can be left as it is; nothing was found that needs work."),
)
TERMS = (
    N_("Hours are hours at the bench, low / likely / high. Drying and settling are extra days."),
    (
        N_(
            "A piece of work marked as a stopping point ends with a decision: you hear what was "
            "found and what it would take, and nothing goes on before you have said yes."
        )
    ),
    N_("What shows only once it is open can change the work. You are asked before it does."),
    N_("Parts that are replaced are kept and handed back."),
    N_("No repair is promised to leave no trace, or to last while its cause stays."),
)

DEFERENCE = (
    N_("Local law, building and fire codes, and the rules for waste come before this page."),
    N_("The safety data sheet of the product in hand comes before this page."),
    (
        N_(
            "Work that needs a licence (electrical mains, gas, asbestos, lead paint, spraying of "
            "two-part finishes, pest control, large mould damage) belongs to people who hold one."
        )
    ),
    (
        N_(
            "After a splash in the eye, a burn, fumes that do not pass or a bad reaction: fresh "
            "air, rinse, and medical help at once, with the data sheet in hand."
        )
    ),
    (
        N_(
            "This is an opinion on condition from what could be seen, asked and measured on that "
            "day. It is not an appraisal of value and not a guarantee."
        )
    ),
)
ONE_AFTER_THE_OTHER = N_("Finish the one, cool down and air the room before the other begins.")
NOT_AT_ONE_BENCH = N_("Not at the same time, and not at one bench before it is cold and aired.")

# Printed even if the checklist has no caution of that kind; its own words come first.
AT_HOME: Mapping[str, str] = MappingProxyType(
    {
        "solvent": N_("No solvent, alcohol, lighter fluid or cleaner on it."),
        "heat": N_("No heat: no hair dryer, iron or lamp, no radiator, no parked car."),
        "bleach": N_("No bleach on it, in it or in the case."),
        "mould": N_("If it smells musty: shut the case and bag it; do not sniff, brush or wipe."),
    }
)
NO_FAST_WETTING = N_("No fast wetting: no wet cloth or sponge inside, no steam, no soaking.")
NO_TUNING_UP = N_("Do not tune it up, not even to try it.")
OWN_RULE = N_("our own, to be replaced by what a shop counts")
SAME_AGAIN = N_(
    "The same inspection file, checklist and engine make this report again: as HTML, Markdown and "
    "JSON byte for byte, as PDF with the day of the visit as its date."
)
# What is not known counts as the worst that it could be.
WORST: Mapping[str, str] = MappingProxyType(
    {
        "finish": (
            N_(
                "The finish is not known: it counts as the one that burns fast and that heat, "
                "water, alcohol and tape all ruin, until a spot test says otherwise."
            )
        ),
        "glue": (
            N_(
                "The glue is not known: it counts as the one that does not open, and that gives "
                "off harmful fume when it is heated, until a test says otherwise."
            )
        ),
    }
)
SPOT_TEST = N_("Such a finish must not meet these before the spot test: {hazards}.")
HUMIDITY = N_(
    "Keep it in its case at 45 to 55 % relative humidity (common practice), away from heat."
)
NOTICE = (
    (
        N_(
            "This is an opinion on condition from what could be seen, asked and measured on that "
            "day. It is not an appraisal of value and not a guarantee."
        )
    ),
    (
        N_(
            "The repairs named here are work for a bench. Where work needs a licence, or local "
            "codes and the data sheet of a product say otherwise, those come first."
        )
    ),
)
NO_GLUE = N_("No glue from the kitchen drawer: it makes the real repair harder.")

CROSS_AGREE = N_(
    "The readings agree: none differs from what the others imply by more than both uncertainties "
    "allow."
)
CROSS_ONLY_ONE = N_("Without it the other readings agree, and that holds for no other one.")
CROSS_SEVERAL = N_(
    "The readings do not agree, and they cannot tell which of them is wrong: the others agree "
    "without any one of several. Named is what would have to be wrong by least for its gauge."
)
CROSS_MORE_THAN_ONE = N_(
    "It differs most from the others, and they do not agree without it either: more than one "
    "reading is wrong, or they were not all taken at one string load."
)
CROSS_MIND = N_(
    "Before it is read again: does it stand at pitch? Does the straightedge lie on fret 1 and at "
    "the body joint, and not ride on a hump or a high fret? Were saddle and bridge read in the "
    "middle?"
)
CROSS_METHOD = N_(
    "Straight strings over a neck and a bridge tie action, relief, saddle, aim and bridge to one "
    "another. What the others imply is their least-squares value; ± is the standard uncertainty. A "
    "reading is off where it differs by more than twice the standard uncertainty of the "
    "difference. No probability in this report rests on this comparison."
)

# What a figure of the bench arithmetic is called beside recommended work.
ARITHMETIC: Mapping[str, str] = MappingProxyType(
    {
        "aim_lost": N_("Aim to be won at the bridge"),
        "neck_angle_lost": N_("As an angle of the neck"),
        "heel_cut": N_("Wood off each cheek at the heel cap, out to nothing at the top"),
        "tongue_wedge": N_(
            "Wedge under the soundhole end of the board, out to nothing at the joint"
        ),
        "saddle_for_action": N_(
            "Saddle standing out that gives the usual action, all else left alone"
        ),
        "height_after_dressing": N_("Lowest fret once the groove is levelled out and crowned"),
        "nut_slot_lowering": N_("To file out of the slot that was read"),
        "action_at_normal_relief": N_("Action, sixth string, once the relief is as usual"),
        "tension_saved": N_("Pull saved by the next lighter set"),
        "tension_saved_by_a_tone": N_("Pull saved by the same set a whole tone lower"),
    }
)
# Below this the figure calls for a word of its own; common practice, no source.
TOO_LITTLE: Mapping[str, tuple[float, str]] = MappingProxyType(
    {
        "saddle_for_action": (
            2.0,
            (
                N_(
                    "Under 2 mm the saddle cannot pay (common practice): what is wanted has to "
                    "come from the neck or the top"
                )
            ),
        ),
        "height_after_dressing": (
            0.75,
            (
                N_(
                    "That is under the least to leave, 0.75 mm (common practice): new wire rather "
                    "than a file"
                )
            ),
        ),
    }
)
# What an argument of a figure is called, where its own name is not enough.
USUAL_SIZES: Mapping[str, str] = MappingProxyType(
    {
        "join": N_("body joint at fret"),
        "heel_height": N_("height of the heel"),
        "tongue_length": N_("board from the joint to the soundhole"),
        "action_wanted": N_("action to aim at"),
        "rise": N_("aim to be won"),
        "relief_wanted": N_("relief to aim at"),
        "gap_wanted": N_("gap to aim at"),
        "set_factor": N_("set against others of its name"),
        "core_fill": N_("core section in squares of its diameter"),
        "closeness": N_("closeness of the winding"),
        "unevenness": N_("unevenness of the crowns"),
        "first_gauge": N_("first string"),
        "first_gauge_after": N_("first string afterwards"),
        "semitones_lower_after": N_("semitones lower"),
    }
)
CLIMATE_EXPLAINS = N_(
    "{check}: {change} since visit {number}, while the humidity went from {before} to {after}. The "
    "climate alone makes {expected}; {verdict}."
)
CLIMATE_ENOUGH = N_("that explains the change")
CLIMATE_NOT_ENOUGH = N_("that does not explain it: {left} is left, and something else has moved")
# How likely what is repaired is to come back.
RETURNS = N_("{chance} while its causes stay{through}")
NO_RETURN = N_("nothing that the checklist knows brings it back")
WITH_ALL = N_("{chance} with all the work here that does not wait for a finding")
NO_LESS = N_("no less")
RETURN_TERM = N_(
    "How likely something is to come back counts the causes that the checklist knows and that stay "
    "after the work. It does not say when."
)
NO_RETURN_TERM = N_(
    "How likely repaired faults are to come back is not said here: it takes exact probabilities, "
    "and those are out of reach for this checklist."
)
NOT_SEEN = (
    N_(
        "The inside of closed joints, and wood under finish, glue, plates or labels: it needs "
        "opening"
    ),
)

TOGETHER = N_(
    "The faults in question, as they most probably go together: those named are there, the others "
    "in question are not; about all other faults this says nothing. In question are faults that "
    "are not improbable and for which a reading off normal speaks. A reading is covered by the "
    "fault without which it would be most of a surprise."
)
NOT_TOGETHER = N_(
    "Which faults together explain the readings, and which reading surprises, is not said here: it "
    "takes exact probabilities, and those are out of reach for this checklist."
)
NOTHING_OFF_NORMAL = N_("No reading is off normal, so there is nothing to explain.")
NOT_OUTSIDE = N_(
    "Of {sampled} instruments drawn from the checklist and asked the same checks, {share} gave "
    "answers no likelier than these: such an instrument is within what the checklist knows."
)
OUTSIDE = N_(
    "Outside what the checklist knows: of {sampled} instruments drawn from it and asked the same "
    "checks, {share} gave answers no likelier than these. Look for a slip in the readings, or for "
    "a fault that the checklist does not have."
)

# Whether the ranking would be another if the checklist's words were other numbers.
STEADY = N_(
    "The ranking is steady: with every word of the checklist taken as the range that it is, "
    "{leads} in {share} of 200 trials."
)
STEADY_NONE = N_(
    "That no fault leads is steady: with every word of the checklist taken as the range that it "
    "is, none leads in {share} of 200 trials."
)
LEANS_NONE = N_(
    "That no fault leads rests on rules of thumb: with every word of the checklist taken as the "
    "range that it is, none leads in only {share} of 200 trials. One more reading is worth more "
    "than the numbers."
)
NOT_WEIGHED = N_(
    "How far the ranking leans on the words of the checklist is not said here: it takes exact "
    "probabilities, and those are out of reach for this checklist."
)
LEANS = N_(
    "The ranking leans on rules of thumb: with every word of the checklist taken as the range that "
    "it is, {leads} in only {share} of 200 trials. One more reading is worth more than the numbers."
)

COMPARE_METHOD = N_(
    "Compared is what was read by the same check in the same setup; a change within twice its "
    "standard uncertainty counts as none. Better and worse are nearer to the normal band and "
    "farther from it. Trends are straight lines by weighted least squares over three readings or "
    "more, a year or more apart, with no work in between; the days of crossing are Fieller's "
    "interval (both from memory, see the sources in the manual)."
)
