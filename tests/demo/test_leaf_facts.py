"""What costs an engine or a finger when it is forgotten stands on the bench leaf.

A row of `leaf_facts_*.csv` is one such fact: the engine and job whose leaf is printed, the fact, a pattern that its
text must match (white space folded, capitals and small letters alike), and the source of the fact.
"""

from __future__ import annotations

import csv
import re
from collections import Counter
from dataclasses import dataclass
from pathlib import Path

import pytest

from docgen.club.folder import Folder
from tests.demo.conftest import Text


@dataclass(frozen=True)
class LeafFact:
    engine: str
    code: str
    fact: str
    words: str
    source: str


FILES = sorted(Path(__file__).parent.glob("leaf_facts_*.csv"))
FACTS = sorted(
    (LeafFact(**row) for path in FILES for row in csv.DictReader(path.read_text().splitlines())),
    key=lambda one: (one.engine, one.code),
)


@pytest.mark.parametrize("one", FACTS, ids=lambda one: f"{one.engine}-{one.code}-{one.fact[:40]}")
def test_fact_is_on_the_leaf(text: Text, paper: Text, demo: Folder, one: LeafFact) -> None:
    procedure = next(name for name, job in demo.procedures.items() if job.value.code == one.code)
    texts = (read(one.engine, procedure, "leaf") for read in (text, paper))  # a drawing's words are on paper only
    found = any(re.search(one.words, leaf, re.IGNORECASE) for leaf in texts)
    assert found, f"{one.fact} ({one.source}): /{one.words}/ is not on the leaf of {one.code} for engine {one.engine}"


def test_every_job_has_facts_each_once_and_with_a_source(demo: Folder) -> None:
    assert len(FACTS) >= 60
    assert {one.code for one in FACTS} == {job.value.code for job in demo.procedures.values()}
    assert [row for row, count in Counter((one.code, one.fact) for one in FACTS).items() if count > 1] == []
    assert [one.fact for one in FACTS if not (one.source.strip() and one.fact.strip())] == []
