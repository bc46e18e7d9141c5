"""Nothing gets in but what was handed over, and nothing of the machine gets out: every way that WeasyPrint can fetch.

The file that each way tries to reach is real and readable, so only the refusal keeps it out.
"""

from __future__ import annotations

import base64
import io
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from PIL import Image

from docgen.press.meta import Pressed, PressError
from docgen.press.page import SealedFetcher
from tests.press.conftest import html, render

SVG = 'xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9" width="9"'


def _png(side: int = 2) -> bytes:
    out = io.BytesIO()
    Image.new("L", (side, side)).save(out, "PNG")
    return out.getvalue()


@pytest.fixture
def secret() -> Iterator[str]:
    path = Path(tempfile.mkdtemp()) / "s.png"  # a short name, so that messages show it whole
    path.write_bytes(_png())
    yield path.as_uri()
    path.unlink()
    path.parent.rmdir()


WAYS = {
    "picture": ('<img alt="x" src="{url}">', ""),
    "picture by a bare path": ('<img alt="x" src="{path}">', ""),
    "picture over the network": ('<img alt="x" src="http://127.0.0.1:9/a.png">', ""),
    "drawing's picture": (f'<svg {SVG}><title>x</title><image href="{{url}}" width="9" height="9"/></svg>', ""),
    "drawing's part": (f'<svg {SVG}><title>x</title><use href="{{url}}#a"/></svg>', ""),
    "drawing's style": (f'<svg {SVG}><title>x</title><style>@import "{{url}}";</style></svg>', ""),
    "style attribute": ("<p style=\"background: url('{url}')\">x</p>", ""),
    "background": ("", "body {{ background: url({url}) }}"),
    "page background": ("", "@page {{ background: url({url}) }}"),
    "border picture": ("", "p {{ border: 1mm solid; border-image: url({url}) 1 }}"),
    "list mark": ("<ul><li>x</li></ul>", "ul {{ list-style-image: url({url}) }}"),
    "content": ("", "h1::before {{ content: url({url}) }}"),
    "import": ("", "@import url({url});"),
    "font": ("", "@font-face {{ font-family: X; src: url({url}) }} h1 {{ font-family: X }}"),
    "font of the machine": ("", "@font-face {{ font-family: X; src: local('DejaVu Sans') }} h1 {{ font-family: X }}"),
    "colour profile": ("", "@color-profile --x {{ src: url({url}) }}"),
    "unknown asset": ('<img alt="x" src="asset:other">', ""),
    "unknown font": ("", "@font-face {{ font-family: X; src: url(font:other) }} h1 {{ font-family: X }}"),
    "font of ours": ("", "@font-face {{ font-family: X; src: url(font:body-bold) }} h1 {{ font-family: X }}"),
    "style sheet": ('<link rel="stylesheet" href="{url}">', ""),
    "attached link": ('<link rel="attachment" href="{url}">', ""),
    "own style": ("<style>p {{ background: url({url}) }}</style>", ""),
    "base": ('<base href="{url}">', ""),
    "object": ('<object data="{url}"></object>', ""),
    "embed": ('<embed src="{url}">', ""),
    "frame": ('<iframe src="{url}"></iframe>', ""),
    "script": ("<script>1</script>", ""),
}


REFUSED = "not a font or drawing of ours"
NO_PLACE = "<{}> has no place on paper: CSS goes to the press by itself, pictures are assets"
ANSWERS = {
    "picture by a bare path": "refused to load {path}: " + REFUSED,
    "picture over the network": "refused to load http://127.0.0.1:9/a.png: " + REFUSED,
    "drawing's part": 'a drawing uses "{url}#a": it may use only parts of itself, as in href="#part"',
    "drawing's style": NO_PLACE.format("style"),
    "import": "CSS: refused to load {url}: " + REFUSED,
    "font": "CSS: refused to load {url}: " + REFUSED,
    "font of the machine": "CSS: Font-face 'X' cannot be loaded",
    "colour profile": "CSS: ValueError: refused: {url}: " + REFUSED,
    "unknown asset": "refused to load asset:other: " + REFUSED,
    "unknown font": "CSS: refused to load font:other: " + REFUSED,
    "font of ours": "CSS: refused to load font:body-bold: " + REFUSED,
    "style sheet": NO_PLACE.format("link"),
    "attached link": NO_PLACE.format("link"),
    "own style": NO_PLACE.format("style"),
    "base": NO_PLACE.format("base"),
    "object": NO_PLACE.format("object"),
    "embed": NO_PLACE.format("embed"),
    "frame": NO_PLACE.format("iframe"),
    "script": NO_PLACE.format("script"),
}


@pytest.mark.parametrize("way", WAYS)
def test_every_way_in_is_refused(secret: str, way: str) -> None:
    path = secret.removeprefix("file://")
    body, css = (part.format(url=secret, path=path) for part in WAYS[way])
    with pytest.raises(PressError) as caught:
        render(html(f"<h1>A</h1><p>b</p>{body}"), css=css)
    answer = ANSWERS.get(way, "refused to load {url}: " + REFUSED)
    assert str(caught.value) == answer.format(url=secret, path=path)


@pytest.mark.parametrize("way", ["", ' rel="attachment"', ' download="x"'])
def test_links_out_become_plain_text(page: Callable[..., Pressed], secret: str, way: str) -> None:
    with_link = page(f'<h1>A</h1><p><a href="{secret}"{way}>b</a></p>')
    assert with_link.pdf == page("<h1>A</h1><p><span>b</span></p>").pdf


def _refusal(url: str, **assets: str) -> str:
    fetcher = SealedFetcher(assets=assets)
    with pytest.raises(ValueError, match="^refused: "):
        fetcher.fetch(url)
    (said,) = fetcher.refused
    return said


def test_refusals_say_what_and_why() -> None:
    assert _refusal("file:///etc/passwd") == f"file:///etc/passwd: {REFUSED}"
    assert _refusal("asset:../x") == f"asset:../x: {REFUSED}"
    data = base64.b64encode(_png()).decode()
    for kind in ("text/html", "image/svg+xml", "image/png"):
        assert _refusal(f"data:{kind};base64,{data}").endswith(f": {REFUSED}")
    bomb = '<!DOCTYPE svg [<!ENTITY a "b">]><svg>&a;</svg>'
    assert _refusal("asset:a", a=bomb) == "asset:a: a drawing with a document type"


def test_the_fetcher_has_no_handler_that_could_reach_out() -> None:
    assert SealedFetcher().handlers == []
