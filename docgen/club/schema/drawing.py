"""A drawing that a step brings along: its words for who cannot see it, and its lines as SVG."""

from typing import Annotated, Any

from pydantic import BeforeValidator

from docgen.club.schema.base import Strict, Text, fault
from docgen.club.svg import SvgFault, clean_svg


def _svg(value: Any) -> Any:
    if not isinstance(value, str):
        raise fault("not-text", "text is needed here: that of an .svg file", "write svg: | and the text below it")
    try:
        return clean_svg(value)
    except SvgFault as error:
        raise fault(error.name, error.message, error.hint) from None


Svg = Annotated[str, BeforeValidator(_svg)]


class OwnDrawing(Strict):
    """``title`` says in words what the drawing shows; it stands beside it, and is read aloud in its place."""

    title: Text
    svg: Svg
