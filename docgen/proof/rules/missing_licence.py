"""A shared file without a licence: nobody may use it, however much its writer wants them to."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.proof.case import Written
from docgen.proof.finding import Finding

LEVEL = "note"


def on_steps(file: Written) -> Iterator[Finding]:
    """One finding at the head of the file."""
    if not file.value.licence:
        yield file.finding((next(iter(_names(file))),), "this file has no licence, so nobody else may use it",
                           "add  licence: CC-BY-4.0, or another that you choose", key=True)  # fmt: skip


def _names(file: Written) -> Iterator[str]:
    yield from (key for key in ("procedure", "sequence") if hasattr(file.value, key))
