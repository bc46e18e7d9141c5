"""Hostile words in a procedure that is otherwise sound: printed as the words that they are, with nothing behind them.

All payloads stand in one procedure, each in a step of its own, and its three papers are printed once. A case's answer
is the line of the reading that holds its payload, and that of the leaf where it differs; and for each file as a whole,
what could be clicked, run, or fetched.
"""

from __future__ import annotations

import io
import json
import re
from collections.abc import Iterator

import pikepdf
import pypdf

from tests.hostile.cases import Case, Place
from tests.smallclub import texts

PATH = "procedures/rotor-service.yaml"
LEAF, SIGNOFF, READING = "7A-ROT-leaf", "7A-ROT-sign-off", "ROT-7A-reading"
HTML = {
    "a script": "<script>alert(1)</script>",
    "a picture that runs": "<img src=x onerror=alert(1)>",
    "a frame": '<iframe src="file:///etc/passwd"></iframe>',
    "a drawing that runs": "<svg onload=alert(1)><use href=#a /></svg>",
    "an end of the page": "</p></td></table></body></html>",
    "a style": "<style>@import url(file:///etc/passwd);</style>",
    "an entity": "Torque &lt;b&gt;34&lt;/b&gt; &#x202e; &copy;",
    "an attribute ended": 'Nut" onclick="x" data-x=\'y\'',
    "a comment opened": "<!-- the rest of the page",
}
MARKDOWN = {
    "a picture": "![nut](file:///etc/passwd)",
    "a heading": "## Not a heading of ours",
    "bold that hides": "**34** __340__ ~~10~~ N.m",
    "a code fence": "```html <b>x</b> ```",
    "a table": "|a|b|",
}
LINKS = {
    "a web address": "See https://example.invalid/torque?n=34 first",
    "a markdown link": "[the torque](https://example.invalid/)",
    "a script address": "javascript:alert(1)",
    "a file's address": "file:///etc/passwd",
    "a mail address": "<stranger@example.invalid>",
    "a link in HTML": '<a href="https://example.invalid/">34 N.m</a>',
}
TEMPLATE = {
    "a format string": "%s %n %(name)s $HOME `id` $(id)",
}
STYLE = {
    "an end of the string": 'R" } @import url(file:///etc/passwd); p { content: "x',
    "a comment closed": "*/ body /*",
    "an escape": "\\22 \\a \\7d p",
}
BRACED = {
    "prose-template: an expression": "{{ 7*7 }} {{ config }}",
    "prose-template: a statement": "{% include '/etc/passwd' %}",
    "prose-template: a way to the system": "{{ ''.__class__.__mro__[1].__subclasses__() }}",
    "prose-template: a format field": "{0.__class__} {nut!r:>99999999}",
    "prose-template: an attribute of a value": "{rotor-gap.__class__}",
    "prose-style: a rule": "<style>* { display: none }</style>",
}
"""Braces name a value of the model and nothing else, so these are refused before they are printed."""
PAYLOADS = {
    **{f"prose-html: {name}": text for name, text in HTML.items()},
    **{f"prose-markdown: {name}": text for name, text in MARKDOWN.items()},
    **{f"prose-link: {name}": text for name, text in LINKS.items()},
    **{f"prose-template: {name}": text for name, text in TEMPLATE.items()},
    **{f"prose-style: {name}": text for name, text in STYLE.items() if "{" not in text},
}


def _quoted(text: str) -> str:
    return "'" + text.replace("'", "''") + "'"


def _printed(place: Place) -> dict[str, str]:
    """The words of the three papers, and what the files hold beside words; printed once for all cases."""
    kept = place.root / "tmp" / "prose.json"
    if not kept.is_file():
        text = texts()[PATH]
        steps = "".join(
            f"      - {{do: {_quoted(f'Look at ({n}) {payload} (end)')}, look: {{id: w-{n}, accept: Flat on both faces,"
            " fail: {do: Put it aside.}}}\n"
            for n, payload in enumerate(PAYLOADS.values())
        )
        text = text.replace("  - stage: Close\n", f"  - stage: Words\n    steps:\n{steps}  - stage: Close\n", 1)
        text = text.replace("title: Rotor - clean and regrease", f"title: {_quoted(STYLE['an end of the string'])}", 1)
        text = text.replace("author: A. Tester", f"author: {_quoted('</dc:creator><b>&x;]]>')}", 1)
        place.put(PATH, text)
        said = [place.docgen("print", "7A", "--job", "ROT", "--on", "2030-04-01"),
                place.docgen("reading", "ROT", "--engine", "7A", "--on", "2030-04-01")]  # fmt: skip
        told = {"said": "\n".join(said)}
        for path in sorted(place.club.glob("out/*/*.pdf")):
            data = path.read_bytes()
            told |= {path.stem: _words(data), f"{path.stem} acts": acts(data)}
        kept.write_text(json.dumps(told), encoding="utf-8")
    found: dict[str, str] = json.loads(kept.read_text("utf-8"))
    return found


def _words(pdf: bytes) -> str:
    text = " ".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(pdf)).pages)
    return " ".join(text.split())


def acts(pdf: bytes) -> str:
    """Everything in a PDF that could be followed, run or opened, by kind."""
    counts = dict.fromkeys(("links out of the file", "links inside it", "scripts", "other actions", "files"), 0)
    with pikepdf.open(io.BytesIO(pdf)) as document:
        counts["files"] = len(document.attachments)
        for thing in document.objects:
            if not isinstance(thing, pikepdf.Dictionary):
                continue
            counts["scripts"] += "/JS" in thing
            counts["links out of the file"] += "/URI" in thing
            counts["links inside it"] += thing.get("/Subtype") == "/Link"
            counts["other actions"] += str(thing.get("/S", "")) in ("/Launch", "/GoToR", "/SubmitForm", "/ImportData")
    return ", ".join(f"{what} {number}" for what, number in counts.items())


def _line(number: int) -> Case:
    key = list(PAYLOADS)[number]
    vector, _, name = key.partition(": ")

    def act(place: Place) -> str:
        lines = []
        for sheet in (READING, LEAF):
            words = _printed(place)[sheet]
            found = re.search(rf"\({number}\) (.*?) \(end\)", words)
            lines.append(found[1] if found else f"not printed: {words[:2000]}")
        return lines[0] if lines[0] == lines[1] else f"{lines[0]}\n(the leaf: {lines[1]})"

    return Case(vector, name, act)


def _refused(key: str) -> Case:
    vector, _, name = key.partition(": ")

    def act(place: Place) -> str:
        place.put(PATH, texts()[PATH].replace("The stop keeps the crankshaft from turning.", _quoted(BRACED[key]), 1))
        return place.docgen("proof")

    return Case(vector, name, act)


def _cases() -> Iterator[Case]:
    yield from (_line(number) for number in range(len(PAYLOADS)))
    yield from (_refused(key) for key in BRACED)
    yield Case("prose-html", "what the command says", lambda place: _printed(place)["said"])
    for sheet in (LEAF, SIGNOFF, READING):
        name = f"what can be clicked on {sheet}"
        yield Case("prose-link", name, lambda place, sheet=sheet: _printed(place)[f"{sheet} acts"])
    yield Case("prose-style", "the title", lambda place: _between(_printed(place)[READING]))


def _between(words: str) -> str:
    at = words.find('R" }')
    return words[at : at + len(STYLE["an end of the string"])] if at >= 0 else words[:500]


CASES = tuple(_cases())
