"""Whatever honest text somebody writes is kept, and read back letter by letter, however long it is."""

from __future__ import annotations

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from docgen.club import store
from docgen.club.store import to_yaml
from docgen.club.text import look_alike_digit, odd_space, unwanted
from docgen.club.yamlscalar import MAX_TEXT
from docgen.club.yamltext import read_yaml
from docgen.returns.filing import fit_or_refuse

MARKS = "- # ' \" { } [ ] ? & * ! | > % @ ` \\ , --- ... = << ~".split()
WORDS = ["warm", "engine", "- look", "look:again", "a: b", "#3", "1.5", "34 N.m", "\n", "\t", "do:this", *MARKS]
PROSE = st.lists(st.sampled_from(WORDS), min_size=1, max_size=80).flatmap(
    lambda words: st.sampled_from([" ", "", "\n"]).map(lambda between: between.join(words))
)
HONEST = st.one_of(PROSE, st.text(min_size=1, max_size=400)).filter(
    lambda text: not any(unwanted(text)) and look_alike_digit(text) is None and odd_space(text) is None
)


@settings(max_examples=300, deadline=None)
@given(HONEST)
def test_every_text_reads_back_the_same(text: str) -> None:
    data = {"k": text, "l": [text, "x"], "m": {"k": [text, {"n": text}]}}
    written = to_yaml(data)
    document, problems = read_yaml("event", written)
    assert (document.data if document else None, problems) == (data, [])
    assert written.count("\n") == 8


@pytest.mark.parametrize("turn", ["- look at it again", "word:word", "# 3", "do: this", "? why", "---", "..."])
def test_a_text_is_kept_at_every_length(turn: str) -> None:
    for before in range(260):
        text = f"{'with the engine warm ' * 13}"[:before] + f" {turn} before the next round"
        text = text.strip()
        assert read_yaml("event", to_yaml({"finding": text}))[0].data == {"finding": text}  # type: ignore[union-attr]


@pytest.mark.parametrize(
    "event",
    [
        {"event": "finding", "finding": "TEXT"},
        {"event": "owner", "keeper": "TEXT"},
        {"event": "correction", "corrects": "a" * 64, "why": "TEXT"},
        {"event": "service", "procedure": "x", "revision": "1", "remarks": ["TEXT"], "findings": ["TEXT", "TEXT"]},
        {"event": "run", "hours": "1 h", "note": "TEXT", "by": "TEXT"},
    ],
)
def test_a_text_is_taken_in_every_field(event: dict[str, object]) -> None:
    text = "A rattle at idle with the engine warm, heard from the left, and again on the way in " * 2 + "- look:again"
    said = {key: [text for _ in v] if isinstance(v, list) else text if v == "TEXT" else v for key, v in event.items()}
    entry = fit_or_refuse("7A", {**said, "date": "2030-03-01"})
    assert entry.document.data == {**said, "date": "2030-03-01"}


def test_the_longest_text_is_one_line() -> None:
    text = "x - " * (MAX_TEXT // 4 - 1) + "end"
    assert to_yaml({"finding": text}) == f"finding: {text}\n"


def test_what_is_long_is_written_as_if_it_were_whole() -> None:
    """Cut into pieces or not, nested lists and mappings, quoted keys and texts of every kind give the same lines."""
    texts = [f"{mark} {word} {n}" for n, (mark, word) in enumerate(zip(MARKS * 3, WORDS * 3, strict=False))]
    steps = [
        {"step": text, "parts": [{"name": text, "more": [text, ["in", [text]]]}, text], "none": []} for text in texts
    ]
    data = {"head": "1", "job": {"stages": [{"steps": steps}, {}], "- odd key": {"a": texts}}, "tail": {"k": texts}}
    dumped = yaml.dump(data, Dumper=store._Plain, sort_keys=False, allow_unicode=True, width=store._ONE_LINE)
    assert len(dumped) > 10 * store.PIECE
    assert to_yaml(data) == dumped
    assert read_yaml("event", dumped)[0].data == data  # type: ignore[union-attr]
