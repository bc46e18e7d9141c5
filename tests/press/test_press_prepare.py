"""What a page must have before it is laid out, and what is said when it has not."""

from __future__ import annotations

import io
from collections.abc import Callable
from datetime import datetime
from typing import Any

import pikepdf
import pytest

from docgen.press.meta import NO_FACE, Order, Pressed, PressError
from tests.press.conftest import PAPER, WHEN, render

FAULTS = {
    "no first heading": ("<h2>Open</h2>", 'heading "Open" is h2 but follows the start: use h1'),
    "a level skipped": ("<h1>A</h1><h3>B</h3>", 'heading "B" is h3 but follows h1: use h2'),
    "a long heading": (
        f"<h1>A</h1><h4>{'word ' * 20}</h4>",
        'heading "word word word word word word word wo..." is h4 but follows h1: use h2',
    ),
    "a picture without words": (
        '<h1>A</h1><img src="asset:a">',
        'picture "asset:a" has no alternative text: give it alt="..."',
    ),
    "a drawing without words": (
        '<h1>A</h1><svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 1 1"></svg>',
        "a drawing has no alternative text: give its <svg> a <title> with text",
    ),
    "a letter in a drawing": (
        '<h1>A</h1><svg xmlns="http://www.w3.org/2000/svg"><title>T</title><text>\U00010480</text></svg>',
        f'{NO_FACE} here has "\U00010480" (U+10480): change it in the file that says it',
    ),
    "two faults": (
        "<h1>A</h1><h3>B</h3><script>1</script>",
        "<script> has no place on paper: CSS goes to the press by itself, pictures are assets\n"
        'heading "B" is h3 but follows h1: use h2',
    ),
}


@pytest.mark.parametrize("case", FAULTS)
def test_faults_are_named(page: Callable[..., Pressed], case: str) -> None:
    body, message = FAULTS[case]
    with pytest.raises(PressError) as caught:
        page(body)
    assert str(caught.value) == message
    assert caught.value.faults == tuple(message.split("\n"))


@pytest.mark.parametrize("body", ["<h1>A</h1><h2>B</h2><h3>C</h3><h2>D</h2>", "<p>no heading at all</p>"])
def test_sound_headings_pass(page: Callable[..., Pressed], body: str) -> None:
    assert page(body).pages == 1


@pytest.mark.parametrize(
    ("css", "message"),
    [
        ("p { colour: red }", "CSS: Ignored `colour: red ` at 1:5, unknown property."),
        ("p { width: 3 }", "CSS: Ignored `width: 3 ` at 1:5, invalid value."),
        ("p { color: red", None),
        ("@page { size: A44 }", "CSS: Ignored `size: A44 ` at 1:9, invalid value."),
    ],
)
def test_faulty_css_is_refused_each_time(css: str, message: str | None) -> None:
    def printed() -> Pressed:
        return render("<!doctype html><p>x</p>", css=css)

    for _ in range(2):  # a parsed style sheet is kept, its faults must be as well
        if message is None:
            assert printed().pages == 1
        else:
            with pytest.raises(PressError) as caught:
                printed()
            assert str(caught.value) == message


def test_a_link_to_nowhere_is_refused(page: Callable[..., Pressed]) -> None:
    with pytest.raises(PressError) as caught:
        page('<h1>A</h1><p><a href="#b">b</a></p>')
    assert str(caught.value) == "No anchor #b for internal URI reference"


def test_language_and_title_come_from_meta() -> None:
    body = '<!doctype html><html lang="fr"><head><meta charset="utf-8"><title>Other</title></head><h1>A</h1></html>'
    plain = "<!doctype html><h1>A</h1>"
    assert render(body, css=PAPER).pdf == render(plain, css=PAPER).pdf


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"title": " "}, "a document needs a title"),
        ({"language": "english please"}, '"english please" is not a BCP 47 language tag, such as "en" or "pt-BR"'),
        ({"created": datetime(2026, 1, 18)}, "the date of creation needs a time zone"),  # noqa: DTZ001
        ({"identifier": ""}, "the identifier must be printable ASCII and not empty"),
        ({"identifier": "ő"}, "the identifier must be printable ASCII and not empty"),
    ],
)
def test_meta_is_checked(change: dict[str, Any], message: str) -> None:
    given = {
        "title": "T",
        "author": "",
        "subject": "",
        "keywords": (),
        "language": "en",
        "created": WHEN,
        "identifier": "i",
    }
    with pytest.raises(ValueError, match=f"^{message.replace('+', '.')}$"):
        Order(key="", html="", css="", **(given | change))


def test_awkward_words_in_meta_survive(page: Callable[..., Pressed]) -> None:
    told = {"title": "A <b> & (c) \\ ő", "author": "鈴木 (x)", "subject": "", "keywords": (), "language": "pt-BR"}
    with pikepdf.open(io.BytesIO(page("<h1>A</h1>", identifier="a(b)\\c", **told).pdf)) as document:
        info = {key: str(value) for key, value in document.docinfo.items()}
        assert (info["/Title"], info["/Author"]) == ("A <b> & (c) \\ ő", "鈴木 (x)")
        assert not {"/Subject", "/Keywords"} & info.keys()
        assert bytes(document.trailer.ID[0]) == b"a(b)\\c"
        with document.open_metadata() as xmp:
            assert (xmp["dc:title"], xmp["dc:creator"]) == ("A <b> & (c) \\ ő", ["鈴木 (x)"])
