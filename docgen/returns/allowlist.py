"""What a filled sheet may hold: what we printed, what viewers add when it is filled in or drawn on, and nothing else.

The lists are of what is allowed; whatever stands in none of them is refused, known to be harmful or not. Names of keys
and of kinds are those of ISO 32000-1 (tables 28 catalog, 30 page, 164 and 169 to 188 annotations, 218 form, 220 to 232
fields), from memory. A key of somebody's own, with a colon or ``XX`` before it (Annex E), cannot act and may stay.
"""

from collections.abc import Iterator
from typing import Any

import pikepdf

from docgen.returns.diagnostic import Refused

MAX_DEPTH = 60
"""Parts within each other."""
JOB = "job.yaml"
"""The only file that a sheet has inside."""
_CATALOG = frozenset(
    "Type Version Extensions Pages PageLabels Names Dests ViewerPreferences PageLayout PageMode Outlines AcroForm "
    "Metadata StructTreeRoot MarkInfo Lang OutputIntents PieceInfo AF OpenAction DSS".split()
)
_NAMES = frozenset({"Dests", "EmbeddedFiles"})
_PAGE = frozenset(
    "Type Parent LastModified Resources MediaBox CropBox BleedBox TrimBox ArtBox BoxColorInfo Contents Rotate Group "
    "Thumb StructParents Annots Metadata PieceInfo Tabs UserUnit ID".split()
)
_FORM = frozenset("Fields NeedAppearances SigFlags DR DA Q".split())
_KINDS = frozenset(
    "Widget Popup Ink FreeText Text Line Square Circle Polygon PolyLine Highlight Underline Squiggly StrikeOut Stamp "
    "Caret".split()
)
"""Of what lies on a page: fields, and what somebody writes or draws over it."""
_ON_PAGE = frozenset(
    "Type Subtype Rect Contents P NM M F AP AS Border C StructParent OC BM "
    "FT Parent Kids T TU TM Ff V DV DA Q DS RV MK H BS MaxLen Opt TI I Lock SV "
    "Popup CA ca CreationDate IRT Subj RT IT ExData InkList L LE IC CL RD BE Vertices QuadPoints Name Open State "
    "StateModel Sy LL LLE LLO Cap CP CO Measure Path Rotate".split()
)
_ACTIONS = frozenset(
    "GoTo GoToR GoToE GoToDp Launch Thread URI Sound Movie Hide Named SubmitForm ResetForm ImportData JavaScript "
    "SetOCGState Rendition Trans GoTo3DView RichMediaExecute".split()
)
_NEVER = frozenset("JS XFA AA URI RichMediaContent Movie Sound 3DD OPI PS EFF FS FFilter FDecodeParms".split())
"""Keys that no part of a sheet has, wherever it lies."""
_HINT = "our sheets hold no such thing: fill the sheet as it was printed, in another viewer"


def refuse_others(document: pikepdf.Pdf) -> None:
    """Look through a whole document.

    Errors: Refused ``scripted-pdf`` for what would act by itself, ``strange-pdf`` for what no list allows,
    ``too-deep``.
    """
    inside: set[Any] = set()
    for thing in document.objects:
        for part in _within(thing):
            _sweep(part)
            if "/EF" in part:
                inside.add(thing.objgen)
    _only(document.Root, _CATALOG, "the document")
    if isinstance(document.Root.get("/OpenAction"), pikepdf.Dictionary):
        raise _acts("an action when it is opened")
    _only(document.Root.get("/Names"), _NAMES, "the document's names")
    _only(document.Root.get("/AcroForm"), _FORM, "the form")
    form: Any = document.Root.get("/AcroForm", {})
    for one in form.get("/Fields", ()):
        _only(one, _ON_PAGE, "a field")
    if len(inside) > 1 or set(document.attachments) - {JOB}:
        raise _strange("another file inside")
    for page in document.pages:
        _only(page.obj, _PAGE, "a page")
        for one in page.obj.get("/Annots", ()):
            _only(one, _ON_PAGE, "a field or a drawing on a page")
            kind = str(one.get("/Subtype", ""))[1:] if isinstance(one, pikepdf.Dictionary) else ""
            if kind not in _KINDS:
                raise _strange(f"a {kind or 'thing without a kind'} on a page")


def _sweep(part: Any) -> None:
    keys = {str(key)[1:] for key in part.keys()}  # noqa: SIM118  a stream's keys are its dictionary's
    act = part.get("/S")
    if isinstance(act, pikepdf.Name) and str(act)[1:] in _ACTIONS:
        raise _acts(f"an action ({str(act)[1:]})")
    if found := sorted(keys & _NEVER):
        raise _acts(f'"{found[0]}"')
    if isinstance(part, pikepdf.Stream) and keys & {"F", "Ref"}:
        raise _acts("a part that lies in another file")


def _only(part: Any, allowed: frozenset[str], what: str) -> None:
    if not isinstance(part, pikepdf.Dictionary):
        return
    names = (str(key)[1:] for key in part.keys())  # noqa: SIM118
    other = next((name for name in sorted(names) if name not in allowed and not _own(name)), None)
    if other is not None:
        raise _strange(f'"{other[:40]}" in {what}')


def _own(name: str) -> bool:
    """Whether a key is some program's own, which no other heeds."""
    return ":" in name or name.startswith("XX")


def _acts(what: str) -> Refused:
    return Refused("scripted-pdf", f"the file holds a script or something else that would act by itself: {what}", _HINT)


def _strange(what: str) -> Refused:
    return Refused("strange-pdf", f"the file holds {what}, which no sheet of ours does", _HINT)


def _within(thing: Any) -> Iterator[Any]:
    """Every dictionary in an object that is no object of its own. Errors: Refused ``too-deep``."""
    waiting = [(thing, 0)]
    while waiting:
        one, depth = waiting.pop()
        if isinstance(one, pikepdf.Array):
            parts = list(one)
        elif isinstance(one, (pikepdf.Dictionary, pikepdf.Stream)):
            yield one
            parts = list(one.values()) if isinstance(one, pikepdf.Dictionary) else list(one.stream_dict.values())
        else:
            continue
        if parts and depth >= MAX_DEPTH:
            message = f"the file has parts that are nested more than {MAX_DEPTH} deep"
            raise Refused("too-deep", message, _HINT)
        waiting += [(p, depth + 1) for p in parts if isinstance(p, pikepdf.Object) and not p.is_indirect]
