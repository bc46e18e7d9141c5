"""Wire thread inserts: stronger than the bare boss, and no stronger than what the screw engages."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from docgen.trade.errors import TradeError
from docgen.trade.friction import friction, seat
from docgen.trade.inserts import INSERT_LENGTHS, engaged_mm, insert_area_mm2, insert_strip_load
from docgen.trade.materials import boss, property_class
from docgen.trade.stripping import internal_area_mm2
from docgen.trade.threads import thread, threads
from docgen.trade.tightening import Joint, estimate


@given(name=st.sampled_from(list(threads())), diameters=st.sampled_from(INSERT_LENGTHS))
def test_over_the_same_length_an_insert_shears_more_of_the_boss(name: str, diameters: float) -> None:
    of = thread(name)
    engaged = engaged_mm(of, diameters, 100)
    assert engaged == pytest.approx(diameters * of.d_mm - 0.75 * of.pitch_mm)
    assert 1.05 < insert_area_mm2(of, engaged) / internal_area_mm2(of, engaged) < 1.8


def test_a_screw_that_engages_less_gets_less_torque() -> None:
    of, screw = thread("M6"), property_class("8.8")

    def torque(engaged: float, diameters: float = 2) -> tuple[str, float]:
        strip = insert_strip_load(of, diameters, screw, boss("AZ91", engaged))
        found = estimate(Joint(of, screw, friction("oiled", screw), seat(of), strip))
        assert found.torque.nominal is not None
        return found.governs, float(found.torque.nominal)

    assert torque(12) == ("screw", 6.5)
    assert [torque(engaged) for engaged in (4, 6, 8)] == [("boss", 2.5), ("boss", 4.0), ("boss", 5.0)]
    assert torque(14) == torque(12), "a screw longer than the insert gains nothing"
    assert torque(12, 1)[1] < torque(12, 2)[1]


def test_what_an_insert_says() -> None:
    strip = insert_strip_load(thread("M6"), 2, property_class("8.8"), boss("AZ91", 12))
    assert strip.says == "insert for M6x1 in AZ91 (magnesium), shear strength 140 MPa"
    with pytest.raises(TradeError) as caught:
        engaged_mm(thread("M6"), 1.2, 9)
    assert (caught.value.message, caught.value.hint) == (
        "an insert is not made 1.2 d long",
        "lengths: 1, 1.5, 2, 2.5 d",
    )
    with pytest.raises(TradeError, match="engaged length of M6x1 is 2 mm"):
        insert_strip_load(thread("M6"), 2, property_class("8.8"), boss("AZ91", 2))
