"""A procedure's own page that teaches: Markdown to HTML that can do nothing but be read.

The text may come from a stranger. HTML, pictures, links and character codes (``&#x202e;``) are printed as they stand:
nothing is fetched, nothing leads out of the page, nothing is there that cannot be seen. Headings begin below the
sheet's own.
"""

from collections.abc import Iterator
from functools import cache
from typing import NamedTuple

from markdown_it import MarkdownIt
from markdown_it.token import Token
from markupsafe import Markup

LEVEL = 2
"""The highest heading of a page that teaches; the sheet's title stands above it."""
_DEEPEST = 6
MAX_EMPHASIS = 4
"""How deep bold and italics are kept within each other; the press would give up some hundred levels down."""


@cache
def _parser() -> MarkdownIt:
    parser = MarkdownIt("commonmark", {"html": False}).enable("table")
    return parser.disable(["image", "link", "autolink", "reference", "html_block", "html_inline", "entity"])


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
        if token.type == "inline":
            token.children = list(_shallow(token.children or []))
        token.info = ""  # the name of a language, which would become that of a class
        block.append(token)
        depth += token.nesting
        if depth == 0:
            html = Markup(_parser().renderer.render(block, _parser().options, {}))
            found.append(Taught(html, block[0].type == "heading_open"))
            block = []
    return tuple(found)


def _shallow(tokens: list[Token]) -> Iterator[Token]:
    """The tokens of a line without the marks that stand too deep within each other; their words stay."""
    depth = 0
    for token in tokens:
        depth += max(token.nesting, 0)
        if not token.nesting or depth <= MAX_EMPHASIS:
            yield token
        depth += min(token.nesting, 0)


def _tag(token: Token, last: int) -> int:
    """A heading at its level below the sheet's title, never more than one deeper than the one before."""
    wanted = min(int(token.tag[1]) + LEVEL - 1, _DEEPEST)
    level = min(wanted, last + 1) if token.type == "heading_open" else last
    token.tag = f"h{level}"
    return level
