"""A signed sheet put into the record: shown as it was understood, asked about, written; by whoever is there to ask."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Literal

from docgen.club.folder import Folder
from docgen.club.log import Held
from docgen.club.problem import visible
from docgen.club.schema.event import Service
from docgen.club.store import StoreError
from docgen.desk.asking import Asks, settled, tell
from docgen.desk.choosing import sound
from docgen.desk.filing import Paper, looked, not_written, stays_open, understood, waiting, write
from docgen.desk.inbox import Given, sheet_in, unclear_ticks
from docgen.returns.diagnostic import Refused, Said
from docgen.returns.identity import IssuedSheet
from docgen.returns.parts import OfPart, parts
from docgen.returns.reading import Understood
from docgen.returns.refiling import taken_away
from docgen.returns.report import report_lines, said_lines

State = Literal["filed", "corrected", "already filed", "not filed"]
_ORDER: tuple[State, ...] = ("not filed", "corrected", "filed", "already filed")
"""Of the jobs of a visit, whose state counts for the sheet."""
TAKE_AWAY = "take away"


@dataclass(frozen=True)
class Settled:
    """What became of one sheet. still_open: the box of the first job of a visit that is not complete."""

    state: State
    sheet: str = ""
    engine: str = ""
    said: tuple[Said, ...] = ()
    event: str = ""
    still_open: str = ""


@dataclass(frozen=True)
class Clerk:
    """Files sheets on a day, as they were read.

    correct : why a sheet that was filed before is filed again
    also    : what the paper itself, before its boxes are read, gives cause to say
    """

    who: Asks
    folder: Folder
    today: date
    correct: str = ""
    also: tuple[Said, ...] = ()

    def settle(self, sheet: IssuedSheet, answers: Mapping[str, str], papers: Sequence[Paper] = ()) -> Settled:
        """Show a sheet, ask what must be asked, and file it; says what it did. Errors: Faulty, StoreError, OSError.

        Of the sheet of a visit each complete job is filed by itself, one after the other; where one is not filed, those
        behind it wait, since what is written once for all goes with the first.
        """
        sound(self.folder, sheet.number.engine)
        try:
            found, still_open = parts(sheet, answers)
        except Refused as refused:
            return self.refusal(refused)
        every: list[Settled] = []
        for one in found:
            every.append(self._settle(one, papers))
            if every[-1].state == "not filed":
                if behind := waiting(found[len(every) :]):
                    self.who.say(behind)
                break
        for part in still_open:
            self.who.say(stays_open(part))
        said = tuple(said for one in every for said in one.said)
        state = min((one.state for one in every), key=_ORDER.index)
        event = ", ".join(one.event for one in every if one.event)
        box = next((part.box for part in still_open), "")
        return replace(every[0], state=state, said=said, event=event, still_open=box)

    def refusal(self, why: Refused | StoreError | OSError) -> Settled:
        """Say why a paper is no sheet that can be filed, or why it could not be kept."""
        said = why.said if isinstance(why, Refused) else not_written(why)
        self.who.say("\n".join((*said_lines((said,)), "Not filed.")))
        return Settled("not filed", said=(said,))

    def file_paper(self, one: Given, engine: str = "", issue: str = "") -> Settled | None:
        """File one PDF; None for one that only lies in a folder and is no filled sign-off sheet.

        engine : whose sheet it must be, where that is said
        issue  : the first digits of the print, where two bear its number
        """
        name = f"\n{visible(str(one.path))}"
        try:
            sheet = sheet_in(self.folder, one, engine, issue)
            if sheet is None or one.paper is None:
                return None
            self.who.say(name)
        except Refused as refused:
            self.who.say(name)
            return self.refusal(refused)
        try:
            clerk = replace(self, also=unclear_ticks(one.paper))
            return clerk.settle(sheet, one.paper.form.fields, (Paper(one.data),))
        except (StoreError, OSError) as error:
            return self.refusal(error)

    def _settle(self, part: OfPart, papers: Sequence[Paper]) -> Settled:
        who, sheet = self.who, part.sheet
        look = looked(self.folder, part, self.today, self.also)
        one, held = look.one, look.held
        as_it_is = Settled("not filed", sheet.text, sheet.number.engine, one.said)
        if held and look.already:
            who.say(look.already)
            return replace(as_it_is, state="already filed", event=held.entry.file)
        who.say("\n".join((*report_lines(one), *said_lines(one.said))))
        against = ""
        if one.refused:
            against = "Not filed: put right what is refused above, then file it again."
        elif held is not None and not self.correct:
            against = f'{look.differs}\n  To put it in the place of the first: --correct "WHY"'
        elif not settled(who, one.doubts, "file it as it stands?") or (held and not self._given_up(held, one)):
            against = "Not filed."
        else:
            if one.event.get("findings") and not who.quiet:
                one = understood(self.folder, part, self.today, self.also, self._closed(one, held))
            if not who.quiet and not who.asked(f"Write this into the record of engine {sheet.number.engine}?"):
                against = "Not filed."
        if against:
            who.say(against)
            return as_it_is
        before = held.entry if held else None
        filed = write(self.folder.root, one, papers, self.today, before, self.correct)
        tell(who, self.folder.root, [filed])
        state: State = "already filed" if not filed.new else "filed" if before is None else "corrected"
        return replace(as_it_is, state=state, said=one.said, event=filed.path.name)

    def _given_up(self, held: Held, one: Understood) -> bool:
        """Whether nothing is lost that was filed before, or somebody says in a word of its own that it is to be."""
        who, lost = self.who, taken_away(held, one.event)
        if not lost:
            return True
        who.say("\n".join(("This takes out of the record what was filed:", *(f"  {row}" for row in lost))))
        if "takes-away" in who.accepted:
            return True
        if who.quiet:
            who.say("  --yes does not take anything out; --accept takes-away does.")
            return False
        typed = who.typed(f"Type  {TAKE_AWAY}  to have it so; Enter to leave all as it is", "")
        return typed.strip().casefold() == TAKE_AWAY

    def _closed(self, one: Understood, held: Held | None) -> frozenset[int]:
        """Which of the findings need nothing more; of a sheet filed before, those that needed nothing then."""
        findings = one.event["findings"]
        if held is not None and isinstance(held.event, Service):
            before = {*held.event.findings, *held.event.remarks}
            if all(text in before for text in findings):
                return frozenset(n for n, text in enumerate(findings, 1) if text in held.event.remarks)
        count = len(findings)
        while True:
            typed = self.who.typed("Which findings need nothing more? Their numbers; Enter for none", "")
            numbers = typed.replace(",", " ").split()
            if all(number.isdecimal() and 1 <= int(number) <= count for number in numbers):
                return frozenset(map(int, numbers))
            there = "There is one: type 1." if count == 1 else f"There are {count}: type their numbers, as in 1 2."
            self.who.say(f"  {there}")
