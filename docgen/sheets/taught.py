"""A procedure's own page that teaches: Markdown to HTML that can do nothing but be read.

The text may come from a stranger. HTML in it is printed as it stands, not obeyed; pictures and links lose their
targets, so that nothing is fetched and nothing leads out of the page; headings begin below the sheet's own.
"""

from __future__ import annotations

from functools import cache
from typing import NamedTuple

from markdown_it import MarkdownIt
from markdown_it.token import Token
from markupsafe import Markup

LEVEL = 2
"""The highest heading of a page that teaches; the sheet's title stands above it."""
_DEEPEST = 6


@cache
def _parser() -> MarkdownIt:
    parser = MarkdownIt("commonmark", {"html": False}).enable("table")
    return parser.disable(["image", "link", "autolink", "reference", "html_block", "html_inline"])


class Taught(NamedTuple):
    """One block of the page: a heading, a paragraph, a list, a table."""

    html: Markup
    heading: bool


def taught(text: str) -> tuple[Taught, ...]:
    """The page's blocks as HTML, in order.

    >>> [str(one.html) for one in taught("# Why\\n\\nA <b>dry</b> clutch.")]
    ['<h2>Why</h2>\\n', '<p>A &lt;b&gt;dry&lt;/b&gt; clutch.</p>\\n']
    """
    found: list[Taught] = []
    block: list[Token] = []
    level, depth = LEVEL - 1, 0
    for token in _parser().parse(text):
        if token.type in ("heading_open", "heading_close"):
            level = _tag(token, level)
        block.append(token)
        depth += token.nesting
        if depth == 0:
            html = Markup(_parser().renderer.render(block, _parser().options, {}))
            found.append(Taught(html, block[0].type == "heading_open"))
            block = []
    return tuple(found)


def _tag(token: Token, last: int) -> int:
    """A heading at its level below the sheet's title, never more than one deeper than the one before."""
    wanted = min(int(token.tag[1]) + LEVEL - 1, _DEEPEST)
    level = min(wanted, last + 1) if token.type == "heading_open" else last
    token.tag = f"h{level}"
    return level
