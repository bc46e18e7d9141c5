"""A job's sheets as drafts, for who writes the job: print 0, which is kept nowhere and cannot be filed."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from docgen.club.folder import Folder
from docgen.club.problem import told
from docgen.club.store import replace
from docgen.desk.choosing import engines_named, jobs_named, sound
from docgen.desk.pages import Laid
from docgen.desk.wanted import Say
from docgen.desk.whereabouts import with_place
from docgen.job.resolve import resolve
from docgen.press.orders import order
from docgen.press.shelf import Shelf
from docgen.press.workers import press
from docgen.proof import proof_job
from docgen.sheets.leaf import leaf
from docgen.sheets.signoff import signoff


def drafts(folder: Folder, number: str, name: str, on: date, say: Say) -> Iterator[Laid]:
    """Lay out leaf and sign-off sheet of a job on an engine into out/watch/, and say what is wrong with them.

    What does not fit its page stays as it was laid out before. Errors: Faulty, Unclear, OSError.
    """
    (record,), (procedure,) = engines_named(folder, [number]), jobs_named(folder, [name])
    sound(folder, number, [procedure.value.procedure])
    club, out = folder.club.value, folder.root / "out"
    faults = [one for one in proof_job(folder, procedure, record, on) if one.level == "error"]
    if faults:
        say(told(faults))
    job = resolve(folder, record, procedure, on, unproofed=len(faults)).model_copy(update={"print": 0})
    for sheet, make in (("leaf", leaf), ("sign-off", signoff)):
        path = out / "watch" / f"{number}-{job.instructions.code}-{sheet}.pdf"
        made = order(f"Draft {sheet}", make(job, club), job, club.club, forms=sheet == "sign-off")
        outcome = press(made, Shelf(out))
        for fault in outcome.faults:
            say(with_place(folder.root, f"{sheet}: {fault}", number))
        if outcome.pressed is not None:
            replace(path, outcome.pressed.pdf)
            yield Laid(made.key, path, outcome.pressed.pages, None)
