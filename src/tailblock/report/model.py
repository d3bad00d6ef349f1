"""The report as content: what is said, in order, without a trace of markup.

In: nothing; `build` makes these. Out: frozen values that every renderer lays out and none rewords.
Texts are plain text; what a person typed is among them, so a renderer escapes all of it. Chances
run from 0 to 1, hours are bench hours, decibans are 10 log10 of a ratio of odds.
"""

from __future__ import annotations

from base64 import b64encode
from dataclasses import dataclass, field
from typing import Literal

from tailblock.messages import _
from tailblock.report.conventions import Conventions

FORMAT = 1  # of the JSON form of a report

Copy = Literal["player", "bench"]
PLAYERS_FIELDS = (  # of `Report`
    "heading",
    "first_page",
    "players_copy",
    "portrait",
    "letterhead",
    "photos",
)

Answer = Literal["yes", "not-yet", "no"]
CrossKind = Literal["agree", "only-one", "smallest-error", "more-than-one"]
Zone = Literal["normal", "watch", "outside"]
OfferKind = Literal["to-string", "to-play", "while-open"]
PortraitStrings = Literal["steel", "twelve", "nylon"]
PortraitBridge = Literal["pin", "pinless", "floating"]
PortraitBracing = Literal["x", "ladder", "fan", ""]
NeckHeightName = Literal[
    "opening", "relief", "action", "dip", "projection", "exposure", "thickness", "belly"
]  # from the nut to the tail
PortraitPickup = Literal["under-saddle", "contact", "soundhole", ""]


@dataclass(frozen=True, slots=True)
class Labelled:
    """A name and what stands beside it."""

    label: str
    text: str


@dataclass(frozen=True, slots=True)
class Heading:
    """Which instrument, which job, which visit, who, and by which knowledge.

    `facts` are the traits as they were given; `state` is the setup and the climate. Digests are
    sha256 in hexadecimal, of the inspection file and of the checklist's content.
    """

    job: str
    instrument: str
    player: str
    visit: str  # `Arrival, visit 1 of 1`
    day: str  # ISO 8601
    by: str
    facts: tuple[Labelled, ...]
    state: tuple[Labelled, ...]
    note: str
    checklist: str
    checklist_version: str
    checklist_digest: str
    file_digest: str
    engine: str


@dataclass(frozen=True, slots=True)
class Mark:
    """A shop's logo as a `data:` address; the ratio of `width` and `height` counts."""

    data: str
    width: float
    height: float
    text: str  # what it shows


@dataclass(frozen=True, slots=True)
class Letterhead:
    """What a shop puts on its papers: who it is, its logo, its colours, and what it has to say.

    Colours are `#rrggbb`, or empty for ours.
    """

    name: str
    address: tuple[str, ...]
    mark: Mark | None
    heading_colour: str
    warning_colour: str
    closing: tuple[str, ...]
    terms: tuple[str, ...]
    notice: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Grade:
    """A grade: its number (None if it is not determined), our word, what it means, why.

    `rule` is the sentence of the rule that fired, `because` the faults that fired it, the first by
    name; `plain` is the rule in the player's words, on page 1 only.
    """

    value: int | None
    word: str
    meaning: str
    rule: str
    because: tuple[str, ...] = ()
    plain: str = ""


@dataclass(frozen=True, slots=True)
class PartGrade:
    """The two grades of one part."""

    part: str
    condition: Grade
    urgency: Grade


@dataclass(frozen=True, slots=True)
class Stringing:
    """May it be brought to pitch: the answer, one plain sentence, why, and what would clear it."""

    answer: Answer
    headline: str
    why: str
    clear_with: str
    accepted: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Matter:
    """One thing that matters, in the player's words."""

    id: str  # of the fault
    part: str
    plain: str
    sure: str  # a phrase such as `very likely`
    probability: float
    left_alone: str


@dataclass(frozen=True, slots=True)
class Choice:
    """What the player can choose, in a line, with all that it builds on.

    `low` and `high` are the bench hours that are enough for half of such jobs and for 8 of 10, None
    where nothing is done or where they are out of reach; `takes` says them, and the money too if a
    shop says its rate.
    """

    id: str  # of the option; empty for doing nothing
    title: str
    low: float | None
    high: float | None
    takes: str


@dataclass(frozen=True, slots=True)
class PlayersPage:
    """The first page: what is wrong, how sure, may it be strung, what first, what is not known.

    `choices` go from doing nothing to the most work; `choices_note` says how to read their hours.
    """

    verdict: tuple[str, str]
    condition: Grade
    urgency: Grade
    undetermined: str  # `2 of 12 parts not judged yet`, or empty
    stringing: Stringing
    matters: tuple[Matter, ...]
    slack: str  # that slack strings stop it, or empty
    also: str  # what is near certain besides, in one line, or empty
    first: tuple[str, ...]
    unknown: tuple[str, ...]
    choices: tuple[Choice, ...]
    choices_note: str
    not_at_home: tuple[str, ...]
    how_to_read: str
    approximate: bool  # the probabilities are sampled, and may be off by `error`
    error: float | None
    exactness: str


@dataclass(frozen=True, slots=True)
class Gauge:
    """A measured value against its limits, all in the base unit.

    `edges` are the limits between the levels, ascending, `limits` the same as they are written;
    `zones` are the bands that they cut out, one more than they are; `normal` is the band that
    counts as normal, an open end being None. `text` says the same in words.
    """

    value: float
    uncertainty: float
    edges: tuple[float, ...]
    limits: tuple[str, ...]
    zones: tuple[Zone, ...]
    normal: tuple[float | None, float | None]
    text: str


@dataclass(frozen=True, slots=True)
class Finding:
    """The answer to one check.

    `value`, `uncertainty` and `normal` are written in both systems of units; they are empty for
    what is not measured. `abnormal` marks a level off normal. `silent` says why an answer counts
    for nothing; it is then shown struck through.
    """

    check: str
    written: str
    value: str
    uncertainty: str
    normal: str
    level: str
    abnormal: bool
    silent: str
    visit: str
    setup: str
    remarks: tuple[str, ...]  # an assumed unit, numbers of photographs, a derived value's inputs
    note: str
    gauge: Gauge | None


@dataclass(frozen=True, slots=True)
class PartFindings:
    """All findings of one part, in the order in which they were taken."""

    part: str
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class Photo:
    """A photograph by its number in this report, and what it belongs to.

    `about` is the finding, and the part in plain words where it has no finding to go with; `file`
    is its path as the inspection names it, `digest` the sha256 of that file in hexadecimal. `jpeg`
    is the picture as it is shown, `width` times `height` pixels; without a picture it is empty and
    the report names the photograph only.
    """

    number: int
    caption: str
    part: str
    about: str
    file: str
    digest: str
    width: int
    height: int
    jpeg: bytes = field(default=b"", repr=False)

    @property
    def address(self) -> str:
        """Return an address that holds the picture: RFC 2397."""
        return f"data:image/jpeg;base64,{b64encode(self.jpeg).decode()}"

    def says(self, copy: Copy) -> str:
        """Return what it shows, for those who do not see it, in the words of a copy."""
        which = self.about if copy == "bench" else self.part
        if not self.caption:
            return _("Photograph {number}. ({which})").format(number=self.number, which=which)
        return _("Photograph {number}. {caption} ({which})").format(
            number=self.number, caption=self.caption, which=which
        )


@dataclass(frozen=True, slots=True)
class ComparedReading:
    """A reading beside the value that all others of its visit imply for it.

    Numbers are lengths in the unit of the `CrossChecks`, with their standard uncertainties;
    `normalised` is the difference over its own standard uncertainty. The texts say the same in both
    systems of units.
    """

    id: str  # of the check
    check: str
    value: float
    uncertainty: float
    implied_value: float
    implied_uncertainty: float
    normalised: float
    read: str
    implied: str
    difference: str
    take_again: bool


@dataclass(frozen=True, slots=True)
class CrossChecks:
    """How the readings that one geometry ties together agree; no probability rests on it.

    `kind` says how what is to be taken again was chosen. `chance` is how often sound readings have
    as large a `chi_square` with that many `degrees` of freedom.
    """

    kind: CrossKind
    said: tuple[str, ...]
    rows: tuple[ComparedReading, ...]
    usual: str  # what was not read and is taken as usual, or empty
    method: str
    unit: str
    chi_square: float
    degrees: int
    chance: float


@dataclass(frozen=True, slots=True)
class ClimateChange:
    """A reading that changed since an earlier visit, and what the climate makes of it [mm]."""

    id: str  # of the check
    change: float
    uncertainty: float
    expected: float
    expected_uncertainty: float
    explained: bool
    text: str


@dataclass(frozen=True, slots=True)
class Weight:
    """A reading and what it says about one fault."""

    check: str
    reading: str
    visit: str
    decibans: float
    means: str


@dataclass(frozen=True, slots=True)
class Cause:
    """A probable cause: plain and bench words, how probable, and why.

    `low` and `high` bound the middle nine tenths of its probability with every word of the
    checklist taken as a range; None where that is out of reach. `lighter` counts the readings that
    weigh too little to be listed; `brought_about_by` are its own probable causes, nearest first;
    `settles` is the unread check that would say most about it.
    """

    id: str
    part: str
    name: str
    plain: str
    sure: str
    probability: float
    low: float | None
    high: float | None
    prior: float
    decibans: float
    in_favour: tuple[Weight, ...]
    against: tuple[Weight, ...]
    lighter: int
    brought_about_by: tuple[str, ...]
    settles: str
    under_tension: str
    pace: str
    left_alone: str


@dataclass(frozen=True, slots=True)
class OtherCause:
    """A fault that is not argued at length."""

    part: str
    name: str
    sure: str
    probability: float
    prior: float
    decibans: float


@dataclass(frozen=True, slots=True)
class Causes:
    """What is argued, what is only listed, and how many lie below the list.

    `unmoved` are likely enough to be named, by their starting chance alone; `spoken_against` are
    those that the readings brought down. `steadiness` says whether the ranking would be another if
    the checklist's words were taken as the ranges that they are; `steady` is None where that is out
    of reach.
    """

    argued: tuple[Cause, ...]
    others: tuple[OtherCause, ...]
    unmoved: tuple[str, ...]
    spoken_against: tuple[str, ...]
    below: str
    method: str
    steady: bool | None
    steadiness: str


@dataclass(frozen=True, slots=True)
class Covers:
    """A fault of an explanation, and the readings off normal that it covers."""

    fault: str
    readings: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Explanation:
    """Faults that may be there together, and the readings that none of them covers."""

    probability: float
    faults: tuple[Covers, ...]
    uncovered: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class OtherExplanation:
    """Another explanation by what it has more, and what it lacks, than the leading one."""

    probability: float
    added: tuple[str, ...]
    left_out: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Together:
    """The leading joint explanation, the next ones, and what surprises.

    `asked` are the faults in question; nothing leads if no reading is off normal, or where that is
    out of reach: `method` says which. `surprising` are
    readings past the limit; `outside` says how all readings stand among those of drawn instruments,
    or is empty.
    """

    method: str
    asked: tuple[str, ...]
    leading: Explanation | None
    others: tuple[OtherExplanation, ...]
    surprising: tuple[str, ...]
    outside: str


@dataclass(frozen=True, slots=True)
class Open:
    """A fault that is neither likely nor unlikely, and what would settle it."""

    name: str
    plain: str
    sure: str
    probability: float
    settled_by: str


@dataclass(frozen=True, slots=True)
class NextCheck:
    """A check still worth doing."""

    check: str
    minutes: float
    setup_minutes: float
    reason: str
    state: str  # the setup it is read in, if that is another than now
    condition: str  # `if bolt-on`: it makes sense only then
    trap: str
    cautions: tuple[int, ...]  # numbers of the safety notes that come before it


@dataclass(frozen=True, slots=True)
class Held:
    """Moves that are not to be made yet, or that a person has taken upon themselves."""

    moves: tuple[str, ...]
    because: tuple[str, ...]
    clear_with: str
    accepted: bool


@dataclass(frozen=True, slots=True)
class AcceptedMove:
    """Who goes on against a held-back move, and why."""

    fault: str
    by: str
    why: str
    at: str


@dataclass(frozen=True, slots=True)
class Hours:
    """Bench hours, low / likely / high."""

    low: float
    likely: float
    high: float


@dataclass(frozen=True, slots=True)
class BenchFigure:
    """A figure of the bench arithmetic in the base unit of its dimension.

    `text` says it in both systems of units with its standard uncertainty, and what makes most of
    it.
    """

    figure: str  # in the table of figures
    dimension: str
    value: float
    uncertainty: float
    text: str


@dataclass(frozen=True, slots=True)
class Share:
    """A cause, and how much lower a risk were if it were gone for good."""

    id: str  # of the fault
    name: str
    share: float


@dataclass(frozen=True, slots=True)
class Return:
    """A fault that a piece of work repairs, and how likely it is to come back by its causes.

    `chance` if this work and what it needs first is all that is done; `with_all` if all offered
    work is done that does not wait for a finding, None where that is no other plan. No date is
    claimed.
    """

    id: str  # of the fault
    name: str
    chance: float
    with_all: float | None
    causes: tuple[Share, ...]
    text: str


@dataclass(frozen=True, slots=True)
class Work:
    """A piece of work that is offered.

    `deals_with` names each fault with its probability and how well the work cures it; `reason` says
    so of work that is only there because other work needs it. `instead` are other offered ways to
    deal with the same fault. `if_found` marks work that is only done if the fault is found.
    `figures` say how much of it there is to do, where the readings allow it, and `figures_from`
    what they rest on.
    `access` says what must be opened for it, or what is open anyway; `asked_again` after it the
    player decides anew, with what it may bring to light.
    """

    id: str  # of the remedy
    name: str
    plain: str
    part: str
    if_found: bool
    reason: str
    deals_with: tuple[str, ...]
    figures: tuple[BenchFigure, ...]
    figures_from: str
    hours: Hours
    wait: str
    needs_first: tuple[str, ...]
    may_reveal: tuple[str, ...]
    may_leave: tuple[str, ...]
    returns: tuple[Return, ...]
    instead: tuple[str, ...]
    reversible: bool
    stop_point: bool
    access: tuple[str, ...]
    asked_again: str
    watch: tuple[str, ...]
    materials: tuple[str, ...]
    cautions: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Offer:
    """A stage of the work: what it buys, what it does not, and its pieces in working order.

    It holds with all stages before it. `insufficient` is the chance that a fault it is there for is
    still there after it, `leaves` what is then likely, `returns` what comes back while its causes
    stay. `hours` are those of its own work, what waits for a finding left out.
    """

    kind: OfferKind
    title: str
    promise: str
    works: tuple[Work, ...]
    hours: Hours
    takes: str  # the same in words
    insufficient: float | None
    says: str  # the same in words, or that it is out of reach
    leaves: tuple[str, ...]
    returns: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Plan:
    """The work in stages, with the honest way of doing nothing before it.

    `threshold` says from which probability on a fault gets work offered.
    """

    leave: tuple[str, ...]
    follows: tuple[str, ...]  # what comes of it if nothing is done
    offers: tuple[Offer, ...]
    watch: tuple[str, ...]  # what is kept in view instead of work, each with its day
    threshold: str
    without_work: tuple[str, ...]  # probable faults about which nothing is done, and why
    look_first: tuple[str, ...]  # likely by their starting chance alone: no work before a look
    terms: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class HoursLine:
    """A piece of work in the hours of an option.

    `adds` is what it adds to the mean: its own mean hours times its chance. `why` says why it may
    come up, for work that nobody has planned; it is empty for planned work.
    """

    name: str
    chance: float
    hours: Hours
    adds: float
    why: str


@dataclass(frozen=True, slots=True)
class Enough:
    """So many hours are enough for a `share` of such jobs, with their standard error."""

    share: float
    hours: float
    error: float


@dataclass(frozen=True, slots=True)
class MoneyLine:
    """A price in its lines, each amount with its currency; they add up to the total.

    `minimum` says that the shop's least charge is more than the hours come to.
    """

    label: str
    hours: str
    labour: str
    minimum: bool
    materials: str
    tax: str
    rounding: str
    total: str


@dataclass(frozen=True, slots=True)
class Money:
    """What an option comes to at the shop's rate.

    `currency` is a code of ISO 4217; `tax` the name of the tax line, or empty if there is none.
    """

    currency: str
    tax: str
    lines: tuple[MoneyLine, ...]
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class HoursOfWork:
    """The hours of one option as a distribution.

    `mean` and `sd` are exact; `enough` and the picture (`edges` and the `counts` between them) are
    simulated from `drawn` jobs. `said` are the sentences for the player, `because` names what makes
    the spread, `narrows` what would narrow it before a price is promised, `picture` says the
    picture in words.
    """

    id: str  # of the option
    title: str
    mean: float
    sd: float
    enough: tuple[Enough, ...]
    edges: tuple[float, ...]
    counts: tuple[int, ...]
    drawn: int
    said: tuple[str, ...]
    lines: tuple[HoursLine, ...]
    because: tuple[str, ...]
    narrows: tuple[str, ...]
    picture: str
    method: str
    money: Money | None  # None: no shop says what an hour costs


@dataclass(frozen=True, slots=True)
class PlainMeasured:
    """A measurement that speaks for a cause: what was measured, in a sentence, and its gauge."""

    check: str
    text: str
    gauge: Gauge


@dataclass(frozen=True, slots=True)
class PlainCause:
    """A probable cause in the player's words: where, what, how sure, and how it goes on.

    `measured` is what speaks most for it, None where that is no measurement, or told before.
    """

    id: str  # of the fault
    part: str
    plain: str
    sure: str
    probability: float
    goes_on: str
    measured: PlainMeasured | None


@dataclass(frozen=True, slots=True)
class PlainOpen:
    """What is not settled, in the player's words, and how it is found out."""

    plain: str
    sure: str
    probability: float
    found_out: str


@dataclass(frozen=True, slots=True)
class PlainWork:
    """A piece of work as it is told to the player; `remarks` are whole sentences."""

    plain: str
    if_found: bool
    stop_point: bool
    hours: Hours
    remarks: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PlainOffer:
    """A stage of the work: what it buys, and its pieces in working order."""

    title: str
    promise: str
    works: tuple[PlainWork, ...]


@dataclass(frozen=True, slots=True)
class PlainChanges:
    """What changed since an earlier visit, in the player's words.

    `since` names the two visits; `said` are whole sentences; `again` is when to look again.
    """

    since: str
    said: tuple[str, ...]
    again: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PlayersCopy:
    """What the player keeps after the first page, without a word that is not explained.

    `changes` is None on a first visit without work. `hours` are the sentences on the hours of the
    work, `money` what they come to if a shop says its rate; `keep` says how to look after it until
    then; `glossary` explains the words of the trade that the player's pages use, and no others.
    """

    wrong: tuple[PlainCause, ...]
    open: tuple[PlainOpen, ...]
    changes: PlainChanges | None
    leave: tuple[str, ...]
    offers: tuple[PlainOffer, ...]
    hours: tuple[str, ...]
    money: Money | None
    terms: tuple[str, ...]
    keep: tuple[str, ...]
    unseen: tuple[str, ...]
    glossary: tuple[Labelled, ...]
    notice: tuple[str, ...]

    @property
    def measured(self) -> bool:
        """Return whether a measurement is shown against its limits."""
        return any(cause.measured for cause in self.wrong)


@dataclass(frozen=True, slots=True)
class Compared:
    """One check in one setup on two visits, as it is said.

    `way` is `better`, `worse` or `same`; `change` is empty for an answer in words and within the
    gauge. Numbers are in the base unit of the quantity, None for an answer in words; the two gauges
    lay both readings against the same limits.
    """

    id: str  # of the check
    check: str
    setup: str
    before: str
    after: str
    change: str
    way: str
    outside: bool
    settling: str  # what settling makes of the change, or empty
    value_before: float | None
    value_after: float | None
    uncertainty: float | None  # of the change
    gauges: tuple[Gauge, Gauge] | None


@dataclass(frozen=True, slots=True)
class Rethought:
    """A fault as it stood on the earlier visit, and as it stands.

    `then`: by what was read so far; `known`: on that visit, by all that is known today; `now`: on
    the later visit. `overturned`: today's knowledge turns round what was thought then.
    """

    id: str  # of the fault
    name: str
    then: float | None
    known: float
    now: float
    overturned: bool
    text: str


@dataclass(frozen=True, slots=True)
class TrendLine:
    """Where a measurement is heading, in words, and the day of crossing with its interval."""

    id: str  # of the check
    text: str
    crosses: str  # ISO 8601, or empty
    earliest: str
    latest: str


@dataclass(frozen=True, slots=True)
class LookAgain:
    """Something on the watch list and the day of its next look."""

    due: str  # ISO 8601
    text: str
    done: str  # the day on which it was done, or empty


@dataclass(frozen=True, slots=True)
class Comparison:
    """Two visits side by side, what time is doing, and what is to be looked at again.

    `visits` are their numbers as people count, none on a first visit.
    """

    visits: tuple[int, int] | None
    title: str
    air: str
    readings: tuple[Compared, ...]
    not_compared: tuple[str, ...]
    faults: tuple[Rethought, ...]
    trends: tuple[TrendLine, ...]
    look_again: tuple[LookAgain, ...]
    method: str

    def by_way(self, way: str) -> tuple[Compared, ...]:
        """Return the readings that went one way."""
        return tuple(one for one in self.readings if one.way == way)

    @property
    def measured(self) -> bool:
        """Return whether two readings are laid against their limits."""
        return any(one.gauges for one in self.readings)

    @property
    def outside(self) -> tuple[str, ...]:
        """Return what is still outside its limits."""
        return tuple(f"{one.check} ({one.after})" for one in self.readings if one.outside)


@dataclass(frozen=True, slots=True)
class SafetyNote:
    """A hazard of the work or of a check, with its controls in working order."""

    number: int
    title: str
    text: str
    controls: tuple[str, ...]
    applies_to: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class SafetyStep:
    """A step of the work or a look in working order, after the notes that are read before it."""

    controls: tuple[Labelled, ...]  # number of a note, and its title
    step: str
    if_found: bool


@dataclass(frozen=True, slots=True)
class Safety:
    """All safety notes, the steps in working order, what must never meet, to whom this defers.

    `assumed` says what is not known and is taken as the worst that it could be.
    """

    assumed: tuple[str, ...]
    notes: tuple[SafetyNote, ...]
    steps: tuple[SafetyStep, ...]
    conflicts: tuple[str, ...]
    deference: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Source:
    """A source that something in this report rests on, and whether anybody has read it."""

    citation: str
    seen: str
    used_for: str


@dataclass(frozen=True, slots=True)
class Basis:
    """A value or a formula that the report uses, what marks it, and where it is from."""

    what: str
    value: str
    mark: str  # `published`, `published in part`, `rule of the trade`, `from memory`, `formula`
    rests_on: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Marked:
    """Entries of one kind that rest on the same: published, a rule of the trade, or memory."""

    entries: str  # `Checks`, `Causes`, `Work`, `Safety`
    mark: str
    names: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Appendix:
    """What the values and the rules of the report rest on, and how it can be made again."""

    values: tuple[Basis, ...]
    rules: tuple[Marked, ...]
    again: str


@dataclass(frozen=True, slots=True)
class PortraitMark:
    """A probable cause in the drawing of the instrument, by its number: those of page 1 come first.

    `where` is the part in the player's words; `unplaced` says why the drawing marks no place for
    it, or is empty.
    """

    number: int
    id: str  # of the fault
    part_id: str
    where: str
    plain: str
    sure: str
    unplaced: str


@dataclass(frozen=True, slots=True)
class Portrait:
    """The instrument as it is drawn from the front and from the side.

    `scale_length` in mm; `frets_clear` are the frets clear of the body; an empty `bracing` is not
    known. `taken` says what nobody wrote down and is drawn as usual, or left out.
    """

    strings: PortraitStrings
    bridge: PortraitBridge
    bracing: PortraitBracing
    head: Literal["solid", "slotted"]
    tuners: Literal["geared", "pegs"]
    guard: bool
    pickup: PortraitPickup
    plate: bool
    scale_length: float
    frets_clear: int
    marks: tuple[PortraitMark, ...]
    taken: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class NeckHeight:
    """A height in the side view of the neck: its letter there, what it is, and its value [mm].

    `short` stands in the picture; `text` says what was read, in both systems of units.
    """

    letter: str
    name: NeckHeightName
    value: float
    short: str
    text: str


@dataclass(frozen=True, slots=True)
class NeckLine:
    """What was read of neck, strings, bridge and top, from the nut to the tail.

    `remarks` say from where heights count, and what was not read and is not drawn.
    """

    strings: PortraitStrings
    scale_length: float  # mm
    frets_clear: int
    heights: tuple[NeckHeight, ...]
    remarks: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Report:
    """The whole report."""

    heading: Heading
    first_page: PlayersPage
    players_copy: PlayersCopy
    portrait: Portrait | None  # None: nothing to mark, or an instrument that nobody drew
    grades: tuple[PartGrade, ...]
    work_done: tuple[str, ...]
    findings: tuple[PartFindings, ...]
    confirmed: tuple[str, ...]
    photos: tuple[Photo, ...]  # in the order of the findings
    neck_line: NeckLine | None  # None: too few readings to draw it to scale
    cross_checks: CrossChecks | None  # None: too few readings to compare
    climate: tuple[ClimateChange, ...]
    comparison: Comparison | None  # None: a first visit without work
    causes: Causes
    together: Together
    open: tuple[Open, ...]
    next_checks: tuple[NextCheck, ...]
    enough: str  # that no further look is worth its minutes, or empty
    unlisted: str  # how many checks of less worth could follow, or empty
    held: tuple[Held, ...]
    accepted: tuple[AcceptedMove, ...]
    safety: Safety
    plan: Plan
    hours: HoursOfWork | None  # None: no work is offered
    not_looked_at: tuple[str, ...]
    sources: tuple[Source, ...]
    appendix: Appendix
    letterhead: Letterhead | None = None  # None: no shop says how its papers look
    conventions: Conventions = field(default_factory=Conventions)

    @property
    def measured(self) -> bool:
        """Return whether a reading is laid against limits."""
        return any(finding.gauge for part in self.findings for finding in part.findings)
