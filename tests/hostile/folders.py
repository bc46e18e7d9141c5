"""A club's folder that came from a stranger: links, pipes and paths out of it, and files that would take over.

What a folder may change of the program is nothing: a club's own style, colours and logo are not read by this version,
and its templates, settings and modules never are.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from pathlib import Path

from docgen.club.store import event_file
from tests.hostile.cases import Case, Place

SERVICE = {"event": "service", "date": "2030-04-03", "procedure": "rotor-service", "revision": "3"}
PRINT = ("print", "7A", "--job", "ROT")
TAKEOVERS = {
    "templates/leaf.html.j2": "{{ cycler.__init__.__globals__.os.system('touch outside/owned') }}",
    "templates/signoff.css.j2": "@import url(file:///etc/passwd);",
    "style.css": "body { display: none }",
    "templates/style.css": "@import url(http://127.0.0.1:9/);",
    "logo.svg": '<svg xmlns="http://www.w3.org/2000/svg"><image href="file:///etc/passwd"/></svg>',
    "colours.yaml": "black: white",
    "docgen/__init__.py": "raise SystemExit('taken over')",
    "sitecustomize.py": "raise SystemExit('taken over')",
    "weasyprint.py": "raise SystemExit('taken over')",
    ".env": "PYTHONSTARTUP=sitecustomize.py",
    "pyproject.toml": "[tool.docgen]\ntemplates = '.'\n",
    "fonts.conf": "<fontconfig><dir>/</dir></fontconfig>",
}


def _linked(link: str, target: str, *words: str) -> Callable[[Place], str]:
    """A link in the club's folder in the place of something, to something beside it."""

    def act(place: Place) -> str:
        path = place.club / link
        if path.is_dir():
            path.rename(place.club / f"{link}-away")
        path.unlink(missing_ok=True)
        path.parent.mkdir(parents=True, exist_ok=True)
        path.symlink_to(place.outside / target)
        return place.docgen(*words)

    return act


def _pipe(path: str, *words: str) -> Callable[[Place], str]:
    def act(place: Place) -> str:
        place.put(path, "")
        (place.club / path).unlink()
        os.mkfifo(place.club / path)
        return place.docgen(*words)

    return act


def _event(**changes: str) -> Callable[[Place], str]:
    """An event in the log of engine 7A, rightly named and digested."""

    def act(place: Place) -> str:
        name, data = event_file({**SERVICE, **changes}, ())
        place.put(f"engines/7A/log/{name}", data)
        return place.docgen("verify", "7A")

    return act


def _overridden(place: Place) -> str:
    """Two prints of the same sheets: of the club as it is, and with everything in its folder that could take over."""

    def sheets() -> dict[str, bytes]:
        said = place.docgen("print", "7A", "--job", "ROT", "--on", "2030-04-01")
        assert said.endswith("(ends with 0)"), said
        return {path.name: path.read_bytes() for path in sorted(place.club.glob("out/7A/*.pdf"))}

    plain = sheets()
    place.fresh()
    for path, content in TAKEOVERS.items():
        place.put(path, content)
    here = Path.cwd()
    os.chdir(place.club)
    try:
        changed = sheets()
    finally:
        os.chdir(here)
    same = [name for name in plain if plain[name] == changed.get(name)]
    return f"{len(TAKEOVERS)} files laid in the folder; the very same bytes printed: {', '.join(same)}"


def _poisoned(place: Place) -> str:
    """What was read before, kept in out/, in the wrong shape."""
    place.put("out/.read-before", b"docgen read this before " + b"0" * 64 + b"\n" + b"[" * 100_000)
    return place.docgen("proof")


def _named_badly(place: Place) -> str:
    place.put("engines/7A/signed/a\x1b]0;owned\x07\u202e.pdf", b"%PDF-1.7")
    place.put("engines/7A/log/.tmp-\x1b[2J", b"")
    return place.docgen("verify", "7A")


def _cases() -> Iterator[Case]:
    yield Case("folder-override", "templates, style, logo and modules", _overridden)
    yield Case("folder-override", "what was read before", _poisoned)
    yield Case("folder-link", "a procedure", _linked("procedures/x.yaml", "secret.yaml", "proof"))
    yield Case("folder-link", "a procedure to the system", _linked("procedures/x.yaml", "/etc/passwd", "proof"))
    yield Case("folder-link", "the club itself", _linked("club.yaml", "secret.yaml", "proof"))
    yield Case("folder-link", "the procedures' folder", _linked("procedures", ".", "proof"))
    yield Case("folder-link", "the engines' folder", _linked("engines", ".", "proof"))
    yield Case("folder-link", "an engine's folder", _linked("engines/9Z", ".", "proof"))
    yield Case("folder-link", "an engine's log", _linked("engines/7A/log", ".", *PRINT))
    yield Case("folder-link", "an engine's issued jobs", _linked("engines/7A/issued", ".", *PRINT))
    yield Case("folder-link", "an engine's signed sheets", _linked("engines/7A/signed", ".", "verify", "7A"))
    yield Case("folder-link", "the shared folder", _linked("shared", ".", "proof"))
    yield Case("folder-device", "a pipe for a procedure", _pipe("procedures/x.yaml", "proof"))
    yield Case("folder-device", "a pipe for the club", _pipe("club.yaml", "proof"))
    yield Case("folder-device", "a pipe for the origins", _pipe("shared/origins.yaml", "proof"))
    above = _event(file="../../../outside/secret.yaml", file_digest="0" * 64)
    yield Case("folder-path", "a signed sheet above the log", above)
    yield Case("folder-path", "a signed sheet of the system", _event(file="/dev/zero", file_digest="0" * 64))
    yield Case("folder-path", "a sheet of another place", _event(sheet="../../../../etc/passwd"))
    yield Case("folder-path", "a file's name that speaks to the terminal", _named_badly)
    yield Case("folder-path", "an engine named as a path", lambda place: place.docgen("card", "../../outside"))
    yield Case("folder-path", "a job named as a path", lambda place: place.docgen("print", "7A", "--job", "../../x"))


CASES = tuple(_cases())
