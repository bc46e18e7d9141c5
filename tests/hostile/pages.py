"""Hostile pages: all ways by which HTML, CSS or SVG can ask for something from elsewhere, handed to the press.

No stranger writes pages (templates are the program's own), so this is the second fence: it holds even if the first,
that a stranger's words are only ever printed as words, should fall. What each page asks for lies there and can be read.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import UTC, datetime
from typing import Any

from docgen.press.meta import Order, PressError
from docgen.press.render import render
from tests.hostile.cases import Case, Place
from tests.hostile.prose import acts

META: dict[str, Any] = {
    "title": "A page", "author": "Nobody", "subject": "A page", "keywords": ("page",), "language": "en",
    "created": datetime(2030, 4, 1, 12, tzinfo=UTC), "identifier": "7A-HOS-01-001-C1",
}  # fmt: skip
SVG = 'xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" viewBox="0 0 9 9" width="9"'
NET = "http://127.0.0.1:9/a.png"

WAYS: Mapping[str, tuple[str, str]] = {
    "page-img: a file": ('<img alt="x" src="{url}">', ""),
    "page-img: a bare path": ('<img alt="x" src="{path}">', ""),
    "page-img: a path going up": ('<img alt="x" src="../../../../etc/passwd">', ""),
    "page-img: the network": (f'<img alt="x" src="{NET}">', ""),
    "page-img: a network share": ('<img alt="x" src="//127.0.0.1/share/a.png">', ""),
    "page-img: another protocol": ('<img alt="x" src="ftp://127.0.0.1/a.png">', ""),
    "page-img: several sizes": (f'<img alt="x" src="asset:none" srcset="{NET} 2x">', ""),
    "page-link: a style sheet": ('<link rel="stylesheet" href="{url}">', ""),
    "page-link: an icon": ('<link rel="icon" href="{url}">', ""),
    "page-link: a base": ('<base href="{url}">', ""),
    "page-link: a link to a file": ('<a href="{url}">x</a>', ""),
    "page-link: a link to the network": (f'<a href="{NET}">x</a>', ""),
    "page-link: a link that runs": ('<a href="javascript:alert(1)">x</a>', ""),
    "page-link: sent elsewhere": (f'<meta http-equiv="refresh" content="0; url={NET}">', ""),
    "page-import: a file": ("", "@import url({url});"),
    "page-import: the network": ("", f"@import '{NET}' print;"),
    "page-import: in a style element": ("<style>@import url({url});</style>", ""),
    "page-font-face: a file": ("", "@font-face {{ font-family: X; src: url({url}) }} h1 {{ font-family: X }}"),
    "page-font-face: the machine's": ("", "@font-face {{ font-family: X; src: local('S') }} p {{ font-family: X }}"),
    "page-font-face: the network": ("", f"@font-face {{{{ font-family: X; src: url({NET}) }}}} p {{{{ margin: 0 }}}}"),
    "page-svg-use: a file": (f'<svg {SVG}><title>x</title><use href="{{url}}#a"/></svg>', ""),
    "page-svg-use: a file, the old way": (f'<svg {SVG}><title>x</title><use xlink:href="{{url}}#a"/></svg>', ""),
    "page-svg-use: itself without end": (
        f'<svg {SVG}><title>x</title><g id="a"><use href="#a"/><use href="#a"/></g></svg>', ""),
    "page-svg-image: a file": (f'<svg {SVG}><title>x</title><image href="{{url}}" width="9" height="9"/></svg>', ""),
    "page-svg-image: the network": (
        f'<svg {SVG}><title>x</title><image xlink:href="{NET}" width="9" height="9"/></svg>', ""),
    "page-svg-image: HTML inside": (
        f'<svg {SVG}><title>x</title><foreignObject><img alt="x" src="{{url}}"></foreignObject></svg>', ""),
    "page-svg-image: a pattern": (
        f'<svg {SVG}><title>x</title><rect width="9" height="9" fill="url({{url}}#a)"/></svg>', ""),
    "page-svg-image: a style": (f'<svg {SVG}><title>x</title><style>@import "{{url}}";</style></svg>', ""),
    "page-object: an object": ('<object data="{url}"></object>', ""),
    "page-object: an embed": ('<embed src="{url}">', ""),
    "page-object: a frame": ('<iframe src="{url}"></iframe>', ""),
    "page-object: a script": ('<script src="{url}"></script>', ""),
    "page-object: a video": ('<video src="{url}"></video>', ""),
    "page-object: a form": (f'<form action="{NET}"><input name="a" title="a"></form>', ""),
    "page-attachment: a link": ('<link rel="attachment" href="{url}">', ""),
    "page-attachment: an anchor": ('<a rel="attachment" href="{url}">x</a>', ""),
    "page-data-uri: HTML": ('<img alt="x" src="data:text/html,<script>1</script>">', ""),
    "page-data-uri: a drawing": ('<img alt="x" src="data:image/svg+xml,<svg/>">', ""),
    "page-data-uri: a picture": ('<img alt="x" src="data:image/png;base64,aGVsbG8=">', ""),
    "page-data-uri: in a style sheet": ("", "p {{ background: url(data:text/css,p) }}"),
    "page-other-way: a background": ("", "body {{ background: url({url}) }}"),
    "page-other-way: a page's background": ("", "@page {{ background: url({url}) }}"),
    "page-other-way: a border": ("", "p {{ border: 1mm solid; border-image: url({url}) 1 }}"),
    "page-other-way: a list mark": ("<ul><li>x</li></ul>", "ul {{ list-style-image: url({url}) }}"),
    "page-other-way: made content": ("", "h1::before {{ content: url({url}) }}"),
    "page-other-way: a style attribute": ("<p style=\"background: url('{url}')\">x</p>", ""),
    "page-other-way: a colour profile": ("", "@color-profile --x {{ src: url({url}) }}"),
    "page-other-way: an asset by a path": ('<img alt="x" src="asset:../outside/s.png">', ""),
    "page-other-way: a font of ours": ("", "@font-face {{ font-family: X; src: url(font:body-bold) }}"),
}  # fmt: skip
ASSETS = {
    "page-svg-image: a drawing with entities": '<!DOCTYPE svg [<!ENTITY a "b">]><svg>&a;</svg>',
    "page-svg-image: a drawing that fetches": (
        f'<svg {SVG} height="9"><image href="file:///etc/passwd" width="9" height="9"/></svg>'
    ),
    "page-svg-image: a drawing that uses": f'<svg {SVG} height="9"><use href="file:///etc/passwd#a"/></svg>',
    "page-svg-image: a drawing with a style sheet": (
        f'<?xml-stylesheet href="file:///etc/passwd"?><svg {SVG} height="9"><path d="M0 0L9 9"/></svg>'
    ),
    "page-img: an asset of another kind": "<script>1</script>",
    "page-img: an asset that is no picture": "GIF89a" + "\0" * 20,
}


PAPER = "@page { size: 90mm 90mm; margin: 9mm }"


def _pressed(body: str, css: str, assets: Mapping[str, str]) -> str:
    try:
        made = _page(body, css + PAPER, assets)
    except PressError as error:
        return str(error)
    if made == _page("<span>x</span>", PAPER, {}):
        return "printed: the very bytes of the page with plain words in its place"
    return f"printed: {acts(made)}"


def _page(body: str, css: str, assets: Mapping[str, str]) -> bytes:
    html = f"<!doctype html><html><body><h1>A</h1><p>b</p>{body}</body></html>"
    return render(Order(key="", html=html, css=css, drawings=assets, **META)).pdf


def _way(key: str) -> Case:
    vector, _, name = key.partition(": ")

    def act(place: Place) -> str:
        path = str(place.outside / "s.png")
        body, css = (part.format(url=f"file://{path}", path=path) for part in WAYS[key])
        return place.plain(_pressed(body, css, {}))

    return Case(vector, name, act)


def _asset(key: str) -> Case:
    vector, _, name = key.partition(": ")

    def act(place: Place) -> str:
        return _pressed('<img alt="x" src="asset:a">', "", {"a": ASSETS[key]})

    return Case(vector, name, act)


def _cases() -> Iterator[Case]:
    yield from (_way(key) for key in WAYS)
    yield from (_asset(key) for key in ASSETS)


CASES = tuple(_cases())
