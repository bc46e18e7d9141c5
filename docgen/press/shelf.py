"""Laid-out documents that are kept between runs, by the digest of what they were laid out from.

A file bears the digest of its own bytes: one that is damaged, or of another version of the press, is as if it were not
there. Where no form fits, the document is laid out, and its form kept. Everything here may be deleted at any time.
"""

import contextlib
import hashlib
import json
from collections.abc import Iterator
from dataclasses import asdict
from functools import lru_cache
from pathlib import Path
from typing import Any

from docgen.club.files import bounded
from docgen.press.form import Drawing, Form, Slot
from docgen.press.journal import digest_of
from docgen.press.meta import Order, Pressed

PLACE = ".docgen/forms"
"""Where forms lie, below the folder of the printed sheets."""
ALIKE = 12
"""Forms of documents that are alike but for values that are part of their layout."""
KEPT = 600
"""Forms that are kept, the newest."""
MOST = 16 << 20
"""Largest form that is read."""
_FORMAT = 2


class Shelf:
    """The forms in a folder."""

    def __init__(self, out: Path) -> None:
        self._folder = out / PLACE

    def filled(self, order: Order) -> Pressed | None:
        """The order's document from a form; None when none fits."""
        if order.body is None:
            return None
        made = (form.filled(order) for form in self._forms(_key(order)))
        return next((one for one in made if one is not None), None)

    def keep(self, order: Order, form: Form) -> None:
        """Keep the form that an order left behind; where the folder cannot be written, it is no matter."""
        from docgen.club.store import replace

        key = _key(order)
        places = [self._place(key, n) for n in range(ALIKE)]
        with contextlib.suppress(OSError):
            free = next((place for place in places if not place.exists()), None)
            replace(free or min(places, key=_age), _to_bytes(form))
            kept = list(self._folder.glob("*.form"))
            for old in sorted(kept, key=_age)[: len(kept) - KEPT] if len(kept) > KEPT else ():
                old.unlink(missing_ok=True)

    def _forms(self, key: str) -> Iterator[Form]:
        for n in range(ALIKE):
            place = self._place(key, n)
            try:
                told = place.stat()
            except OSError:
                return
            if (form := _read(place, told.st_mtime_ns, told.st_size)) is not None:
                yield form

    def _place(self, key: str, n: int) -> Path:
        return self._folder / f"{key[:40]}-{n}.form"


def _age(place: Path) -> int:
    with contextlib.suppress(OSError):
        return place.stat().st_mtime_ns
    return 0


def _key(order: Order) -> str:
    """The digest of all that a document's layout follows from: what it says of itself is filled in."""
    numbers = order.numbers
    attached = [(one.name, one.media_type, one.description) for one in order.attachments]
    numbered = (numbers.of, numbers.places, numbers.first, numbers.most) if numbers is not None else None
    told = (order.language, attached, numbered, order.forms, order.body, order.drawings)
    return digest_of(order.alike, order.css, order.faces, told)


def _to_bytes(form: Form) -> bytes:
    plain = asdict(form)
    constant = plain.pop("constant")
    body = json.dumps(plain, separators=(",", ":")).encode() + b"\n" + constant
    return b"docgen form %d %b\n%b" % (_FORMAT, hashlib.sha256(body).hexdigest().encode(), body)


@lru_cache(maxsize=64)
def _read(place: Path, _time: int, _size: int) -> Form | None:
    try:
        head, _, body = bounded(place, MOST).partition(b"\n")
    except OSError:
        return None
    if head != b"docgen form %d %b" % (_FORMAT, hashlib.sha256(body).hexdigest().encode()):
        return None
    line, _, constant = body.partition(b"\n")
    plain: dict[str, Any] = json.loads(line)
    drawings = tuple(
        Drawing(one["number"], tuple(Slot(**slot) for slot in one["slots"]), tuple(one["pieces"]))
        for one in plain.pop("drawings")
    )
    plain |= {name: tuple(map(tuple, plain[name])) for name in ("table", "sizes")}
    return Form(constant=constant, drawings=drawings, **plain)
