"""What a hostile case is, where it acts, and the words that it must get.

Every case is made here by a program and let in by the door that a member would let it in by: a file in the club's
folder, a parcel received, a filled sheet filed, a page handed to the press. Its answer is compared whole with
`refusals/GROUP.txt`. The cases are run by :mod:`tests.hostile.apart` in a process of their own.
"""

from __future__ import annotations

import hashlib
import shutil
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from importlib import import_module
from pathlib import Path

from click.testing import CliRunner

from tests.smallclub import write

HERE = Path(__file__).parent
MANY = 8
"""Findings up to which an answer stands in the file of answers as it is."""
GROUPS = ("yaml_files", "prose", "pages", "folders", "parcels", "papers", "pictures", "numbers", "drawings")
"""One process each; a module of cases with the same name, a file of answers in refusals/."""
VECTORS = (
    *("yaml-tag", "yaml-alias", "yaml-depth", "yaml-size", "yaml-duplicate-key", "yaml-turned-text"),
    *("yaml-look-alike-digit", "yaml-bytes"),
    *("prose-html", "prose-markdown", "prose-link", "prose-template", "prose-style"),
    *("page-img", "page-link", "page-import", "page-font-face", "page-svg-use", "page-svg-image", "page-object"),
    *("page-attachment", "page-data-uri", "page-other-way"),
    *("folder-override", "folder-link", "folder-device", "folder-path"),
    *("container-traversal", "container-absolute", "container-link", "container-device", "container-case"),
    *("container-bomb", "container-entries", "container-size", "container-damage", "container-content"),
    *("secret", "drawing", "table"),
    *("picture-kind", "picture-bomb", "picture-size", "picture-damage", "picture-exif", "picture-codes"),
    *("pdf-malformed", "pdf-encrypted", "pdf-huge", "pdf-script", "pdf-fields", "pdf-other-sheet", "pdf-words"),
    *("slow-pattern", "sheet-number"),
)
"""Every way in that was thought of, and those met since."""


@dataclass(frozen=True)
class Case:
    """One hostile input: by which way, what it is, and the letting in of it, which gives the whole answer."""

    vector: str
    name: str
    act: Callable[[Place], str]

    @property
    def key(self) -> str:
        """Its heading in the file of answers."""
        return f"{self.vector}: {self.name}"


@dataclass(frozen=True)
class Place:
    """A folder for a group of cases: `club` is theirs; what lies in `outside` nobody may touch."""

    root: Path

    @property
    def club(self) -> Path:
        """The small club, fresh for each case."""
        return self.root / "club"

    @property
    def outside(self) -> Path:
        """Beside the club's folder: readable, and none of its business."""
        return self.root / "outside"

    def fresh(self) -> None:
        """The club as it was before the first case."""
        shutil.rmtree(self.club, ignore_errors=True)
        write(self.club)

    def put(self, path: str, content: str | bytes) -> Path:
        """A file in the club's folder."""
        place = self.club / path
        place.parent.mkdir(parents=True, exist_ok=True)
        place.write_bytes(content.encode("utf-8", "surrogatepass") if isinstance(content, str) else content)
        return place

    def docgen(self, *words: str | Path, short: bool = True) -> str:
        """What the command says, and how it ends."""
        from docgen.cli.frame import docgen

        done = CliRunner().invoke(docgen, ["--club", str(self.club), *map(str, words)])
        if done.exception is not None and not isinstance(done.exception, SystemExit):
            raise done.exception
        said = self.plain(done.output)
        return f"{shortened(said.strip(chr(10))) if short else said}\n(ends with {done.exit_code})"

    def plain(self, text: str) -> str:
        """Text without the name of this very folder."""
        return text.replace(str(self.root), "PLACE")


def shortened(text: str) -> str:
    """The text; of many findings the first and last two, and the digest of all, so that it is compared whole."""
    blocks = text.split("\n\n")
    if len(blocks) <= MANY:
        return text
    whole = hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()
    return "\n\n".join([*blocks[:2], f"(and {len(blocks) - 4} more; the whole has the SHA-256 {whole})", *blocks[-2:]])


def cases(group: str) -> Sequence[Case]:
    """The cases of a group."""
    found: Sequence[Case] = import_module(f"tests.hostile.{group}").CASES
    return found


def answers(group: str) -> dict[str, str]:
    """The words written down for a group, by case."""
    blocks = (HERE / "refusals" / f"{group}.txt").read_text("utf-8").split("=== ")[1:]
    return {name: body.strip("\n") for name, _, body in (block.partition(" ===\n") for block in blocks)}


def written(told: dict[str, str]) -> str:
    """Answers as the text of their file."""
    return "\n".join(f"=== {name} ===\n{text}\n" for name, text in told.items())
