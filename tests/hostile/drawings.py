"""Hostile drawings in a step: SVG that would run, fetch, hide, or never end."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from tests.hostile.cases import Case, Place
from tests.smallclub import texts

PATH = "procedures/rotor-service.yaml"
HEAD = '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" viewBox="0 0 90 60">'
LINE = '<path d="M0 0L9 9"/>'


def _svg(inside: str) -> str:
    return f"{HEAD}{inside}</svg>"


DRAWINGS = {
    "a script": _svg(f"{LINE}<script>alert(1)</script>"),
    "a handler of its own": _svg('<path d="M0 0L9 9" onload="alert(1)"/>'),
    "a picture of a file": _svg(f'{LINE}<image href="file:///etc/passwd" width="9" height="9"/>'),
    "a picture from the network": _svg(f'{LINE}<image xlink:href="http://127.0.0.1:9/a.png"/>'),
    "a use of a file": _svg(f'{LINE}<use href="file:///etc/passwd#a"/>'),
    "a use of itself": _svg('<g id="a"><use href="#a"/><use href="#a"/></g>'),
    "a style sheet": _svg(f"<style>@import url(file:///etc/passwd);</style>{LINE}"),
    "a style that fetches": _svg('<path style="fill: url(file:///etc/passwd#a)" d="M0 0L9 9"/>'),
    "a paint that fetches": _svg('<path fill="url(http://127.0.0.1:9/#a)" d="M0 0L9 9"/>'),
    "a filter": _svg('<path filter="url(file:///etc/passwd#a)" d="M0 0L9 9"/>'),
    "HTML inside": _svg(f'{LINE}<foreignObject><iframe src="file:///etc/passwd"/></foreignObject>'),
    "a link": _svg(f'<a href="javascript:alert(1)">{LINE}</a>'),
    "words": _svg(f"{LINE}<text>340 N.m</text>"),
    "something hidden": _svg(f'{LINE}<path d="M1 1L2 2" visibility="hidden"/>'),
    "a document type": f'<!DOCTYPE svg [<!ENTITY a SYSTEM "file:///etc/passwd">]>{_svg(LINE + "&a;")}',
    "entities that multiply": '<!DOCTYPE s [<!ENTITY a "aa"><!ENTITY b "&a;&a;&a;&a;">]>' + _svg(f"{LINE}&b;&b;"),
    "a style sheet of the document": f'<?xml-stylesheet href="file:///etc/passwd"?>{_svg(LINE)}',
    "shapes without end": _svg("<path/>" * 1510),
    "groups without end": _svg("<g>" * 900 + LINE + "</g>" * 900),
    "figures without end": _svg(f'<path d="{"M" + "9" * 5000}"/>'),
    "a box of two points": HEAD.replace("90 60", "9.0.0 6..0") + f"{LINE}</svg>",
    "no box": f'<svg xmlns="http://www.w3.org/2000/svg">{LINE}</svg>',
    "a box of nothing": HEAD.replace("90 60", "0 0") + f"{LINE}</svg>",
    "another document": "<html><body><script>alert(1)</script></body></html>",
    "no document": "<svg",
}


def _drawn(svg: str) -> Callable[[Place], str]:
    def act(place: Place) -> str:
        step = "      - do: Slide the spacer on.\n"
        text = texts()[PATH]
        assert step in text
        drawing = f"        draws:\n          title: A drawing.\n          svg: '{svg.replace(chr(39), chr(39) * 2)}'\n"
        place.put(PATH, text.replace(step, step + drawing, 1))
        return place.docgen("proof")

    return act


def _cases() -> Iterator[Case]:
    yield from (Case("drawing", name, _drawn(svg)) for name, svg in DRAWINGS.items())


CASES = tuple(_cases())
