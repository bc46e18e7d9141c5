"""Hostile pictures that come in the place of a photographed sheet: all filed by one command, each answered by itself.

They are taken apart in a process of its own, which the system holds to a time and a memory. The club is the small one;
its sheet was issued, and nothing is drawn of it, since none of these pictures shows it.
"""

from __future__ import annotations

import io
import json
import struct
import zlib
from collections.abc import Callable, Mapping

import numpy as np
import segno
from PIL import Image

from docgen.camera.pictures import MAX_BYTES, MAX_PICTURES, MAX_SIDE
from tests.hostile.cases import Case, Place
from tests.returns.conftest import club_at

Make = Callable[[], bytes]
GREY = np.full((400, 300), 180, np.uint8)


def _saved(kind: str, picture: np.ndarray = GREY, **how: object) -> bytes:
    out = io.BytesIO()
    Image.fromarray(picture).save(out, kind, **how)
    return out.getvalue()


def _png(width: int, height: int, packed: bytes, words: bytes = b"") -> bytes:
    """A PNG that says that it has a size, whatever is packed into it, and into its words."""

    def part(name: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))

    head = part(b"IHDR", struct.pack(">IIBBBBB", width, height, 8, 0, 0, 0, 0))
    told = part(b"zTXt", b"Comment\0\0" + words) if words else b""
    return b"\x89PNG\r\n\x1a\n" + head + told + part(b"IDAT", packed) + part(b"IEND", b"")


def _jpeg_of(width: int, height: int) -> bytes:
    """A small JPEG that says that it is large."""
    data = bytearray(_saved("JPEG"))
    at = data.index(b"\xff\xc0") + 5
    data[at : at + 4] = struct.pack(">HH", height, width)
    return bytes(data)


def _heic_of(width: int, height: int) -> bytes:
    """A small HEIC that says that it is large."""
    data = bytearray(_saved("HEIF"))
    at = data.index(b"ispe") + 8
    data[at : at + 8] = struct.pack(">II", width, height)
    return bytes(data)


def _again_and_again(count: int) -> bytes:
    """A JPEG whose last layer is drawn over and over."""
    data = _saved("JPEG", NOISE, progressive=True)
    return data[:-2] + data[data.rindex(b"\xff\xda") : -2] * count + data[-2:]


def _exif(size: int) -> bytes:
    """A JPEG whose notes of the camera are as long as they may be, many times over."""
    data = _saved("JPEG")
    note = b"\xff\xe1" + struct.pack(">H", 65_535) + b"Exif\0\0" + b"MM\0*\0\0\0\x08" + b"\xff" * (65_535 - 16)
    return data[:2] + note * (size // len(note)) + data[2:]


def _ring() -> bytes:
    """A TIFF whose second page is its first."""
    data = bytearray(_saved("TIFF"))
    start = struct.unpack("<I", data[4:8])[0]
    count = struct.unpack("<H", data[start : start + 2])[0]
    data[start + 2 + 12 * count : start + 6 + 12 * count] = struct.pack("<I", start)
    return bytes(data)


def _codes(count: int) -> bytes:
    """A page full of codes, each with another number."""
    side, across = 110, 12
    page = np.full((side * -(-count // across) + 20, side * across + 20), 255, np.uint8)
    for n in range(count):
        code = np.array(list(segno.make_qr(f"7A-ROT-03-{n:03d}-S1-A", error="m").matrix_iter(scale=3)), np.uint8)
        y, x = 10 + side * (n // across), 10 + side * (n % across)
        page[y : y + code.shape[0], x : x + code.shape[1]] = np.where(code > 0, 0, 255)
    return _saved("PNG", page)


def _squares() -> bytes:
    """A page full of squares with dots, as the corner marks are."""
    page = np.full((3000, 2100), 255, np.uint8)
    for y in range(20, 2950, 60):
        for x in range(20, 2050, 60):
            page[y : y + 40, x : x + 40] = 0
            page[y + 8 : y + 16, x + 8 : x + 16] = page[y + 24 : y + 32, x + 8 : x + 16] = 255
    return _saved("PNG", page)


def _pages(count: int) -> bytes:
    small = [Image.fromarray(GREY[:20, :20]) for _ in range(count)]
    out = io.BytesIO()
    small[0].save(out, "TIFF", save_all=True, append_images=small[1:])
    return out.getvalue()


def _long_pdf() -> bytes:
    """A page as long as a street."""
    return (
        b"%PDF-1.7\n1 0 obj\n<</Type/Catalog/Pages 2 0 R>>\nendobj\n"
        b"2 0 obj\n<</Type/Pages/Kids[3 0 R]/Count 1>>\nendobj\n"
        b"3 0 obj\n<</Type/Page/Parent 2 0 R/Resources<<>>/MediaBox[0 0 9 900000]>>\nendobj\n"
        b"trailer\n<</Size 4/Root 1 0 R>>\n%%EOF\n"
    )


NOISE = np.random.default_rng(1).integers(0, 256, (1500, 1100), np.uint8)
PICTURES: Mapping[str, tuple[str, Make]] = {
    "picture-kind: nothing": ("a.jpg", lambda: b""),
    "picture-kind: words": ("b.jpg", lambda: b"hello"),
    "picture-kind: SVG": ("c.png", lambda: b'<svg xmlns="http://www.w3.org/2000/svg"><image href="file:///etc/passwd"/></svg>'),
    "picture-kind: a program": ("d.jpg", lambda: b"MZ" + bytes(500)),
    "picture-kind: a picture of words (XPM)": ("e.png", lambda: b'/* XPM */\nstatic char *a[] = {"9 9 1 1"};'),
    "picture-kind: PostScript": ("f.tif", lambda: b"%!PS-Adobe-3.0\n(/etc/passwd) run\n"),
    "picture-kind: a GIF": ("g.png", lambda: _saved("GIF")),
    "picture-kind: a folder of icons": ("h.png", lambda: _saved("ICO")),
    "picture-bomb: a PNG of 20 000 by 20 000": ("i.png", lambda: _png(20_000, 20_000, zlib.compress(bytes(1000)))),
    "picture-bomb: a PNG that unpacks to a gigabyte": (
        "j.png", lambda: _png(300, 400, zlib.compress(bytes(1 << 24)) + bytes(100))),
    "picture-bomb: a TIFF of one colour": ("k.tif", lambda: _saved(
        "TIFF", np.zeros((9000, 9000), np.uint8), compression="tiff_deflate")),
    "picture-bomb: a scan of a page as long as a street": ("l.pdf", _long_pdf),
    "picture-bomb: a PNG whose words unpack to a quarter of a gigabyte": (
        "ze.png", lambda: _png(300, 400, zlib.compress(bytes(301 * 400)), zlib.compress(bytes(1 << 28)))),
    "picture-bomb: a layer drawn over and over": ("zf.jpg", lambda: _again_and_again(40)),
    "picture-size: a HEIC of 60 000 by 60 000": ("zg.heic", lambda: _heic_of(60_000, 60_000)),
    "picture-size: longer than anything": ("m.jpg", lambda: _jpeg_of(MAX_SIDE + 1, 10)),
    "picture-size: 65 000 by 65 000": ("n.jpg", lambda: _jpeg_of(65_000, 65_000)),
    "picture-size: larger than what is in it": ("o.jpg", lambda: _jpeg_of(3000, 4000)),
    "picture-size: nothing wide": ("p.png", lambda: _png(0, 400, zlib.compress(b""))),
    "picture-size: a byte too many": ("q.jpg", lambda: _saved("JPEG") + bytes(MAX_BYTES)),
    "picture-size: a picture too many": ("r.tif", lambda: _pages(MAX_PICTURES + 1)),
    "picture-size: pages in a ring": ("s.tif", _ring),
    "picture-damage: cut in half": ("t.jpg", lambda: _saved("JPEG", NOISE)[:-200_000]),
    "picture-damage: a PNG cut short": ("u.png", lambda: _saved("PNG", NOISE)[:-1000]),
    "picture-damage: a WebP cut short": ("v.webp", lambda: _saved("WEBP", NOISE)[:-1000]),
    "picture-damage: a HEIC cut short": ("w.heic", lambda: _saved("HEIF", NOISE)[:-1000]),
    "picture-damage: a TIFF cut short": ("x.tif", lambda: _saved("TIFF", NOISE)[:-1000]),
    "picture-damage: a scan cut short": ("y.pdf", lambda: _saved("PDF", NOISE)[:-1000]),
    "picture-exif: forty megabytes of it": ("z.jpg", lambda: _exif(40 << 20)),
    "picture-exif: a turn that is none": ("za.jpg", lambda: _saved("JPEG", exif=_turn(4711))),
    "picture-codes: a hundred": ("zb.png", lambda: _codes(100)),
    "picture-codes: noise": ("zc.png", lambda: _saved("PNG", NOISE)),
    "picture-codes: marks without end": ("zd.png", _squares),
}  # fmt: skip


def _turn(value: int) -> bytes:
    exif = Image.Exif()
    exif[0x0112] = value
    return exif.tobytes()


def _all(place: Place) -> dict[str, str]:
    """File all of them with one command; the answer to each, by its name."""
    club_at(place.club)
    paths = {name: place.put(f"inbox/{name}", make()) for name, make in PICTURES.values()}
    said = place.docgen("file", place.club / "inbox", "--json", short=False)
    assert [name for name, path in paths.items() if not path.exists()] == []
    told, _, end = said.rpartition("\n(ends")
    found: dict[str, str] = {}
    for one in json.loads(told[told.rindex("\n[\n") :]):
        why = "; ".join(f"{said['name']}: {said['message']}" for said in one["said"])
        found[one["path"].rpartition("/")[2]] = f"{one['state']}: {why}\n(ends{end}"
    return found


_TOLD: dict[str, str] = {}


def _answer(key: str) -> Callable[[Place], str]:
    def act(place: Place) -> str:
        if not _TOLD:
            _TOLD.update(_all(place))
        return _TOLD[PICTURES[key][0]]

    return act


CASES = tuple(Case(*key.split(": ", 1), _answer(key)) for key in PICTURES)
