"""Where an engine is not as its model, as a sheet says it: what holds instead, and what no longer does."""

from datetime import date

from docgen.club.words import message
from docgen.job import tooling, wording
from docgen.job.figures import Figures, tightness
from docgen.job.job import DeviationLine


def deviation_lines(figures: Figures) -> tuple[DeviationLine, ...]:
    """The deviations in force, each with the figures that hold instead of its model's."""
    return tuple(_deviation(figures, d.item, d.what, d.date) for d in figures.state.deviations)


def _deviation(figures: Figures, item: str, what: str, dated: date) -> DeviationLine:
    changes = figures.changed(item)
    w = figures.words
    shown: list[str] = []
    voids = ""
    if changes is not None and item in figures.model.fasteners:
        old, new = figures.model.fasteners[item], figures.fastener(item)
        if changes.thread:
            now = message("thread {thread} instead of {old}" if old.thread else "thread {thread}")
            shown.append(w(now, thread=w.number(changes.thread), old=w.number(old.thread)))
            voids = w("The maker's torque, driver and source for the old thread no longer hold.")
        if changes.insert:
            length, thread = w.number(changes.insert), w.number(new.thread or "______")
            shown.append(w("thread insert {length} long in {thread}", length=length, thread=thread))
            voids = voids or w("The maker's torque was given for the thread without an insert and no longer holds.")
        if changes.drive or changes.thread:
            shown.append(w("drive {drive}", drive=tooling.drive_size(new, w) or "______"))
        shown.append(w("tighten {value}", value=_tightening(figures, item)))
    elif changes is not None:
        shown += [
            w(text, value=wording.band(v, w)) for key, text in _FIGURES_NOW.items() if (v := getattr(changes, key))
        ]
        shown += [str(v) for v in (changes.size, changes.number and w("part {number}", number=changes.number)) if v]
    return DeviationLine(item=item, name=figures.name(item), what=what, dated=dated, figures=tuple(shown), voids=voids)


_FIGURES_NOW = {"new": message("new {value}"), "allow": message("allow {value}"), "start": message("start {value}")}


def _tightening(figures: Figures, item: str) -> str:
    value, w = tightness(figures, item), figures.words
    if value.blank:
        return w("______ (no figure is known)")
    text = wording.figure(value, w)
    if not value.governs:
        return text
    return w("{value} (estimate, not the maker's; the {governs} governs)", value=text, governs=w(value.governs))
