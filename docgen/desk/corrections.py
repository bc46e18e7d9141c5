"""An event that was filed wrongly put right, and logs that were written apart joined again."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from datetime import date
from functools import partial
from typing import Any

from docgen.club.folder import EngineRecord, Faulty, Folder
from docgen.club.log import Held
from docgen.desk.asking import Asks, Unwritten, changes_of, tell
from docgen.desk.choosing import Unclear, engines_named, sound
from docgen.desk.notes import DIGITS, flat, refuse_unknown
from docgen.returns.branches import Twice, branches, doubled, join
from docgen.returns.correcting import Claim, claims, corrected, correction_in, event_named, plain, strike
from docgen.returns.filing import Filed, file_event

WHY = "filed twice, in two copies of the folder"


def correct_event(
    who: Asks, folder: Folder, engine: str, event: str, changes: Sequence[str], on: date, *, strike_out: bool = False,
    why: str = "", by: str | None = None,
) -> Sequence[Filed]:  # fmt: skip
    """Write what holds instead of an event, by ``KEY=VALUE``, or that it never was.

    event : its file, or the first digits of its digest
    Errors: Faulty, Unclear, Refused, Unwritten, StoreError.
    """
    (record,), root = engines_named(folder, [engine]), folder.root
    sound(folder, engine, but="component-twice" if strike_out else "")
    if bool(changes) == strike_out:
        raise Unclear('say what holds instead, as in hours="12 min", or --strike when the event never was')
    if not why.strip() and who.quiet:
        raise Unclear('say what was wrong, as in --why "hours typed for minutes"')
    held = event_named(record.log, event, striking=strike_out)
    said = corrected(held, None if strike_out else changes_of(changes, 'hours="12 min"'), why.strip(), on, by)
    if "instead" in said:
        refuse_unknown(folder, engine, said["instead"])
    who.say("\n".join(_shown(held, said.get("instead"))))
    if not why.strip():
        said["why"] = who.typed("What was wrong, as in: hours typed for minutes", check=_words).strip()
    if not who.quiet and not who.asked("Write this correction into the record?"):
        raise Unwritten
    if strike_out:
        return tell(who, root, strike(root, folder, engine, held, str(said["why"]), on, by))
    return tell(who, root, [file_event(root, engine, said, lambda log: correction_in(log, said))])


def _words(text: str) -> str:
    if not text.strip():
        raise Unclear("say it in a few words")
    return text


def events(folder: Folder, engine: str) -> Iterator[str]:
    """The events of an engine, a line each, with the digits that name it first. Errors: Faulty, Unclear."""
    (record,) = engines_named(folder, [engine])
    sound(folder, engine)
    for held in record.log.held:
        entry, data = held.entry, held.entry.document.data
        assert isinstance(data, dict)
        said = [f"{key} {value}" for key, value in flat(data, ("date", "parents", "event", "instead"))]
        words = f"{data['event']}: {', '.join(said[:4])}" if said else str(data["event"])
        state = "" if held.correction is None else ", struck out" if held.event is None else ", corrected"
        yield f"{entry.digest[:DIGITS]}  {entry.event.date}  {words}{state}"


def _shown(held: Held, instead: Mapping[str, Any] | None) -> Iterator[str]:
    yield held.entry.file
    if instead is None:
        yield "  is struck out: nothing of it holds"
        return
    before, after = dict(flat(plain(held))), dict(flat(instead))
    for key in dict.fromkeys((*before, *after)):
        if before.get(key) != after.get(key):
            yield f"  {key}: {before.get(key, '(nothing)')} -> {after.get(key, '(nothing)')}"


def join_logs(
    who: Asks, read: Callable[[], Folder], engines: Sequence[str], on: date, *, note: str | None = None,
    twice: str | None = None, by: str | None = None,
) -> None:  # fmt: skip
    """Join the ends of the logs of some engines, or of all, where two people filed apart.

    read  : reads the club, as often as something was written
    twice : what becomes of the second of what was filed twice: ``strike`` or ``keep``; None to be asked
    Errors: Faulty, Unclear, Unwritten, StoreError.
    """
    folder = _one_place_each(who, read, engines, on, by)
    engines_named(folder, engines)
    apart = [number for number in engines or folder.engines if _is_apart(folder.engines[number])]
    wanted = [p for number in engines or (None,) for p in folder.blocking(number, ())]
    if unread := sorted({p for p in wanted if p.name != "component-twice"}):
        raise Faulty(unread)  # of a log that cannot be read nobody knows whether it was filed apart
    if not apart:
        who.say("Nothing was filed apart.")
    for count, number in enumerate(apart):
        folder = read() if count else folder
        sound(folder, number)
        if _is_apart(folder.engines[number]):  # else a move was struck out of the other engine's log
            _join(who, folder, number, on, by, note, twice)


def _is_apart(record: EngineRecord) -> bool:
    return bool(branches(record.log) or doubled(record.log))


def _join(
    who: Asks, folder: Folder, number: str, on: date, by: str | None, note: str | None, twice: str | None
) -> None:
    record, root = folder.engines[number], folder.root
    who.say("\n".join(_rows(record)))
    pairs = doubled(record.log)
    if pairs and who.quiet and not twice:
        raise Unwritten("  --yes does not settle what was filed twice: --twice strike takes the second of each out, "
                        "--twice keep lets both stand.\nNothing was written.")  # fmt: skip
    gone = [pair for pair in pairs if _strikes(who, pair, twice)]
    if not who.quiet and not who.asked("Join them, keeping everything?" if not gone else "Join them so?"):
        raise Unwritten
    for pair in gone:
        tell(who, root, strike(root, folder, number, pair.second, WHY, on, by))
    if not gone or len(gone) < len(pairs):
        if joined := join(root, number, on, by, note, always=bool(pairs)):
            tell(who, root, [joined])
        else:
            who.say("Somebody has joined them meanwhile.")


def _strikes(who: Asks, pair: Twice, twice: str | None) -> bool:
    first, second = (_event(one.entry.file, one.entry.event.by) for one in (pair.first, pair.second))
    who.say(f"The {pair.what} was filed twice:\n  1  {first}\n  2  {second}")
    return twice == "strike" or (not twice and who.asked("Is it one and the same, so that 2 is struck out?"))


def _event(file: str, by: str | None) -> str:
    return file + (f", by {by}" if by else "")


def _rows(record: EngineRecord) -> Iterator[str]:
    found = branches(record.log)
    yield f"Engine {record.engine.engine}: " + (f"{len(found)} branches" if found else "joined, with something twice")
    for number, branch in enumerate(found, 1):
        yield f"  branch {number}"
        yield from (f"    {_event(e.file, e.event.by)}" for e in branch)


def _one_place_each(
    who: Asks, read: Callable[[], Folder], engines: Sequence[str], on: date, by: str | None
) -> Folder:
    """Ask which move stands of a component that two people moved to two engines; the others are struck out."""
    while True:
        folder = read()
        wanted = (each for each in claims(folder) if not engines or {claim.engine for claim in each} & {*engines})
        if (each := next(wanted, None)) is None:
            return folder
        who.say(f"{each[0].part} {each[0].name} was moved to {len(each)} engines:")
        for at, claim in enumerate(each, 1):
            who.say(f"  {at}  {_claim(claim)}")
        if who.quiet:
            raise Unwritten("  --yes does not settle that: strike the wrong one out, as in docgen correct ENGINE EVENT "
                            "--strike\nNothing was written.")  # fmt: skip
        stands = int(who.typed("Which one stands", check=partial(_among, len(each))))
        for claim in (one for at, one in enumerate(each, 1) if at != stands):
            tell(who, folder.root, strike(folder.root, folder, claim.engine, claim.held, WHY, on, by))


def _among(count: int, text: str) -> str:
    if not text.strip().isdecimal() or not 1 <= int(text) <= count:
        raise Unclear(f"type its number, from 1 to {count}")
    return text


def _claim(claim: Claim) -> str:
    event = claim.held.entry
    return f"to engine {claim.engine} on {event.event.date}: {_event(event.file, event.event.by)}"
