"""The templates: where they lie, and how strictly they are filled."""

from functools import cache
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup

from docgen.club.schema.prose import Said
from docgen.club.words import Words, message

_INSIDE = Path(__file__).resolve().parents[1] / "templates"
_BESIDE = Path(__file__).resolve().parents[2] / "templates"
_ENGLISH = Words()
PRECEDENCE = message("The engine maker’s manual, class rules, local codes and licensed practice come first.")
"""What stands on every page."""


def template_folder() -> Path:
    """The folder of the templates: inside the package when installed, beside it in a checkout."""
    return _INSIDE if _INSIDE.is_dir() else _BESIDE


def css_string(text: object) -> str:
    """Text as a CSS string, quotes included; nothing in it can end the string.

    >>> css_string('a"b')
    '"a\\\\22 b"'
    """
    return '"' + "".join(c if c.isalnum() or c in " .,-:·" else f"\\{ord(c):x} " for c in str(text)) + '"'


def marked(value: object) -> object:
    """A text that had to stay in another language, marked as such for whoever has the page read out.

    >>> marked(Said("nut & bolt", foreign="en")), marked("Mutter")
    (Markup('<span lang="en">nut &amp; bolt</span>'), 'Mutter')
    """
    if isinstance(value, Said) and value.foreign:
        return Markup('<span lang="{}">{}</span>').format(value.foreign, str(value))
    return value


@cache
def _environment() -> Environment:
    environment = Environment(
        loader=FileSystemLoader(template_folder()),
        undefined=StrictUndefined,
        autoescape=lambda name: name is not None and name.endswith(".html.j2"),
        finalize=marked,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.filters["css_string"] = css_string
    environment.filters["plain"] = str
    environment.globals["PRECEDENCE"] = PRECEDENCE
    return environment


def fill(template: str, **values: Any) -> str:
    """Fill a template, which says its own words with ``_("...")``: in the language of the value `w`, else in English.

    A name that it uses and that is not given is an error (jinja2.UndefinedError).
    """
    w = values.get("w", _ENGLISH)
    return _environment().get_template(template).render(_=w, pgettext=w.pgettext, **values)
