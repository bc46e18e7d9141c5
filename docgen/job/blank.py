"""The job of an engine that is not in the records yet: its model's figures, and blanks for what is its own."""

from datetime import date

from docgen.club.folder import EngineRecord, Folder, Read
from docgen.club.schema.engine import Engine
from docgen.club.schema.procedure import Procedure
from docgen.job.job import Job
from docgen.job.number import UNNAMED
from docgen.job.resolve import resolve


def blank_record(folder: Folder, model: str, on: date) -> EngineRecord:
    """An engine of a model without a number, a keeper, hours or anything that happened to it."""
    engine = Engine.model_construct(
        engine=UNNAMED, model=model, keeper="", received=on, serial=None, hours=None, seals={}, components={}, note=None
    )
    return EngineRecord(engine, folder.models[model].document)


def blank_job(folder: Folder, model: str, procedure: Read[Procedure], on: date, *, unproofed: int = 0) -> Job:
    """The job of doing `procedure` on an engine of a model, print 0: of no engine, and never filed as it is."""
    job = resolve(folder, blank_record(folder, model, on), procedure, on, unproofed=unproofed)
    unknown = job.issue.model_copy(update={"hours": None, "since_began": False})
    return job.model_copy(update={"issue": unknown, "print": 0})
