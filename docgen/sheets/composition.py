"""A page made of its templates. Apart from the page itself, which the press knows without all that makes one."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from docgen.club.words import Words
from docgen.sheets.figures import capital, day, figure, minutes
from docgen.sheets.jinja import fill
from docgen.sheets.numbering import Numbers
from docgen.sheets.page import Body, Page
from docgen.sheets.signals import signal


def page_of(
    stem: str, w: Words, values: Mapping[str, Any], title: str, identifier: str, *, subject: str = "",
    drawings: Mapping[str, str] | None = None, codes: Mapping[str, str] | None = None, body: Body | None = None,
    numbers: Numbers | None = None,
) -> Page:  # fmt: skip
    """The page that the templates ``stem`` make of values, in the language of ``w``; with a body, its faces too."""
    given = {
        "w": w,
        "body": body,
        "capital": capital,
        "figure": lambda text: figure(text, w),
        "day": lambda when: day(when, w),
        "minutes": lambda count: minutes(count, w),
        "warning": lambda message: signal(message, w),
        **values,
    }
    return Page(
        html=fill(f"{stem}.html.j2", **given),
        css=fill(f"{stem}.css.j2", **given),
        title=title,
        subject=subject or identifier,
        identifier=identifier,
        language=w.language,
        drawings=drawings or {},
        codes=codes or {},
        body=body,
        faces=fill(f"{stem}_faces.css.j2", **given) if body else "",
        numbers=numbers,
    )
