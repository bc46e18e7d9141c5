"""The program's words in a job, and how a language writes figures; the sheets' own words build on them.

A field's value is English; with the field's name as its context it is a message of the gettext catalogue
(:mod:`docgen.club.catalogue`). ``{braces}`` stand for what is filled in. The catalogue is one: ``PlanWords``, ``Words``
and ``PageWords`` add to this class, each for its own layer.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field, fields
from functools import cached_property
from typing import TYPE_CHECKING, Self, cast

from docgen.club.catalogue import ENGLISH, catalogue

if TYPE_CHECKING:  # it loads the tables of a whole language, of which English needs nothing on a screen
    from babel import Locale

_CAPITAL_NOUNS = frozenset({"de", "lb"})
"""Languages that write every noun with a capital."""


def table(**words: str) -> dict[str, str]:
    """Words that are looked up by a name of the files, where a hyphen stands for the underscore."""
    return {name.replace("_", "-"): text for name, text in words.items()}


@dataclass(frozen=True, eq=False, repr=False)  # of a hundred words, each costs what a page of code does
class JobWords:
    """What a job says by itself, beside what procedures, models and registers say."""

    language: str = ENGLISH

    # Figures
    low_to_high: str = "{low} to {high} {unit}"
    go_no_go: str = "{go} passes, {stop} does not"
    at_most_of: str = "at most {value}"
    at_least_of: str = "at least {value}"
    turn: str = "turn"
    turns: str = "turns"
    ohm: str = "ohm"
    kilo_ohm: str = "kohm"
    a_minute: str = "rpm"

    # Lists and intervals
    and_last: str = "{first} and {last}"
    or_other: str = "{one} or {other}"
    every: str = "every {times}"
    every_first: str = "every {times}, whichever comes first"
    one_month: str = "month"
    many_months: str = "{count} months"
    one_meeting: str = "meeting"
    many_meetings: str = "{count} meetings"

    # What is chosen by a clearance
    choose_less: str = "old one + {clearance} - {wanted}, to the next {step}"
    choose_more: str = "old one - {clearance} + {wanted}, to the next {step}"

    # Where a figure comes from
    this_engine: str = "this engine"
    fastened: str = "fastened and seated"
    estimated: str = "estimate, not the maker's: {assumptions}; the {governs} governs"
    sides: dict[str, str] = field(
        default_factory=lambda: {"screw": "screw", "boss": "boss", "screw thread": "screw thread"}
    )

    # Tools and fasteners
    drive_tools: dict[str, str] = field(
        default_factory=lambda: table(
            hex="{size} socket",
            hex_socket="{size} hexagon key",
            square="{size} square key",
            hexalobular="hexalobular driver, size {size}",
            cross="cross-recess driver, size {size}",
            plug="{size} plug socket",
            slot="flat-blade driver",
            hand="by hand",
        )
    )
    drive_sizes: dict[str, str] = field(
        default_factory=lambda: table(
            hex="hex {size}",
            hex_socket="hex-socket {size}",
            square="square {size}",
            hexalobular="hexalobular {size}",
            cross="cross {size}",
            plug="plug {size}",
            slot="slot",
            hand="hand",
        )
    )
    left_hand: str = "left-hand thread"

    # Checks
    renew_the: str = "Renew the {parts}."
    less: str = "{larger} less {smaller}"
    average_of: str = "average of {names}"
    spread_of: str = "largest less smallest of {names}"
    waiting: str = "waiting"
    cures: str = "{locker} cures"
    visit_of: str = "One visit: {jobs}"
    visit_all: str = "All jobs"
    visit_but: str = "All but {jobs}"
    none_found: str = "none"
    then_due: str = "Write it under findings. It calls for the job {job}."
    not_good_in: str = "{check}: not good ({job}, row {step})"
    outside_in: str = "{reading}, {figures}: outside {limit} ({job}, row {step})"
    calls_for: str = "{procedure}: what was found calls for {called}"

    # Deviations
    thread_now: str = "thread {thread}"
    thread_instead: str = "thread {thread} instead of {old}"
    insert_now: str = "thread insert {length} long in {thread}"
    drive_now: str = "drive {drive}"
    tighten_now: str = "tighten {value}"
    no_figure: str = "______ (no figure is known)"
    estimate_governs: str = "{value} (estimate, not the maker's; the {governs} governs)"
    voids_thread: str = "The maker's torque, driver and source for the old thread no longer hold."
    voids_insert: str = "The maker's torque was given for the thread without an insert and no longer holds."
    figures_now: dict[str, str] = field(
        default_factory=lambda: table(new="new {value}", allow="allow {value}", start="start {value}")
    )
    part_now: str = "part {number}"

    # The record
    since_record_began: str = "{hours} since the record began"
    done_at: str = "{day} at {hours}"
    to_limit: str = "{margin} to the limit"
    past_limit: str = "{margin} past the limit"
    left_about: str = "{margin}: about {left} h left ({low} to {high})"
    went_back: str = "{margin}; a reading went back: measure twice"
    no_trend: str = "{margin}; no trend yet"
    changed_here: str = "changed here since it came from {club}: {files}"
    the_job: str = "the job"
    at_step: str = "{file} (step {steps})"
    at_steps: str = "{file} (steps {steps})"

    # What the trade's formulas say (docgen.job.tradewords)
    trade: dict[str, str] = field(
        default_factory=lambda: table(
            cannot_decide="a gauge of {gauge} cannot decide {limits}",
            finer="measure with a finer gauge",
            takes_share="the gauge's {gauge} takes {share} % of {limits}",
            cannot_show="a gauge cannot show steps of {step}",
            size_class="{thread}, class {grade}",
            friction="{state}: friction {low} to {high} in thread and under head",
            face="bearing face {face} mm on a {hole} mm hole ({seat})",
            full_nut="full nut of the screw's own class",
            engaged="{length} mm of {thread} engaged in {material}, shear strength {strength} MPa",
            insert="insert for {thread} in {material}, shear strength {strength} MPa",
            dry="as delivered, no lubricant added",
            oiled="oiled or greased",
            oiled_only="oiled",
            threadlocker="liquid threadlocker",
            paste="paste with solid lubricant",
            aluminium="{alloy} (aluminium)",
            magnesium="{alloy} (magnesium)",
            hexagon_seat="hexagon head or nut, {thread}",
            cap_seat="socket cap head, {thread}",
            margin="margin of {margin} against stripping",
            both="{one} and {other}",
        )
    )

    @classmethod
    def speaking(cls, language: str) -> Self:
        """The words in a language; English for those that its catalogue lacks (a test keeps the shipped ones whole).

        Errors: FileNotFoundError for a language without a catalogue.

        >>> JobWords.speaking("de").less.format(larger="Bohrung", smaller="Kolben")
        'Bohrung minus Kolben'
        """
        known = _SPOKEN.get((cls, language))
        if known is None:
            found = catalogue(language)
            known = cls.through(lambda context, text: found.get((context, text), text), language)
            _SPOKEN[cls, language] = known
        return cast(Self, known)

    @classmethod
    def through(cls, translate: Callable[[str, str], str], language: str = ENGLISH) -> Self:
        """The words with each passed through a translation, which gets its context and its English."""
        english = cls()
        values: dict[str, object] = {}
        for one in fields(cls):
            value = getattr(english, one.name)
            if isinstance(value, dict):
                values[one.name] = {key: translate(f"{one.name}.{key}", text) for key, text in value.items()}
            elif one.name != "language":
                values[one.name] = translate(one.name, value)
        return cls(**{**values, "language": language})  # type: ignore[arg-type]

    @classmethod
    def messages(cls) -> Iterator[tuple[str, str]]:
        """Every word with its context, as the catalogue holds them."""
        found: list[tuple[str, str]] = []

        def keep(context: str, text: str) -> str:
            found.append((context, text))
            return text

        cls.through(keep)
        return iter(found)

    @cached_property
    def locale(self) -> Locale:
        """The conventions of the language; English as in Britain, day before month."""
        from babel import Locale

        return Locale.parse("en_GB" if self.language == ENGLISH else self.language.replace("-", "_"))

    @cached_property
    def decimal_sign(self) -> str:
        """What parts whole and decimal figures."""
        if self.language == ENGLISH:
            return "."
        from babel.numbers import get_decimal_symbol

        return get_decimal_symbol(self.locale)

    def number(self, value: object) -> str:
        """A figure with the language's decimal sign, to as many places as it is written with.

        >>> JobWords().number("0.50"), JobWords.speaking("de").number("0.50")
        ('0.50', '0,50')
        """
        return str(value).replace(".", self.decimal_sign)

    @property
    def capital_nouns(self) -> bool:
        """Whether a noun keeps its capital inside a sentence."""
        return self.language.partition("-")[0] in _CAPITAL_NOUNS


_SPOKEN: dict[tuple[type[JobWords], str], JobWords] = {}
"""What was put together before; it is asked for at every figure."""
