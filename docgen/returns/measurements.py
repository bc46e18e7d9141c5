"""Figures on a signed sheet: readings judged by the limits that were printed, settings, critical fasteners."""

from dataclasses import dataclass

from docgen.club.verbs.boxes import entry
from docgen.job import marks as m
from docgen.job.figure import Wires
from docgen.job.wording import band, quantity, unit, wires
from docgen.returns.answers import FINDINGS, FormReading
from docgen.trade.limits import Verdict, decide
from docgen.trade.quantity import Band, Quantity, QuantityError
from docgen.trade.units import units

WORDS = {Verdict.ACCEPT: "within", Verdict.UNDECIDED: "TOO NEAR to the end of", Verdict.REJECT: "OUTSIDE"}
"""What is said before the printed limit."""


@dataclass(frozen=True)
class Judged:
    """A reading with what the sheet printed beside it. ``limit`` is None where the sheet had none."""

    key: str
    name: str
    values: tuple[Quantity, ...]
    limit: Band | None
    printed: str
    verdict: Verdict | None


def judge(mark: m.ReadingMark, values: tuple[Quantity, ...]) -> Verdict | None:
    """What the printed limits say of a reading; of several places the worst counts. None where there is no limit.

    What was printed to accept is accepted (:func:`docgen.trade.limits.decide`), as is a new part at the end of its
    range that no wear leads to.
    """
    limit = mark.limit_band
    if limit is None:
        return None
    try:
        found = [decide(value, limit, mark.accept.contains(value) if mark.accept else None) for value in values]
    except QuantityError:
        return None
    return max(found, key=list(Verdict).index)


def accept_of(mark: m.ReadingMark) -> str:
    """What the sheet prints to accept."""
    accept = mark.accept
    return wires(accept) if isinstance(accept, Wires) else band(accept) if accept else ""


def readings(form: FormReading) -> list[Judged]:
    """Every reading; one outside its limit needs a finding, one of several places needs them all."""
    found: list[Judged] = []
    for _, mark in form.marks(m.ReadingMark):
        fields = mark.boxes
        written = [at for at in fields if form.text(at)]
        values = tuple(v for at in fields if (v := form.figure(at, mark.unit, mark.name)) is not None)
        if not written:
            form.empty(mark.key)
        elif len(written) < len(fields):
            left = next(at for at in fields if at not in written)
            form.refuse("place-left-blank", f"{mark.name}: {len(written)} of {len(fields)} places are filled in",
                      "fill them all in; or leave them all empty, and write the figures under findings", left)
        elif len(values) == len(fields):
            found.append(_kept(form, mark, values))
    return found


def _kept(form: FormReading, mark: m.ReadingMark, values: tuple[Quantity, ...]) -> Judged:
    verdict, limit = judge(mark, values), mark.limit_band
    texts = [str(value) for value in values]
    earlier = form.event.get("readings", {}).get(mark.limit)
    if earlier:
        form.put("readings_before", mark.limit, earlier)
    form.put("readings", mark.limit, texts)
    printed = band(limit) if limit else ""
    said = f"{mark.name}, {' / '.join(texts)}"
    if verdict is Verdict.REJECT and not form.remarks:
        form.refuse("outside-limit", f"{said}, is outside its limit, {printed}, and the sheet has no finding",
                  "write under findings what was found and what was done about it", FINDINGS)  # fmt: skip
    elif verdict is Verdict.REJECT:
        form.note("outside-limit", f"{said}, is outside its limit, {printed}", at=mark.key)
    elif verdict is Verdict.UNDECIDED:
        near = f"but nearer to it than the gauge can tell ({accept_of(mark)})"
        form.note("too-near-to-limit", f"{said}, is within its limit, {printed}, {near}",
                "measure again, or with a finer gauge", mark.key)  # fmt: skip
    return Judged(mark.key, mark.name, values, limit, printed, verdict)


def settings(form: FormReading) -> None:
    """Settings as found and as left, one row each."""
    rows: dict[str, dict[str, m.SettingMark]] = {}
    for _, mark in form.marks(m.SettingMark):
        rows.setdefault(mark.setting, {})[mark.when] = mark
    for setting, row in rows.items():
        noted = {when: text for when, mark in row.items() if (text := _setting(form, mark))}
        if noted:
            form.put("settings", setting, noted)


def _setting(form: FormReading, mark: m.SettingMark) -> str:
    in_unit, key = unit(mark.unit), mark.value_box
    notes = [text for at in mark.note_boxes if (text := form.text(at))]
    if mark.unit not in units():
        text = form.text(key)
        first = f"{text} {in_unit}" if text and in_unit not in text else text
    else:
        value = form.figure(key, mark.unit, f"{mark.name}, as {mark.when}")
        first = str(value) if value is not None else ""
        if value is not None:
            _against(form, mark, key, value)
        elif form.text(key):
            return ""
    if not first:
        form.empty(key)
    return ", ".join(filter(None, (first, *notes)))


def _against(form: FormReading, mark: m.SettingMark, key: str, value: Quantity) -> None:
    """What a setting that was left may be."""
    if mark.when != "left":
        return
    start, ceiling = mark.start.band, mark.ceiling
    if ceiling is not None and value > ceiling:
        message = f"{mark.name}, {value}, was left above {quantity(ceiling)}, which it must never pass"
        form.unexplained("above-ceiling", message, "write under findings why", FINDINGS)
    elif start is not None and not start.contains(value):
        form.note("outside-starting-value", f"{mark.name} was left at {value}; it starts at {band(start)}", at=key)


def torques(form: FormReading) -> None:
    """The critical fasteners that the sheet has a row for: wrench, paint mark, initials."""
    for _, mark in form.marks(m.TorqueMark):
        if mark.key not in form.names:
            continue
        initials, kept = form.text(mark.initials_box), entry(mark, form)
        if initials:
            form.put("initials", mark.key, initials)
        if not kept and not initials:
            form.empty(mark.key)
            message = f"{form.name(mark.key)}: nothing is written in the row of this critical fastener"
            hint = "fill it in; or say under findings why it was not tightened"
            form.say("doubt", "critical-fastener-blank", message, hint, mark.wrench_box)
            continue
        form.put("torques", mark.item, kept)
        asked = {"wrench": True, "painted": mark.painted, "value": mark.value.blank}
        for part in sorted(part for part, wanted in asked.items() if wanted and part not in kept):
            form.empty(f"{mark.key}-{part}")
        if not initials:
            form.empty(mark.initials_box)
