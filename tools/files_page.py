"""Writes docs/files.md from the schemas:  python -m tools.files_page"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any

from docgen.club.schema.editors import FLAG, LANGUAGE, LANGUAGES, TEXT
from docgen.club.schema.published import KINDS, json_schema

PAGE = Path(__file__).resolve().parent.parent / "docs/files.md"
HEAD = """\
# The club's files, key by key

Written from the program's own schemas by `python -m tools.files_page`; a test holds the two together. An editor with
a YAML language server shows the same: `docgen schema --write` puts the schemas into `schemas/`, and the first line of
each file that `docgen new` makes names the one it goes by. Of {mistakes} mistakes that members make, an editor shows
{caught} while they are typed (`tests/editors`); `docgen proof` finds them all.

- A **name** is lower-case words joined by hyphens, as `clutch-nut`. A file is called by the name inside it.
- A **member** is a name, or one of several of that name, as `head-nuts/2`.
- A **figure** has its unit: `34 N.m`, `0.5 mm`, `20 min`.
- A **range** is `0.50..0.60 mm`, `<= 0.10 mm`, `>= 5 mm`, `34 N.m +/- 10 %`, or one figure.
- Where a list is wanted, one thing may stand alone: `fits: rotor` is `fits: [rotor]`.
- Text may be given in several languages: `title: {{en: Clutch, de: Kupplung}}`.
- A key with nothing behind it is refused: leave it out.

Keys in **bold** must be there.

What the program writes is not in this list, and nobody edits it: `engines/NNN/log/` (what happened, see
[record.md](record.md)), `engines/NNN/issued/` (what each printed sheet told its reader), `shared/` (which versions of
shared files are known), `procedures/RELEASED`, `out/`.
"""
KNOWN = ((TEXT, "text"), (FLAG, "`true` or `false`"), (LANGUAGES, "text"), (LANGUAGE, "a language, as `de`"))
TEXTS = {
    "club": "The club, its paper, its season, and its registers of tools, gauges and materials.",
    "procedure": "A job as it is done every time.",
    "sequence": "A few steps that several jobs share by name. It lies among the procedures.",
    "model": "An engine type: parts, fasteners, limits, settings, and what covers what.",
    "engine": "One engine as it was received.",
    "stock": "What lies on the shelf. A club without one simply counts at the shelf.",
    "labels": "The club's own label sheets.",
    "glossary": "The terms of the trade that the jobs use.",
}


SLIPS = """\
## Twenty mistakes of typing

Each has an answer of its own, with its place and what to do. Whatever else cannot be read is shown with what could
stand there.

| mistake | as typed | its name in the answer |
|---|---|---|
"""


def page(mistakes: int, caught: int, slips: Iterable[tuple[str, str | bytes, str]]) -> str:
    """The whole page; the figures are those of the wrong files that the tests try, `slips` the twenty mistakes."""
    rows = [HEAD.format(mistakes=mistakes, caught=caught)]
    told: set[str] = set()
    for kind, (_, place) in KINDS.items():
        whole = json_schema(kind)
        rows += [f"## {kind.capitalize()}: `{place}`\n\n{TEXTS[kind]}\n", "\n".join(_table(whole)), ""]
        for name, inner in whole.get("definitions", {}).items():
            if name not in told:
                told.add(name)
                rows += [f"### {_spaced(name)}\n\n{inner.get('description', '')}\n".replace("\n\n\n", "\n"),
                         "\n".join(_table(inner)), ""]  # fmt: skip
    return "\n".join(rows).rstrip() + "\n\n" + SLIPS + "".join(map(_slip, slips))


def _slip(slip: tuple[str, str | bytes, str]) -> str:
    what, typed, name = slip
    text = typed.decode("cp1252") if isinstance(typed, bytes) else typed
    lines = [line.replace("\t", "\u2192").replace("\u00a0", "\u2423") for line in text.splitlines()]
    return f"| {what} | {'<br>'.join(f'`{line}`' for line in lines)} | {name} |\n"


def _table(shape: dict[str, Any]) -> Iterator[str]:
    yield "| key | what may be written | what it is for |"
    yield "|---|---|---|"
    needed = shape.get("required", [])
    for key, value in shape["properties"].items():
        name = f"**`{key}`**" if key in needed else f"`{key}`"
        yield f"| {name} | {_words(value).replace('|', chr(92) + '|')} | {value['description']} |"


def _words(value: dict[str, Any]) -> str:
    """What a field takes, in words."""
    said = {key: part for key, part in value.items() if key != "description"}
    if "$ref" in said:
        name = said["$ref"].rpartition("/")[2]
        return f"[{_spaced(name).lower()}](#{_spaced(name).lower().replace(' ', '-')})"
    for known, words in KNOWN:
        if said == known:
            return words
    if "enum" in said:
        return ", ".join(f"`{word}`" for word in said["enum"])
    if "patternErrorMessage" in said:
        return _hint(str(said["patternErrorMessage"]), "range" if "/-" in said["pattern"] else "figure")
    if "anyOf" in said:
        return _either(said["anyOf"])
    if said.get("type") == "array":
        return f"a list: {_words(said['items'])}"
    if "patternProperties" in said:
        return f"by name: {_words(next(iter(said['patternProperties'].values())))}"
    if said.get("type") == "object" and isinstance(said.get("additionalProperties"), dict):
        return f"by name: {_words(said['additionalProperties'])}"
    return "text"


def _hint(text: str, what: str) -> str:
    if text.startswith("names are"):
        return "a name"
    if text.startswith("write clutch-nut"):
        return "a member"
    found = re.fullmatch(r"write a figure with its unit, as in ([^;]+)(?:; units of (\w+): (.*))?", text)
    if found:
        of = f" of {found[2]} ({found[3]})" if found[2] else ""
        return f"a {what}{of}"
    return text.removeprefix("write ")


def _either(choices: list[dict[str, Any]]) -> str:
    words = list(dict.fromkeys(_words(one) for one in choices))
    lists = {f"a list: {word}" for word in words}
    short = [word for word in words if word not in lists or word.removeprefix("a list: ") not in words]
    if len(short) < len(words):
        short[0] += " (or a list)"
    return ", or ".join(short)


def _spaced(name: str) -> str:
    """``SafetyMessage`` as ``Safety message``."""
    return re.sub(r"(?<!^)([A-Z])", lambda found: f" {found[1].lower()}", name)


if __name__ == "__main__":
    from tests.club.twenty import TWENTY
    from tests.editors.test_language_server import expected

    wrong = expected()
    PAGE.write_text(page(len(wrong), sum(bool(said) for said in wrong.values()), TWENTY), "utf-8")
