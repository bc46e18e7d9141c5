"""Write docs/reference-checks.md anew."""

from __future__ import annotations

from tests.trade.published import PAGE, page

PAGE.write_text(page(), encoding="utf-8")
