"""Tools, gauges and materials that received files name and the club's own registers lack."""

from collections.abc import Iterable
from dataclasses import dataclass

from docgen.club.folder import Folder
from docgen.club.yamldoc import Data, Document
from docgen.club.yamltext import read_yaml
from docgen.share.container import ParcelRefused
from docgen.share.layout import to_text
from docgen.share.manifest import PRIVATE
from docgen.share.needs import Shared, entries, register_names
from docgen.share.parcel import Parcel

Entries = dict[str, dict[str, Data]]
"""By register (``tools``), then by name."""
MATTERS = {"tools": ("drives",), "gauges": ("range", "reads"), "materials": ("kind", "cures", "hazards")}
"""What of an entry decides how a sheet reads; where the two clubs differ in it, it is said."""



@dataclass(frozen=True)
class Unlike:
    """One value of a register's entry that the two clubs give differently."""

    name: str
    key: str
    ours: str
    theirs: str


def lacking(folder: Folder, parcel: Parcel, taken: Iterable[Shared]) -> Entries:
    """The parcel's entries that the files `taken` name and the club has not."""
    wanted = {name for one in taken for name in register_names(one)}
    found: Entries = {}
    for register in PRIVATE:
        own, told = entries(folder, register), parcel.register_data.get(register)
        new = {
            name: entry
            for name, entry in (told.items() if isinstance(told, dict) else ())
            if (register, name) in wanted and name not in own
        }
        found |= {register: new} if new else {}
    return found


def differing(folder: Folder, parcel: Parcel, taken: Iterable[Shared]) -> tuple[Unlike, ...]:
    """What the files `taken` name and the two clubs mean different things by; the club's own stays."""
    found = []
    for register, name in dict.fromkeys(name for one in taken for name in register_names(one)):
        told = parcel.register_data.get(register)
        here, there = entries(folder, register).get(name), told.get(name) if isinstance(told, dict) else None
        if isinstance(here, dict) and isinstance(there, dict):
            pairs = [(key, said(here.get(key)), said(there.get(key))) for key in MATTERS[register]]
            found += [Unlike(name, key, ours, theirs) for key, ours, theirs in pairs if ours != theirs]
    return tuple(found)


def with_entries(document: Document, new: Entries, sender: str) -> str:
    """The text of club.yaml with entries added at the head of their registers; comments and layout stay.

    Errors: Refused ``registers-by-hand`` where the file is laid out in a way that this cannot add to.
    """
    lines = list(document.lines)
    assert isinstance(document.data, dict)
    expected = dict(document.data)
    for register, added in sorted(new.items(), key=lambda one: -_line(document, one[0])):
        there = expected.get(register)
        expected[register] = {**added, **(there if isinstance(there, dict) else {})}
        rows = [f"# from {sender}", *to_text({register: {**added}}).splitlines()[1:]]
        if isinstance(there, dict) and there:
            line, col = document.key_at((register, next(iter(there))))
            rows = [" " * (col - 1) + row.removeprefix("  ") for row in rows]
            lines[line - 1 : line - 1] = rows
        else:
            lines += [f"{register}:", f"  {rows[0]}", *rows[1:], ""]
    text = "\n".join(lines)
    read, problems = read_yaml(document.path, text)
    if read is None or problems or read.data != expected:
        by_hand = "".join(to_text({register: {**added}}) for register, added in new.items())
        message = f"{document.path} is laid out in a way that nothing could be added to it"
        raise ParcelRefused("registers-by-hand", message, f"write this into it yourself, then try again:\n{by_hand}")
    return text


def _line(document: Document, register: str) -> int:
    """Where a register stands; those that are not there come first, and go to the end."""
    assert isinstance(document.data, dict)
    return document.key_at((register,))[0] if document.data.get(register) else 1 << 30


def said(value: Data) -> str:
    """A value of an entry in words."""
    if isinstance(value, dict):
        return ", ".join(f"{key} {said(part)}" for key, part in value.items())
    return ", ".join(map(said, value)) if isinstance(value, list) else value or "nothing"
