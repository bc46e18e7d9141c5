"""docs/files.md is what the schemas say. After a change:  python -m tools.files_page"""

from __future__ import annotations

import re

from docgen.club.schema.published import KINDS, each_key
from tests.club.twenty import TWENTY
from tests.editors.test_language_server import expected
from tools.files_page import PAGE, page


def test_the_page_is_fresh() -> None:
    wrong = expected()
    fresh = page(len(wrong), sum(bool(said) for said in wrong.values()), TWENTY)
    assert PAGE.read_text("utf-8") == fresh, "run: python -m tools.files_page"


def test_it_has_every_key_and_its_links_lead_somewhere() -> None:
    text = PAGE.read_text("utf-8")
    keys = {key for kind in KINDS for _, key, _ in each_key(kind)}
    assert len(keys) > 120
    assert {key for key in keys if f"`{key}`" not in text} == set()
    places = {title.lower().replace(" ", "-") for title in re.findall(r"^#+ (.*)$", text, re.MULTILINE)}
    linked = set(re.findall(r"\]\(#([^)]+)\)", text))
    assert len(linked) > 20
    assert linked - places == set()
