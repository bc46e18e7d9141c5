"""The frozen job behind each sheet printed: what the reader of the signed sheet was told.

One file a print, ``engines/NNN/issued/NNN-COD-RR-PPP.yaml``, written once. Printing again on the same day
from the same record gives the same number, since nothing that the sheet says has changed.
"""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

from docgen.club.files import bounded
from docgen.club.store import to_yaml, write_once
from docgen.club.yamltext import read_yaml
from docgen.job import frozen_before
from docgen.job.job import Job, digests_of, without_empty
from docgen.job.number import SheetNumber

FORMAT = 2
"""Of the frozen job: 1 held figures as they were printed, 2 holds them as the files spell them."""


def number_of(job: Job) -> SheetNumber:
    """The sheet number of a job's first page."""
    told = job.instructions
    return SheetNumber(told.engine, told.code, told.revision, job.print)


def file_name(number: SheetNumber) -> str:
    """Name of the frozen job's file."""
    return f"{number.engine}-{number.code}-{number.revision:02d}-{number.print:03d}.yaml"


def frozen(job: Job) -> str:
    """The job as the text of its file."""
    plain = {"issue_digest": job.issue_digest, "instructions_digest": job.instructions_digest, "format": str(FORMAT),
             **_plain(without_empty(job.model_dump(mode="json")))}  # fmt: skip
    return to_yaml(plain, comment="Written by docgen when this sheet was printed. Do not edit.")


def thawed(text: str) -> Job:
    """The job read back from :func:`frozen`. Errors: ValueError when the file was edited or is not one."""
    document, problems = read_yaml("issued", text)
    if document is None or problems or not isinstance(document.data, dict):
        raise ValueError(problems[0].message if problems else "this is not an issued job")
    data = dict(document.data)
    digest, _ = data.pop("issue_digest", None), data.pop("instructions_digest", None)
    written = data.pop("format", "1")
    if written not in ("1", str(FORMAT)):
        raise ValueError(f"the issued job has the format {written}; this program knows those up to {FORMAT}")
    try:
        job = _read_before(data) if written == "1" else Job.model_validate(data)
    except (KeyError, TypeError, AttributeError) as error:
        raise ValueError("this is not an issued job") from error
    if job.issue_digest != digest:
        raise ValueError("the issued job was edited after it was printed")
    return job


def _read_before(data: dict[str, Any]) -> Job:
    """A job from before figures were kept as figures, with the digests that it has had since."""
    plain = frozen_before.typed(data)
    job = Job.model_validate(frozen_before.read(plain))
    return job.model_copy(update={"kept": digests_of(plain["instructions"], plain["issue"])})


def issue(folder: Path, job: Job) -> Job:
    """Give the job its print number and write its frozen file into `folder`; the same job keeps its number."""
    number = number_of(job)
    pattern = re.compile(rf"{number.engine}-{number.code}-{number.revision:02d}-(\d{{3,}})\.yaml")
    while True:
        taken = sorted((int(m[1]), p) for p in folder.glob("*.yaml") if (m := pattern.fullmatch(p.name)))
        if taken and _digest_in(taken[-1][1]) == job.issue_digest:
            return job.model_copy(update={"print": taken[-1][0]})
        job = job.model_copy(update={"print": taken[-1][0] + 1 if taken else 1})
        try:
            write_once(folder / file_name(number_of(job)), frozen(job).encode())
        except FileExistsError:
            continue
        return job


def _digest_in(path: Path) -> str:
    match = re.search(r"^issue_digest: ([0-9a-f]{64})$", bounded(path).decode("utf-8", "replace"), re.MULTILINE)
    return match[1] if match else ""


def _plain(value: Any) -> Any:
    """Mappings, lists and text only."""
    if isinstance(value, dict):
        return {k: _plain(v) for k, v in value.items()}
    if isinstance(value, list):
        return [_plain(v) for v in value]
    if isinstance(value, bool):
        return "true" if value else "false"
    return str(value)
