"""The reading: the gravest hazard stands first, and a measured part says what is good."""

from __future__ import annotations

import re

from docgen.sheets.signals import SIGNALS
from tests.demo.conftest import Text


def test_panels_at_the_front_stand_the_gravest_first(text: Text) -> None:
    sheet = text("023", "clutch-service", "reading")
    said = re.findall("|".join(word.upper() for word in SIGNALS), sheet.partition("Before you start")[0])
    assert len(said) > 5
    assert said == sorted(said, key=[word.upper() for word in SIGNALS].index)


def test_a_measured_part_is_good_when_it_is_accepted_and_its_gauge_stands_with_what_is_done(text: Text) -> None:
    sheet = text("023", "clutch-service", "reading")
    assert re.search(r"Micrometer 0 to 25 mm, at the thinnest place of the worn track\s+Accept: at least 1.854", sheet)


def test_why_one_waits_is_a_sentence(text: Text) -> None:
    assert "Wait: 24 h. Full strength comes only after this time" in text("023", "clutch-service", "reading")
