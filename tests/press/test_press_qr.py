"""QR codes are read back from the printed page by a reader that is not the writer's (zxing-cpp; segno writes)."""

from __future__ import annotations

import random
from collections.abc import Callable

import numpy as np
import pytest
import segno
import zxingcpp

from docgen.press.meta import Pressed
from docgen.press.qr import qr_rows, qr_svg

DATA = "007-CLU-4-1-2K"
LETTERS = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:"


@pytest.mark.parametrize("side_mm", [20, 25])
def test_code_reads_at_100_dpi_with_noise(
    page: Callable[..., Pressed], raster: Callable[..., np.ndarray], side_mm: int
) -> None:
    done = page(
        f'<h1>Sheet</h1><div class="qr">{qr_svg(DATA)}</div>',
        f".qr {{ width: {side_mm}mm; padding: 4mm }} svg {{ width: 100% }}",
    )
    clean = raster(done.pdf, 100).astype(float)
    noise = np.random.default_rng(7).normal(0, 25, clean.shape)
    seen = np.clip(clean * 0.8 + 25 + noise, 0, 255).astype(np.uint8)  # greyed paper, faded black, grain
    (code,) = zxingcpp.read_barcodes(seen)
    assert (code.text, str(code.format)) == (DATA, "QR Code")
    assert code.ec_level in "MQH"


def test_what_it_says_is_escaped() -> None:
    assert "<title>QR code: &lt;1&gt; &amp; so on</title>" in qr_svg("<1> & so on")


def test_too_much_data_is_refused() -> None:
    with pytest.raises(ValueError, match="Data too large"):
        qr_svg("A" * 5000)


def test_masks_are_chosen_as_the_library_chooses_them() -> None:
    """Every size that is weighed here, at every level, and one that is larger; a change of the library shows here."""
    chance, seen = random.Random(5), set()
    for _ in range(300):
        text = "".join(chance.choice(LETTERS) for _ in range(chance.randrange(1, 180)))
        code = segno.make(text, error="m", micro=False, boost_error=True)
        assert qr_rows(text) == ["".join(map(str, row)) for row in code.matrix], text
        seen.add((code.version, code.error, code.mask))
    assert {version for version, _, _ in seen} >= set(range(1, 8))
    assert {error for _, error, _ in seen} == {"M", "Q", "H"}
    assert {mask for _, _, mask in seen} == set(range(8))
