"""Plain data as a file's text: the reader gives it back unchanged, whatever it is."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from docgen.club.read import read_club
from docgen.club.yamldoc import Data
from docgen.club.yamltext import read_yaml
from docgen.share.container import ParcelRefused
from docgen.share.layout import to_text
from docgen.share.pack import shared_files
from tests.conftest import ROOT

TEXT = st.text(st.characters(codec="utf-8", exclude_categories=("C", "Zl", "Zp")), min_size=1, max_size=40)
DATA = st.dictionaries(
    st.from_regex(r"[a-z]{1,8}", fullmatch=True),
    st.recursive(
        TEXT,
        lambda inner: st.lists(inner, min_size=1, max_size=3)
        | st.dictionaries(st.from_regex(r"[a-z][a-z0-9-]{0,6}", fullmatch=True), inner, min_size=1, max_size=3),
        max_leaves=8,
    ),
    min_size=1,
    max_size=4,
)


@given(DATA)
def test_what_is_written_is_read_back(data: dict[str, Data]) -> None:
    try:
        text = to_text(data)
    except ParcelRefused as refused:
        # The reader takes no look-alike letters, no odd spaces and so on: then it is not written either.
        assert refused.name == "not-storable"  # noqa: PT017
        return
    document, problems = read_yaml("text", text)
    assert problems == []
    assert document is not None
    assert document.data == data


def test_every_file_of_the_demo_is_read_back() -> None:
    reads = shared_files(read_club(ROOT))
    assert len(reads) > 50
    for path, read in reads.items():
        document, problems = read_yaml(path, to_text(read.document.data))
        assert problems == []
        assert document is not None
        assert document.data == read.document.data, path


@pytest.mark.parametrize(
    ("data", "text"),
    [
        ({"title": "Clutch - clean"}, "title: Clutch - clean\n"),
        ({"why": "a: b"}, 'why: "a: b"\n'),
        ({"steps": [{"do": "Look.", "takes": "1 min"}]}, "steps:\n  - do: Look.\n    takes: 1 min\n"),
        ({"needs": ["dry-clutch", "reed-valve"]}, "needs: [dry-clutch, reed-valve]\n"),
        ({"parts": {"a": {"count": "2"}}}, "parts:\n  a: {count: 2}\n"),
        ({"draws": {"title": "x", "svg": "<svg>\n  <g/>\n</svg>\n"}},
         'draws:\n  title: x\n  svg: |\n    <svg>\n      <g/>\n    </svg>\n'),
        ({"text": "yes"}, "text: yes\n"),
        ({"empty": []}, "empty: []\n"),
    ],
)  # fmt: skip
def test_how_it_looks(data: Data, text: str) -> None:
    assert to_text(data) == text
