"""What fuzzing found once: inputs that made a reader fail, and what was wrong then. Each is tried in every test."""

from __future__ import annotations

BREAKS_QPDF = (
    b"%PDF-1.3\n"
    b"%\xbf\xf7\xa2\xfe\n"
    b"1 0 obj\n"
    b"<< /Pages 2 0 R /Type /Catalog >>\xad\n"
    b"endobj\n"
    b"2 0 obj\n"
    b"<< /Count 1 /Kids [ 3 0 R ] /Type /Pages >>\n"
    b"endobj\n"
    b"2 0 obj\n"
    b"<< /Contents 4 0 R /MediaBox [ 0 0 612 792 ] /Pament 2 0 R /Resources << >> /Type /Page >>\n"
    b"endobj\n"
    b"2 0 obj\n"
    b"<</Length 0 /Filter )/FlateDecode >>\n"
    b"stream\n"
    b"\n"
    b"endstream\n"
    b"endobj\n"
    b"xref\n"
    b"0 5\n"
    b"0000000000 65535 f \n"
    b"0000000015 00000 n \n"
    b"0000000064 00000 n \n"
    b"0000000123 00000 n \n"
    b"0000000229 00000 n \n"
    b"trailer << /Root 1 0 R /Size 5 a414ffcb>] >>\n"
    b"startxref\n"
    b"299\n"
    b"%%EOF\n"
)
"""A PDF on which qpdf (12.4.2, by pikepdf 10.18.0) ends the whole process with a segmentation fault."""
FOUND: dict[str, tuple[str, bytes]] = {
    "a nought too many in a sheet's number was read as the number without it": ("number", b"7A-ROT-003-001-S1-I"),
    "a key with nothing behind it, in a parcel, was refused without a word of what to do": (
        "parcel",
        b"\x07tools:\n  rotor-stop: {name: Rotor stop}\nmaterials:\n  lock: \n",
    ),
}
