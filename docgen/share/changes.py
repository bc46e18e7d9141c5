"""What differs between two texts of a shared file, piece by piece.

It is told of the files, not of the jobs that become of them: a limit that no job here uses, or a step for equipment
that nobody here has, does not change unseen.
"""

from docgen.club.schema.procedure import VERBS
from docgen.club.yamldoc import Data
from docgen.share.differences import SAFETY, Difference, Piece, called, compared, leaves
from docgen.share.merge import BOOKKEEPING, LISTS, MAPS, File, respelled

NOUNS = {"stages": "step", "steps": "step", "safety": "safety message", "after_run": "check after the run",
         "parts": "part", "fasteners": "fastener", "limits": "limit", "settings": "setting", "fluids": "fluid",
         "intervals": "interval of", "paragraphs": "paragraph"}  # fmt: skip
_WORK = (*(key for key, verb in VERBS.items() if verb.handles), "look", "id", "use")
_TEXT = ("do", "stage", "use", "hazard")
"""Keys of which one is what a piece of a list says."""


def changes(before: File, after: File) -> list[Difference]:
    """What is different in `after`, in the order of the file.

    The revision and the day are left out, and what is only spelled otherwise: one word, or a list of it
    alone; a figure with or without noughts at its end.
    """
    after = respelled(after, before)
    found: list[Difference] = []
    for key in dict.fromkeys((*after, *before)):
        if key not in BOOKKEEPING and before.get(key) != after.get(key):
            noun = NOUNS.get(key, called(key))
            found += compared(noun, _pieces(key, noun, before.get(key)), _pieces(key, noun, after.get(key)))
    return found


def _pieces(key: str, noun: str, value: Data) -> dict[str, Piece]:
    """A key's pieces by their names: what a step works on or is called, else its place."""
    safe = key in SAFETY
    if key in MAPS and isinstance(value, dict):
        return {name: Piece(f"{noun} {name}", dict(leaves(one)), name, noun) for name, one in value.items()}
    if key not in LISTS or not isinstance(value, list):
        return {} if value is None else {key: Piece(noun, dict(leaves(value)), safe=safe)}
    found: dict[str, Piece] = {}
    place = noun
    for one in value:
        steps = one.pop("steps") if isinstance(one, dict) and "stage" in (one := dict(one)) else []
        for piece in (one, *(steps if isinstance(steps, list) else [steps])):
            values = dict(leaves(piece))
            own = next((f"{name} {value}" for name, value in values.items() if name.split(".")[0] in _WORK), "")
            said = next((piece[name] for name in _TEXT if name in piece), "") if isinstance(piece, dict) else piece
            text = f'"{" / ".join(one for _, one in leaves(said))}"'
            name = own if own and own not in found else f"step-{len(found)}"
            found[name] = Piece(f"{noun} {text}", values, text, place, safe, listed=True)
            place = f"{noun} behind {text}"
    return found
