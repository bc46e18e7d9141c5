"""The kit list: everything for a set of jobs on one list to tick off, with what is short and what to order."""

from collections.abc import Sequence
from datetime import date
from decimal import Decimal

from docgen.club.words import Words, message
from docgen.plan.kit import Kit
from docgen.plan.needs import MaterialNeed, Use
from docgen.sheets.composition import desk_page
from docgen.sheets.figures import HARD, capital, day, figure, minutes
from docgen.sheets.page import Page
from docgen.sheets.signoff import FILE, SIDE

_NOTE = message("Tick what lies ready. Work on all of it, about {work}; the longest wait of one job, {wait}.")


def kit_list(kit: Kit, on: date, counted: date | None = None) -> Page:
    """The kit list of a set of jobs. Where no stock file is kept, what is on hand is left blank, to be counted."""
    club = kit.club
    w = Words.speaking(club.language)
    told = [job.instructions for job in kit.jobs]
    engines = list(dict.fromkeys(use.engine for use in kit.needs.uses))
    one = engines[0] if len(engines) == 1 else ""
    title = w("Kit for engine {engine}", engine=one) if one else w("Kit for {count} engines", count=len(engines))
    work, wait = (minutes(count, w) for count in kit.minutes)
    parts = sorted(kit.parts, key=lambda line: line.need.model)
    sure, hand = ([line for line in parts if bool(line.need.sure) is which] for which in (True, False))

    # In the order of the register, where like lies by like; what it does not hold comes last.
    places = {name: at for at, name in enumerate((*kit.club.tools, *kit.club.gauges))}
    tools = sorted(kit.needs.tools, key=lambda tool: places.get(tool.id, len(places)))

    def codes(uses: Sequence[Use]) -> str:
        return _codes(uses, kit.needs.uses, w)

    return desk_page(
        "kit", w("Kit list"), title, club, on, w, engine=one, left=FILE, right=SIDE, top=24.0, foot=18.0, first=9.0,
        number=40.0, about=title, identifier=f"KIT-{on.isoformat()}-{'-'.join(engines)}"[:100], kit=kit,
        note=w(_NOTE, work=work, wait=wait), sure=sure, hand=hand, codes=codes,
        jobs=[(engine, [job for job in told if job.engine == engine]) for engine in engines],
        titles={job.code: job.title for job in told}, amounts=lambda need: amounts(need, w),
        held=lambda held: "" if held is None else str(held) if isinstance(held, int) else figure(held, w),
        tools=[(capital(figure(tool.name, w)), codes(tool.uses)) for tool in tools],
        counted=w("shelf counted on {day}", day=day(counted, w)) if counted else "",
        money=lambda value: money(value, w),
    )  # fmt: skip


def money(value: Decimal | None, w: Words) -> str:
    """A sum with its cents; empty where none is known. In every language a blank parts thousands (ISO 80000-1).

    >>> [money(Decimal("1234.5"), Words.speaking(one)).replace(HARD, " ") for one in ("en", "de")]
    ['1 234.50', '1 234,50']
    """
    return "" if value is None else w.number(f"{value:,.2f}".replace(",", HARD))


def _codes(uses: Sequence[Use], everywhere: Sequence[Use], w: Words) -> str:
    """What a line is for, as short as it can be said: by code where it is for all engines that have such a job."""
    if len(uses) == len(everywhere) and len(uses) > 1:
        return w("every job")
    engines = {use.engine for use in everywhere}
    found: list[str] = []
    for code in dict.fromkeys(use.code for use in uses):
        mine = [use.engine for use in uses if use.code == code]
        all_of_code = [use.engine for use in everywhere if use.code == code]
        whole = mine == all_of_code or len(engines) == 1
        found.append(code if whole else f"{code}{HARD}{', '.join(mine)}")
    return "; ".join(found)


def amounts(need: MaterialNeed, w: Words) -> str:
    """The stated amounts, and whether there is more to it."""
    stated = ", ".join(figure(amount, w) for amount in need.amounts)
    if not stated:
        return w("as needed")
    return f"{stated} {w('and as needed')}" if need.unstated else stated
