"""A thread that was re-tapped or bushed on an engine, with the old thread's torque still in force."""

import re
from collections.abc import Iterator

from docgen.club.schema.event import Deviation
from docgen.club.yamldoc import Document
from docgen.proof.case import Finding, Findings, Owned

REPAIRED = re.compile(r"\b(re-?tapped|tapped|thread(ed)? insert|insert|bushed|over-?size thread)\b", re.IGNORECASE)


def on_engine(owned: Owned) -> Findings:
    """One finding at the deviation in the engine's log."""
    for document, event in in_force(owned):
        old = owned.model.value.fasteners.get(event.item)
        if old is None or old.torque is None:
            continue
        changes = event.changes
        renewed = changes is not None and (changes.thread or changes.insert)
        if not renewed and REPAIRED.search(event.what) and not (changes and (changes.torque or changes.by_feel)):
            yield Finding(
                document, ("what",),
                f"the thread of {event.item} was repaired, but the model's {old.torque} would still be printed",
                "record the repair with  changes: {thread: ...}  or  {insert: ...}, and a torque where one is known",
            )  # fmt: skip
        elif changes is not None and changes.thread and changes.torque and changes.torque == old.torque:
            yield Finding(
                document, ("changes", "torque"),
                f"{changes.torque} is the model's figure for {old.thread}, and {event.item} is {changes.thread} now",
                "leave torque out: the sheet then prints a blank line or an estimate that says so",
            )  # fmt: skip


def in_force(owned: Owned) -> Iterator[tuple[Document, Deviation]]:
    """The deviations in force, each with the file of the log that says it."""
    said = ((entry.document, entry.instead or entry.event) for entry in owned.record.log.entries)
    known = owned.figures.state.deviations
    return ((file, event) for file, event in said if isinstance(event, Deviation) and event in known)
