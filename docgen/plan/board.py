"""The due board: every engine with every interval and every limited life, what comes first first."""

from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from docgen.club.folder import Folder
from docgen.club.schema.club import Round
from docgen.job.state import state_of
from docgen.plan.due import DueLine, due_list
from docgen.plan.reasons import IN_DATE, STATES, Reason, Scale
from docgen.plan.season import coming_rounds


@dataclass(frozen=True)
class Bar:
    """One interval or one part's life.

    code  : the job that sees to it; empty where none does
    part  : the part whose life it is; empty for the job's own interval
    first : which of the coming rounds it must be seen to before, from 1; None where the season has none for it
    """

    code: str
    part: str
    state: str
    scale: Scale
    first: int | None
    share: float


@dataclass(frozen=True)
class EngineBars:
    """One engine's part of the board.

    unrecorded : codes of the jobs that its record does not hold at all
    notes      : what is due for another reason, wear or a finding, in words
    """

    engine: str
    model: str
    keeper: str
    hours: Fraction
    state: str
    bars: tuple[Bar, ...]
    unrecorded: tuple[str, ...]
    notes: tuple[str, ...]
    hours_known: bool = True


@dataclass(frozen=True)
class Board:
    """All engines on a day, the most pressing first, with the rounds that are still to come."""

    on: date
    rounds: tuple[Round, ...]
    engines: tuple[EngineBars, ...]
    titles: dict[str, str]

    @property
    def bars(self) -> int:
        """How many bars there are."""
        return sum(len(one.bars) for one in self.engines)


def board(folder: Folder, on: date) -> Board:
    """The board on the day `on`.

    Of a job's interval, counted in hours, months or meetings, the one that runs out first is its bar; each part's life
    has a bar of its own. The folder holds the club.
    """
    rounds = tuple(coming_rounds(folder.club.value, on))
    lines: dict[str, list[DueLine]] = {}
    for line in due_list(folder, on):
        lines.setdefault(line.engine, []).append(line)
    engines = [
        _engine(folder, number, lines.get(number, []), rounds, on)
        for number, record in folder.engines.items()
        if record.engine.model in folder.models
    ]
    titles = {line.code: line.title for one in lines.values() for line in one if line.code}
    return Board(on, rounds, tuple(sorted(engines, key=_engine_order)), dict(sorted(titles.items())))


def _engine(folder: Folder, number: str, lines: list[DueLine], rounds: tuple[Round, ...], on: date) -> EngineBars:
    record = folder.engines[number]
    state = state_of(record, on)
    bars: list[Bar] = []
    unrecorded, notes = [], []
    for line in lines:
        scaled = [(one, one.scale) for one in line.every if one.scale is not None]
        own = [(reason, scale) for reason, scale in scaled if not scale.part]
        if own and own[0][1].used is None:
            unrecorded.append(line.code)
        else:
            bars += [_bar(line, reason, scale, rounds) for reason, scale in own[:1]]
        bars += [_bar(line, reason, scale, rounds) for reason, scale in scaled if scale.part]
        notes += [one.text for one in line.every if one.scale is None and one.state != IN_DATE]
    return EngineBars(
        engine=number,
        model=folder.models[record.engine.model].value.title,
        keeper=state.keeper,
        hours=state.hours,
        state=min((line.state for line in lines), key=STATES.index, default=IN_DATE),
        bars=tuple(sorted(bars, key=_order)),
        unrecorded=tuple(unrecorded),
        notes=tuple(notes),
        hours_known=state.hours_known,
    )


def _bar(line: DueLine, reason: Reason, scale: Scale, rounds: tuple[Round, ...]) -> Bar:
    first = rounds.index(reason.before) + 1 if reason.before in rounds else None
    return Bar(line.code, scale.part, reason.state, scale, first, reason.share)


def _order(bar: Bar) -> tuple[int, int, float, str, str]:
    """What comes first: by state, then by round, then by what is used up."""
    return STATES.index(bar.state), bar.first or 1000, -bar.share, bar.code, bar.part


def _engine_order(one: EngineBars) -> tuple[int, list[tuple[int, int, float, str, str]], str]:
    """By the engine's state, then by its bars in their order."""
    return STATES.index(one.state), [_order(bar) for bar in one.bars], one.engine
