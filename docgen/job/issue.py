"""The frozen job behind each sheet printed: what the reader of the signed sheet was told.

One file a print, ``engines/NNN/issued/NNN-COD-RR-PPP-DIGEST.yaml``, written once, naming the prints before it
(:mod:`docgen.job.prints`). Printing again on the same day from the same record gives the same number, since nothing
that the sheet says has changed.
"""

import re
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from docgen.club.lock import alone
from docgen.club.log import SHORT, digest
from docgen.club.store import StoreError, to_yaml, write_once
from docgen.club.yamltext import read_yaml
from docgen.job import frozen_before
from docgen.job.job import Job, digests_of, without_empty
from docgen.job.number import SheetNumber
from docgen.job.prints import Print, last_named, numbered, prints

FORMAT = 2
"""Of the frozen job: 1 held figures as they were printed, 2 holds them as the files spell them."""
_FORMAT = re.compile(r"^format: .*\n", re.MULTILINE)


def number_of(job: Job) -> SheetNumber:
    """The sheet number of a job's first page."""
    told = job.instructions
    return SheetNumber(told.engine, told.code, told.revision, job.print)


def stem(number: SheetNumber) -> str:
    """What the name of a frozen job's file begins with: the number without sheet, page and check character."""
    return f"{number.engine}-{number.code}-{number.revision:02d}-{number.print:03d}"


def frozen(job: Job) -> str:
    """The job as the text of its file, without the prints that it follows."""
    plain = {"issue_digest": job.issue_digest, "instructions_digest": job.instructions_digest, "format": str(FORMAT),
             **_plain(without_empty(job.model_dump(mode="json")))}  # fmt: skip
    return to_yaml(plain, comment="Written by docgen when this sheet was printed. Do not edit.")


def _following(text: str, after: Mapping[str, str]) -> str:
    """A frozen job with the prints that it follows, by the names of their files: their digests."""
    named = "".join(f"  {name}: {digits}\n" for name, digits in after.items())
    return _FORMAT.sub(lambda found: f"{found[0]}after:\n{named}", text, count=1) if after else text


def thawed(text: str) -> Job:
    """The job read back from :func:`frozen`. Errors: ValueError when the file was edited or is not one."""
    document, problems = read_yaml("issued", text)
    if document is None or problems or not isinstance(document.data, dict):
        raise ValueError(problems[0].message if problems else "this is not an issued job")
    data = dict(document.data)
    issued, _ = data.pop("issue_digest", None), data.pop("instructions_digest", None)
    written, _ = data.pop("format", "1"), data.pop("after", None)
    if written not in ("1", str(FORMAT)):
        raise ValueError(f"the issued job has the format {written}; this program knows those up to {FORMAT}")
    try:
        job = _read_before(data) if written == "1" else Job.model_validate(data)
    except (KeyError, TypeError, AttributeError) as error:
        raise ValueError("this is not an issued job") from error
    if job.issue_digest != issued:
        raise ValueError("the issued job was edited after it was printed")
    return job


def _read_before(data: dict[str, Any]) -> Job:
    """A job from before figures were kept as figures, with the digests that it has had since."""
    plain = frozen_before.typed(data)
    job = Job.model_validate(frozen_before.read(plain))
    return job.model_copy(update={"kept": digests_of(plain["instructions"], plain["issue"])})


def before_issue(folder: Path, job: Job) -> tuple[Job, bool]:
    """The job with the number that :func:`issue` would give it now, and whether it had that before; nothing is written.

    A sheet that the press refuses uses up no number: the number is given once a sheet that bears it is whole.
    Errors: StoreError ``prints-not-whole``.
    """
    job, found = _next(folder, job)
    return job, found is None


def issue(folder: Path, job: Job, text: str = "") -> Job:
    """Give the job its print number and write its frozen file into `folder`; the same job keeps its number.

    text : of :func:`frozen`, where it was made already; it holds for the number that the job bears
    A number that two jobs bear is given to no third, and kept for neither. Errors: StoreError ``busy``,
    ``prints-not-whole``, OSError.
    """
    with alone(folder.parent):
        told, (job, found) = job, _next(folder, job)
        if found is not None:
            text = text if text and job.print == told.print else frozen(job)
            data = _following(text, last_named(found)).encode()
            write_once(folder / f"{stem(number_of(job))}-{digest(data)[:SHORT]}.yaml", data)
    return job


def _next(folder: Path, job: Job) -> tuple[Job, list[Print] | None]:
    """The job with its number, and the prints that are there if it is a new one."""
    wanted = stem(number_of(job)).rpartition("-")[0]
    found = prints(folder.parent, folder.name)
    if unread := next((one.problem for one in found if one.problem), None):
        raise StoreError("prints-not-whole", f"nothing was printed: {unread}")
    last = max((one.print for one in found if one.job == wanted), default=0)
    same = numbered(found, f"{wanted}-{last:03d}")
    if len(same) == 1 and same[0].as_written and same[0].issue == job.issue_digest:
        return job.model_copy(update={"print": last}), None
    return job.model_copy(update={"print": last + 1}), found


def _plain(value: Any) -> Any:
    """Mappings, lists and text only."""
    if isinstance(value, dict):
        return {k: _plain(v) for k, v in value.items()}
    if isinstance(value, list):
        return [_plain(v) for v in value]
    if isinstance(value, bool):
        return "true" if value else "false"
    return str(value)
