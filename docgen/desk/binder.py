"""Everything for one engine, or for a day's work on several, in one file for the printer."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from pathlib import Path

from docgen.club.folder import Folder
from docgen.club.placement import lay
from docgen.club.problem import counted, listing
from docgen.club.sidefiles import read_stock
from docgen.club.store import StoreError
from docgen.club.words import Words
from docgen.desk.choosing import Unprinted
from docgen.desk.mat import Maker, laid_down
from docgen.desk.pages import Laid, with_place
from docgen.desk.pressing import ready
from docgen.desk.selection import Say, Wanted
from docgen.job.issue import before_issue, issue, number_of
from docgen.job.job import Job
from docgen.job.number import LEAF, SIGNOFF, SheetNumber
from docgen.plan.kit import kit_of
from docgen.plan.laydown import Laydown, without_size
from docgen.plan.standing import standing
from docgen.press.binding import Section, Unfit, bind
from docgen.press.meta import Order, Pressed, PressError
from docgen.press.orders import order, plain_order
from docgen.sheets.binder import BLANK_SIDE, BinderSheet, Where, blank_side, contents
from docgen.sheets.card import card
from docgen.sheets.kitlist import kit_list
from docgen.sheets.leaf import leaf
from docgen.sheets.mat import MAT
from docgen.sheets.matpage import HOLDS_EVERY_PRINT
from docgen.sheets.page import Page
from docgen.sheets.signoff import signoff


@dataclass
class Binder:
    """Everything for one engine, or for a day's work on several, as one file.

    say      : told of each sheet that is left out, and why
    mats     : how mats are made; None where they are left out
    left_out : whether anything was
    """

    folder: Folder
    on: date
    out: Path
    say: Say
    mats: Maker | None = None
    left_out: bool = field(default=False, init=False)

    def bind(self, wanted: Sequence[Wanted], *, unproofed: bool = False) -> tuple[list[BinderSheet], Laid]:
        """Bind the sheets of jobs, number those of which a sheet is bound, and lay the file in its place.

        unproofed : although proofing finds faults, which are said; else such a job is left out
        Errors: Unprinted where nothing is left; StoreError ``number-taken``; OSError.
        """
        if not unproofed:
            wanted = [want for want in wanted if not self._faulty(want)]
        elif faults := sorted({fault for want in wanted for fault in want.faults}):
            self.say(listing(faults))
        laid = self._laid(wanted)
        if not wanted:
            raise Unprinted(())
        numbers = list(dict.fromkeys(want.record.engine.engine for want in wanted))
        one = numbers[0] if len(numbers) == 1 else ""
        ready(self.out / one)
        issued = self.folder.root / "engines"
        made = [
            before_issue(issued / want.record.engine.engine / "issued", want.job(self.folder, self.on))[0]
            for want in wanted
        ]
        sheets, bound = self._bind(list(self._sections(made, laid, one)), one)
        self._give_numbers(made, sheets)
        where = self.out / one / (f"{one}-binder.pdf" if one else "binder.pdf")
        return sheets, Laid("binder", where, bound.pages, lay(where, bound.pdf))

    def _leave_out(self, what: str, why: str) -> None:
        self.left_out = True
        self.say(f"Left out: {what}: {why}")

    def _faulty(self, want: Wanted) -> bool:
        """Whether proofing finds faults in a job; then it is left out."""
        if want.faults:
            engine, code = want.record.engine.engine, want.procedure.value.code
            found = counted(len(want.faults), "fault")
            self._leave_out(want.name, f"proofing finds {found}; docgen print {engine} --job {code} names them")
        return bool(want.faults)

    def _laid(self, wanted: Sequence[Wanted]) -> dict[tuple[str, str], Laydown]:
        """What comes off in each job; without those in which the size of a piece is not stated."""
        found = {}
        for want in wanted if self.mats is not None else ():
            laid = laid_down(self.folder, want, self.on)
            engine, code = want.record.engine.engine, want.procedure.value.code
            if nameless := without_size(self.folder, want.record.engine.model, laid):
                sizes = counted(len(nameless), "piece")
                names = f"docgen mat {engine} --job {code} names them"
                self._leave_out(f"{want.name} mat", f"no size is stated of {sizes}; {names}")
            elif laid.pieces:
                found[engine, code] = laid
        return found

    def _sections(
        self, jobs: Sequence[Job], laid: dict[tuple[str, str], Laydown], one: str
    ) -> Iterator[tuple[BinderSheet, Section]]:
        """Every sheet in its order, with how the contents name it."""
        folder, on, club = self.folder, self.on, self.folder.club.value
        w = Words.speaking(club.language)

        def plain(kind: str, title: str, page: Page) -> tuple[BinderSheet, Section]:
            made = plain_order(kind, page, club.club, on, ())
            return BinderSheet(one, kind, title, ""), Section(f"{kind}: {title}", f"{kind} ", made)

        if one:
            state = standing(folder, folder.engines[one], on)
            yield plain(w("Engine card"), state.figures.model.title, card(state, club))
        stock, problems = read_stock(folder)
        if problems:
            self._leave_out("kit list", f"stock.yaml has {counted(len(problems), 'fault')}; docgen kit names them")
        else:
            kit = kit_of(jobs, club.model_copy(update={"currency": None}), stock.value if stock else None)
            codes = ", ".join(dict.fromkeys(job.instructions.code for job in jobs))
            yield plain(w("Kit list"), codes, kit_list(kit, on, stock.value.counted if stock else None))
        for job in jobs:
            told = job.instructions
            number = SheetNumber(told.engine, told.code, told.revision, job.print)
            for kind, page, letter in (
                (w("Bench leaf"), leaf(job, club), LEAF),
                (w("Sign-off sheet"), signoff(job, club), SIGNOFF),
            ):
                made = order(kind, page, job, club.club)
                made = made if letter == SIGNOFF else replace(made, attachments=())
                this = replace(number, sheet=letter)
                sheet = BinderSheet(told.engine, kind, f"{told.code} {told.title}", this.text)
                yield sheet, Section(f"{told.engine} {told.code} {kind}", this.body.removesuffix("1"), made)
            if self.mats is not None and (found := laid.get((told.engine, told.code))) is not None:
                this = replace(number, sheet=MAT, print=HOLDS_EVERY_PRINT)
                kind = w("Layout mat")
                made = plain_order(kind, self.mats(found, told)[0], club.club, on, ())
                sheet = BinderSheet(told.engine, kind, f"{told.code} {told.title}", this.text)
                yield sheet, Section(f"{told.engine} {told.code} {kind}", this.body.removesuffix("1"), made)

    def _give_numbers(self, jobs: Sequence[Job], sheets: Sequence[BinderSheet]) -> None:
        """Give each job of which a sheet is bound its number. Errors: StoreError ``number-taken``."""
        bound = {sheet.number for sheet in sheets}
        for job in jobs:
            told, number = job.instructions, number_of(job)
            if bound.isdisjoint(replace(number, sheet=letter).text for letter in (LEAF, SIGNOFF)):
                continue
            if issue(self.folder.root / "engines" / told.engine / "issued", job).print != job.print:
                message = f"{told.engine} {told.code} was printed by somebody else meanwhile: nothing was printed"
                raise StoreError("number-taken", message, "give the same command again")

    def _bind(self, found: Sequence[tuple[BinderSheet, Section]], one: str) -> tuple[list[BinderSheet], Pressed]:
        """Bind the sheets, and say which; those that do not fit their paper are left out."""
        root, on, club = self.folder.root, self.on, self.folder.club.value
        w = Words.speaking(club.language)
        keywords = ("binder", *([one] if one else []))
        sheets = [sheet for sheet, _ in found]

        def named(starts: Sequence[Where]) -> Order:
            return plain_order(w("Contents"), contents(sheets, starts, one, club, on), club.club, on, keywords)

        def blank(size: tuple[float, float]) -> Order:
            return plain_order(w(BLANK_SIDE), blank_side(size, club), club.club, on, ())

        try:
            made = bind([section for _, section in found], named, blank)
        except Unfit as error:
            for n, faults in error.found.items():
                more = f", and {len(faults) - 1} more" if len(faults) > 1 else ""
                self._leave_out(found[n][1].title, with_place(root, f"{faults[0]}{more}"))
            kept = [pair for n, pair in enumerate(found) if n not in error.found]
            if not kept:
                raise Unprinted(()) from None
            return self._bind(kept, one)
        except PressError as error:
            raise Unprinted(with_place(root, fault) for fault in error.faults) from None
        return sheets, made
