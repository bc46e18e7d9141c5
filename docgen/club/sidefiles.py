"""Files beside ``club.yaml`` that only some commands need: the shelf, the glossary, the club's own label sheets."""

from collections.abc import Iterator
from pathlib import Path

from docgen.club.files import read_bytes
from docgen.club.fit import fit
from docgen.club.folder import Folder, Read, Shape
from docgen.club.problem import Problem, did_you_mean
from docgen.club.schema.event import Deviation
from docgen.club.schema.sidefiles import Glossary, LabelSheets, Stock
from docgen.club.yamltext import read_yaml
from docgen.trade.quantity import Quantity
from docgen.trade.units import find_unit


def read_beside(root: Path, path: str, shape: type[Shape]) -> tuple[Read[Shape] | None, list[Problem]]:
    """The file in its shape; None with its problems where it has any, None without where there is no such file."""
    if not (root / path).is_symlink() and not (root / path).exists():
        return None, []
    data = read_bytes(root, path)
    if isinstance(data, Problem):
        return None, [data]
    document, problems = read_yaml(path, data)
    if document is None:
        return None, problems
    value, misfits = fit(document, shape)
    found = sorted([*problems, *misfits])
    return (Read(value, document) if value is not None and not found else None), found


LABELS = "labels.yaml"


def read_label_sheets(folder: Folder) -> tuple[Read[LabelSheets] | None, list[Problem]]:
    """The club's own label sheets, or what is wrong with their file; None without a problem where it has none."""
    return read_beside(folder.root, LABELS, LabelSheets)


GLOSSARY = "glossary.yaml"


def read_glossary(folder: Folder) -> tuple[Read[Glossary] | None, list[Problem]]:
    """The club's terms, or what is wrong with their file; None without a problem where the club keeps none."""
    return read_beside(folder.root, GLOSSARY, Glossary)


STOCK = "stock.yaml"


def read_stock(folder: Folder) -> tuple[Read[Stock] | None, list[Problem]]:
    """The shelf, or what is wrong with its file; None without a problem where the club keeps none."""
    read, problems = read_beside(folder.root, STOCK, Stock)
    if read is None:
        return None, problems
    found = sorted(_unknown(folder, read))
    return (None if found else read), found


def part_numbers(folder: Folder) -> set[str]:
    """Every part number of the club's engine types, and of the deviations of its engines."""
    found = {
        article(item.number)
        for model in folder.models.values()
        for item in (*model.value.parts.values(), *model.value.fasteners.values())
        if item.number
    }
    for record in folder.engines.values():
        changes = (event.changes for event in record.log.of(Deviation) if event.changes)
        found |= {article(change.number) for change in changes if change.number}
    return found


def _unknown(folder: Folder, read: Read[Stock]) -> Iterator[Problem]:
    numbers = part_numbers(folder)
    for number in read.value.parts:
        if number not in numbers and folder.whole("models"):
            hint = f"{did_you_mean(number, numbers)} What no engine type has stands under other:".lstrip()
            message = f'no engine type has a part with the number "{number}"'
            yield read.document.problem(("parts", number), "unknown-part-number", message, hint, key=True)
    materials = folder.club.value.materials if folder.club_file else {}
    for name, held in read.value.materials.items():
        at = ("materials", name)
        if name not in materials:
            hint = did_you_mean(name, materials)
            message = f'the register of club.yaml has no material called "{name}"'
            yield read.document.problem(at, "unknown-material", message, hint, key=True)
        elif isinstance(held.on_hand, Quantity) and not _same_kind(held.on_hand, materials[name].container):
            container = materials[name].container
            message = f"{name} is not sold by {held.on_hand.dimension}"
            hint = f"write it in {container.unit}, or count containers" if container else "count the pieces: on_hand: 2"
            yield read.document.problem((*at, "on_hand"), "wrong-dimension", message, hint)


def _same_kind(held: Quantity, container: Quantity | None) -> bool:
    return container is not None and bool({*find_unit(held.unit).dimensions} & {*find_unit(container.unit).dimensions})


def article(number: str) -> str:
    """A part number as it is ordered: what stands before the first comma; behind it stand words for the reader.

    >>> article("AL-7010, heat range 10, gasket seat")
    'AL-7010'
    """
    return number.partition(",")[0].strip()
