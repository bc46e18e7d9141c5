"""``finds`` and ``sets``: settings of the model, noted as found and as left."""

from typing import Annotated

from docgen.club.schema.base import Names
from docgen.club.verbs.verb import Verb

Finds = Annotated[Names, Verb(
    "finds", "Settings to note as found, before they are changed.",
    defined="settings", word="find", handles=True, printed=True, signed="names",
)]  # fmt: skip
Sets = Annotated[Names, Verb(
    "sets", "Settings to note as left.", defined="settings", word="set", handles=True, printed=True, signed="names",
)]  # fmt: skip
