"""What fuzzing found once: inputs that made a reader fail, and what was wrong then. Each is tried in every test."""

from __future__ import annotations

FOUND: dict[str, tuple[str, bytes]] = {
    "a nought too many in a sheet's number was read as the number without it": ("number", b"7A-ROT-003-001-S1-I"),
    "a key with nothing behind it, in a parcel, was refused without a word of what to do": (
        "parcel",
        b"\x07tools:\n  rotor-stop: {name: Rotor stop}\nmaterials:\n  lock: \n",
    ),
}
