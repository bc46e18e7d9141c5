"""``drains`` and ``fills``: what is let out of the engine and filled in again (docgen.job.simulation.fluids)."""

from __future__ import annotations

from typing import Annotated

from docgen.club.schema.base import Names
from docgen.club.verbs.verb import Verb

Drains = Annotated[Names, Verb(
    "drains", "Fluids of the model that are let out here.", defined="fluids", handles=True, stands=False,
)]  # fmt: skip
Fills = Annotated[Names, Verb(
    "fills", "Fluids of the model that are filled in here; how much of what follows from the model.",
    defined="fluids", handles=True, stands=False,
)]  # fmt: skip
