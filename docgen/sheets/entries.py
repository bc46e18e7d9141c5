"""The sign-off sheet's tables, made from a job: one row for everything that somebody must sign for.

The "void" box of a row comes first and its initials last, so that no flourish reaches a column of ticks.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from typing import TypeVar

from docgen.job import marks as m
from docgen.job.job import Check, Issue, Job, JobStep
from docgen.sheets.figures import drive, figure
from docgen.sheets.parts import capital, counted
from docgen.sheets.tables import Column, Entry, Field, Table, Told
from docgen.sheets.words import Words

M = TypeVar("M", bound=m.Frozen)


def told_value(value: m.Value, words: Words, *notes: str) -> Told:
    """A value with where it came from, when that is not the maker."""
    if value.blank:
        return Told(notes=(figure(value.note, words) or words.see_manual,))
    tag = {"deviation": words.this_engine, "computed": words.estimate, "club": words.club_figure}.get(value.origin, "")
    more = (figure(value.note, words),) if value.note and value.note != "maker" else ()
    bold = any(c.isdigit() for c in value.text)
    return Told(capital(figure(value.text, words)), (*notes, *more), bold=bold, tag=tag, own=value.origin == "deviation")


def keyed(steps: tuple[JobStep, ...]) -> Iterator[tuple[JobStep, m.Mark, str]]:
    """Each mark with the key of its fields: its own, and from its second time on with -2, -3 behind it.

    A part that a job fits twice has two rows; a part that several checks may call for has one, at the first of them.
    """
    seen: Counter[str] = Counter()
    for step in steps:
        for mark in step.marks:
            key = getattr(mark, "key", "")
            if not key:
                continue
            seen[key] += 1
            if seen[key] > 1:
                if isinstance(mark, m.RenewMark) and mark.if_needed:
                    continue
                key = f"{key}-{seen[key]}"
            yield step, mark.model_copy(update={"key": key}), key


class Entries:
    """Makes the tables of one job; each property that has nothing to list gives None."""

    def __init__(self, job: Job, words: Words) -> None:
        self.told, self.issue, self.w = job.instructions, job.issue, words
        self.void, self.step = Column(words.void, 9, True), Column(words.step, 10)
        self.initials = Column(words.initials, 14)

    def tables(self) -> tuple[Table, ...]:
        """All tables over the full width that have rows, in the order of the sheet."""
        made = (self.findings_open(), self.settings(), self.torques(), self.readings(), self.checked(), self.holds(),
                self.waits(), self.renewed(), self.seals())
        return tuple(table for table in made if table.rows)

    def _marks(self, kind: type[M]) -> Iterator[tuple[JobStep, M]]:
        for step, mark, _ in keyed(self.told.steps):
            if isinstance(mark, kind):
                yield step, mark

    def _no(self, step: JobStep) -> Told:
        return Told(str(step.number))

    def _initials(self, key: str, name: str) -> Field:
        return Field(f"{key}_initials", f"{self.w.initials}: {name}")

    def _void(self, key: str, name: str) -> Field:
        return Field(f"{key}_void", f"{self.w.void}: {name}", "checkbox")

    def findings_open(self) -> Table:
        """Findings that the log still holds open."""
        w = self.w
        rows = tuple(
            (Told(text), Field(f"open-finding-{n}_done", f"{w.dealt_with}: {text}", "checkbox"),
             Field(f"open-finding-{n}_how", f"{w.how}: {text}"))
            for n, text in enumerate(self.issue.open_findings, 1)
        )
        return Table("open-findings", w.open_findings, (Column(w.finding, 80), Column(w.dealt_with, 18, True),
                                                        Column(w.how, 84)), rows)

    def settings(self) -> Table:
        """Settings as found and as left, one row each, wherever the steps note them."""
        w = self.w
        first: dict[str, tuple[JobStep, m.SettingMark]] = {}
        keys: dict[tuple[str, str], str] = {}
        for step, mark in self._marks(m.SettingMark):
            first.setdefault(mark.setting, (step, mark))
            keys[mark.setting, mark.when] = mark.key
        rows: list[tuple[Entry, ...]] = []
        for setting, (step, mark) in first.items():
            notes = [mark.datum] if mark.datum else []
            notes += [f"{w.ceiling} {figure(mark.ceiling, w)}"] if mark.ceiling else []
            boxes: list[Entry] = []
            for when, word in (("found", w.found), ("left", w.left)):
                key = keys.get((setting, when))
                unit = figure(mark.unit, w)
                if key is None:
                    boxes.append(Told())
                    continue
                more = tuple(Field(f"{key}_note-{n}", f"{mark.name}: {text}, {word}", label=text)
                             for n, text in enumerate(mark.note_also, 1))
                boxes.append((Field(key, f"{mark.name}: {word}", unit=unit), *more))
            rows.append((self._void(mark.key, mark.name), self._no(step), Told(capital(mark.name), tuple(notes), bold=True),
                         told_value(mark.start, w), Told(figure(self.issue.last_settings.get(setting, ""), w)), *boxes,
                         self._initials(mark.key, mark.name)))
        return Table("settings", w.settings, (
            self.void, self.step, Column(w.setting, 38), Column(w.start_value, 31), Column(w.last, 22),
            Column(w.found, 27), Column(w.left, 27), self.initials), tuple(rows))

    def torques(self) -> Table:
        """Each critical fastener."""
        w = self.w
        rows: list[tuple[Entry, ...]] = []
        for step, mark in self._marks(m.TorqueMark):
            if not mark.critical:
                continue
            name = counted(mark.name, mark.count)
            told = " · ".join(filter(None, (figure(mark.thread, w), drive(mark.drive, w) if mark.drive else "")))
            value: Entry = told_value(mark.value, w, *(figure(text, w) for text in mark.also))
            if mark.value.blank:
                value = Field(f"{mark.key}_value", f"{w.torque}: {name}, {w.see_manual}", label=w.see_manual)
            condition = w.lubrications.get(mark.lubrication, mark.lubrication)
            rows.append((self._void(mark.key, name), self._no(step), Told(name, (told,) if told else (), bold=True), value,
                         Field(f"{mark.key}_{mark.lubrication}", f"{condition}: {name}", "checkbox",
                               label=mark.locker or condition),
                         Told() if mark.by_feel else Field(f"{mark.key}_paint", f"{w.paint_mark}: {name}", "checkbox"),
                         Field(f"{mark.key}_wrench", f"{w.wrench_used}: {name}"), self._initials(mark.key, name)))
        return Table("torques", w.torques, (
            self.void, self.step, Column(w.fastener, 42), Column(w.torque, 34), Column(w.thread_was, 30),
            Column(w.paint_mark, 12, True), Column(w.wrench_used, 24), self.initials), tuple(rows), w.torques_note)

    def readings(self) -> Table:
        """Each reading, with what was read before and what is allowed."""
        w = self.w
        rows: list[tuple[Entry, ...]] = []
        for step, mark in self._marks(m.ReadingMark):
            notes = [w.kinds.get(mark.kind, mark.kind)] if mark.kind else []
            notes += [f"{w.derived} {mark.derived}"] if mark.derived else []
            notes += [figure(mark.gauge, w)] if mark.gauge else []
            past = self.issue.last_readings.get(mark.limit, ())
            last = tuple(f"{figure(one.text, w)} {w.at_hours} {figure(one.hours, w)}" for one in past[:2])
            wear = self.issue.wear.get(mark.limit, "")
            allow = told_value(mark.allow, w)
            new = (f"{w.new_range.lower()} {figure(mark.new.text, w)}",) if mark.new and not mark.new.blank else ()
            limit = Told(allow.text, (*allow.notes, *new), bold=not mark.accept, tag=allow.tag, own=allow.own)
            accept = Told(figure(mark.accept, w), (f"{w.undecided} {figure(mark.undecided, w)}",) if mark.undecided else (),
                          bold=True)
            boxes = tuple(
                Field(f"{mark.key}_{n}" if mark.positions else mark.key, f"{mark.name}{f', {place}' if place else ''}, {mark.unit}",
                      unit=figure(mark.unit, w), label=place)
                for n, place in enumerate(mark.positions or ("",), 1)
            )
            rows.append((self._void(mark.key, mark.name), self._no(step),
                         Told(capital(mark.name), tuple(notes), bold=True),
                         Told("", (*last, *((figure(wear, w),) if wear else ()))), limit, accept, boxes,
                         self._initials(mark.key, mark.name)))
        return Table("readings", w.readings, (
            self.void, self.step, Column(w.reading, 36), Column(w.last, 25), Column(w.limit, 31), Column(w.accept, 31),
            Column(w.reading, 27), self.initials), tuple(rows))

    def checked(self) -> Table:
        """What was looked at, and which way round parts went in, in the order of the steps."""
        w = self.w
        rows: list[tuple[Entry, ...]] = []
        for step, mark, key in keyed(self.told.steps):
            if isinstance(mark, m.OrientationMark):
                what, good = capital(mark.name), w.face_towards.format(face=mark.face, towards=mark.towards)
            elif isinstance(mark, m.LookMark):
                what, good = step.text, mark.accept
            else:
                continue
            rows.append((self._void(key, what), self._no(step), Told(what), Told(figure(good, w)),
                         Field(f"{key}_good", f"{w.good}: {what}", "checkbox"),
                         Field(f"{key}_not", f"{w.not_good}: {what}", "checkbox")))
        return Table("checked", w.checked, (
            self.void, self.step, Column(w.what, 68), Column(w.good_when, 72), Column(w.good, 11, True),
            Column(w.not_good, 11, True)), tuple(rows), w.checked_note)

    def holds(self) -> Table:
        """Hold points: a second person, or the preparer's own later re-check."""
        w = self.w
        rows = tuple(
            (self._no(step), Told(mark.why), Field(f"{mark.key}_own", f"{w.own_recheck}: {mark.why}", "checkbox"),
             Field(f"{mark.key}_time", f"{w.date_time}: {mark.why}"),
             Field(f"{mark.key}_second", f"{w.second_person}: {mark.why}"), self._initials(mark.key, mark.why))
            for step, mark in self._marks(m.HoldMark)
        )
        return Table("holds", w.holds, (
            self.step, Column(w.hold_point, 66), Column(w.own_recheck, 15, True), Column(w.date_time, 34),
            Column(w.second_person, 44), self.initials), rows, w.holds_note)

    def waits(self) -> Table:
        """Times that had to pass."""
        w = self.w
        rows = tuple(
            (self._no(step), Told(figure(mark.time, w), (mark.why,) if mark.why else (), bold=True),
             Field(f"{mark.key}_start", f"{w.wait_start}: {mark.time}"),
             Field(f"{mark.key}_finish", f"{w.wait_finish}: {mark.time}"))
            for step, mark in self._marks(m.WaitMark)
        )
        return Table("waits", w.waits, (self.step, Column(w.wait, 82), Column(w.wait_start, 45),
                                        Column(w.wait_finish, 45)), rows)

    def renewed(self) -> Table:
        """Parts renewed, with the number that was really fitted."""
        w = self.w
        rows = tuple(
            (self._void(mark.key, mark.name), self._no(step),
             Told(capital(mark.name) + (f", {w.if_needed}" if mark.if_needed else "")), Told(mark.number),
             Field(f"{mark.key}_renewed", f"{w.renewed}: {mark.name}", "checkbox"),
             Field(f"{mark.key}_number", f"{w.number_fitted}: {mark.name}"))
            for step, mark in self._marks(m.RenewMark)
        )
        return Table("renewed", w.parts_renewed, (
            self.void, self.step, Column(w.part, 72), Column(w.part_number, 32), Column(w.renewed, 16, True),
            Column(w.number_fitted, 44)), rows)

    def seals(self) -> Table:
        """Seals broken and fitted."""
        w = self.w
        found: dict[str, dict[str, m.SealMark]] = {}
        for _, mark in self._marks(m.SealMark):
            found.setdefault(mark.item, {})[mark.when] = mark
        rows: list[tuple[Entry, ...]] = []
        for both in found.values():
            removed, fitted = both.get("removed"), both.get("fitted")
            one = removed or fitted
            assert one is not None
            rows.append((
                Told(w.seal_of.format(name=one.name)), Told(one.number, bold=True),
                Field(removed.key, f"{w.number_removed}: {one.name}") if removed else Told(),
                Field(f"{removed.key}_permission", f"{w.permission}: {one.name}") if removed else Told(),
                Field(fitted.key, f"{w.number_fitted}: {one.name}") if fitted else Told(),
                self._initials(one.key, one.name)))
        return Table("seals", w.seals, (
            Column(w.seal, 38), Column(w.seal_number, 28), Column(w.number_removed, 34), Column(w.permission, 38),
            Column(w.number_fitted, 34), self.initials), tuple(rows))

    def _checks(self, prefix: str, checks: tuple[Check, ...], title: str, note: str = "") -> Table:
        w = self.w
        rows = tuple(
            (self._void(f"{prefix}-{check.key}", check.text),
             Told(figure(check.text, w), (f"{w.good}: {figure(check.accept, w)}",) if check.accept else ()),
             Field(f"{prefix}-{check.key}", check.text, "checkbox"))
            for check in checks
        )
        return Table(prefix, title, (self.void, Column(w.what, 66), Column(w.done, 10, True)), rows, note)

    def closing(self) -> Table:
        """Closing checks, made before the engine runs."""
        return self._checks("closing", self.told.closing, self.w.closing)

    def after_run(self) -> Table:
        """Checks after the first run."""
        return self._checks("after-run", self.told.after_run, self.w.after_run, self.w.after_run_note)


def entry_texts(issue: Issue, words: Words) -> tuple[tuple[str, str], ...]:
    """Label and text of what the record says of the engine on the day of printing."""
    told = ((words.keeper, issue.keeper), (words.hours_on_record, figure(issue.hours, words)),
            (words.last_done, figure(issue.last_done, words)), (words.why_due, figure(issue.why_due, words)))
    return tuple((label, text) for label, text in told if text)
