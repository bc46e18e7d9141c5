"""The kit for a set of jobs against the shelf: what is there, what is short, what to order and what that costs."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from math import ceil

from docgen.club.folder import Folder, Read
from docgen.club.problem import Problem
from docgen.club.schema.club import Club, Material
from docgen.club.schema.sidefiles import Held, Stock
from docgen.club.sidefiles import STOCK, article
from docgen.club.words import Words
from docgen.job import wording
from docgen.job.job import Job
from docgen.plan.needs import MaterialNeed, Needs, PartNeed, Use, needs
from docgen.trade.quantity import Quantity
from docgen.trade.units import find_unit


@dataclass(frozen=True)
class Shelved:
    """What the shelf says of one line. ``held`` and ``short`` are None where the club keeps no stock file."""

    held: Held | None
    short: int | None
    place: str = ""
    price: Decimal | None = None


@dataclass(frozen=True)
class MaterialLine:
    """A material with its whole containers; ``containers`` is None where the register gives no size."""

    need: MaterialNeed
    container: Quantity | None
    containers: int | None
    shelf: Shelved


@dataclass(frozen=True)
class PartLine:
    """A spare and the shelf."""

    need: PartNeed
    shelf: Shelved


@dataclass(frozen=True)
class OrderLine:
    """One thing to order. ``cost`` is None where no price is known."""

    number: str
    name: str
    pack: str
    count: int
    price: Decimal | None
    uses: tuple[Use, ...] = ()

    @property
    def cost(self) -> Decimal | None:
        """Price times count."""
        return None if self.price is None else self.price * self.count


@dataclass(frozen=True)
class Kit:
    """The kit of a set of jobs. ``order`` is empty where nothing is short, and where there is no stock file."""

    club: Club
    jobs: tuple[Job, ...]
    needs: Needs
    materials: tuple[MaterialLine, ...]
    parts: tuple[PartLine, ...]
    order: tuple[OrderLine, ...]
    shelf: bool

    @property
    def currency(self) -> str:
        """The club's currency; empty where it names none."""
        return self.club.currency or ""

    @property
    def total(self) -> Decimal | None:
        """What the order costs; None where a price is not known, or where the club names no currency."""
        costs = [line.cost for line in self.order]
        known = [cost for cost in costs if cost is not None]
        return sum(known, Decimal("0.00")) if self.currency and len(known) == len(costs) else None

    @property
    def minutes(self) -> tuple[int, int]:
        """The work of all jobs together, and the longest wait of one: waits run side by side."""
        told = [job.instructions for job in self.jobs]
        return sum(one.work_minutes for one in told), max((one.wait_minutes for one in told), default=0)


def kit_of(jobs: Iterable[Job], club: Club, stock: Stock | None) -> Kit:
    """The kit. Amounts and counts are exact decimals and whole numbers; a container that is begun counts as a whole."""
    jobs = tuple(jobs)
    needed = needs(jobs)
    materials = tuple(_material(need, club.materials.get(need.id), stock) for need in needed.materials)
    parts = tuple(_part(need, stock) for need in needed.parts)
    order = (*_parts_short(parts), *_materials_short(materials, Words.speaking(club.language)))
    return Kit(club, jobs, needed, materials, parts, order, stock is not None)


def _part(need: PartNeed, stock: Stock | None) -> PartLine:
    held = stock.parts.get(need.key) if stock else None
    on_hand = held.on_hand if held else 0
    short = max(0, need.sure + need.hand - on_hand) if stock else None
    place, price = (held.place or "", held.price) if held else ("", None)
    return PartLine(need, Shelved(on_hand if stock else None, short, place, price))


def _material(need: MaterialNeed, registered: Material | None, stock: Stock | None) -> MaterialLine:
    container = registered.container if registered else None
    total, begun = _in_containers(need, container), need.unstated > 0
    containers = None if total is None else max(ceil(total), int(begun))
    held = stock.materials.get(need.id) if stock else None
    on_hand: Held = held.on_hand if held else 0
    short = None
    if stock:
        have = Fraction(on_hand) if isinstance(on_hand, int) else _share(on_hand, container)
        wanted = total or Fraction(0)
        short = max(0, ceil(wanted - have), int(begun and have <= wanted))
    price = registered.price if registered else None
    place = (held.place or "") if held else ""
    return MaterialLine(need, container, containers, Shelved(on_hand if stock else None, short, place, price))


def _in_containers(need: MaterialNeed, container: Quantity | None) -> Fraction | None:
    """The stated amounts in containers; None where one of them cannot be put into containers."""
    if container is None:
        return None
    kinds = set(find_unit(container.unit).dimensions)
    if any(not kinds & set(find_unit(amount.unit).dimensions) for amount in need.amounts):
        return None
    return sum((_share(amount, container) for amount in need.amounts), Fraction(0))


def _share(amount: Quantity, container: Quantity | None) -> Fraction:
    assert container is not None
    return amount.exactly(container.unit) / Fraction(container.value)


def _parts_short(lines: Iterable[PartLine]) -> Iterator[OrderLine]:
    for line in lines:
        if line.shelf.short:
            need = line.need
            name = need.name if need.number else f"{need.name}, {need.model}"
            yield OrderLine(article(need.number), name, "", line.shelf.short, line.shelf.price, tuple(need.uses))


def _materials_short(lines: Iterable[MaterialLine], w: Words) -> Iterator[OrderLine]:
    for line in lines:
        if line.shelf.short:
            pack = wording.quantity(line.container, w) if line.container else ""
            yield OrderLine("", line.need.name, pack, line.shelf.short, line.shelf.price, tuple(line.need.uses))


def without_price(kit: Kit, folder: Folder, stock: Read[Stock] | None) -> list[Problem]:
    """What is to be ordered and has no price, although the club counts in a currency: the order cannot be added up."""
    if not kit.currency or folder.club_file is None:
        return []
    found: list[Problem] = []
    hint = "write its price: 12.50, or leave the cost out with --no-cost"
    for part in kit.parts:
        if part.shelf.short and part.shelf.price is None:
            name = part.need.key
            message = f"{part.need.name} ({name}) is to be ordered and has no price in {kit.currency}"
            if stock and name in stock.value.parts:
                found.append(stock.document.problem(("parts", name), "no-price", message, hint, key=True))
            else:
                listed = f"list it in {STOCK} under parts: with its price, or leave the cost out with --no-cost"
                found.append(Problem(STOCK, 0, 0, "no-price", message, listed))
    for line in kit.materials:
        if line.shelf.short and line.shelf.price is None:
            message = f"{line.need.name} is to be ordered and has no price in {kit.currency}"
            at = ("materials", line.need.id)
            found.append(folder.club.document.problem(at, "no-price", message, hint, key=True))
    return sorted(found)


def to_json(kit: Kit) -> dict[str, object]:
    """The kit as plain values; figures as text, so that no decimal is bent."""
    return {
        "jobs": [_use(use) for use in kit.needs.uses],
        "work_minutes": kit.minutes[0],
        "longest_wait_minutes": kit.minutes[1],
        "tools": [{"id": t.id, "name": t.name, "jobs": [_use(u) for u in t.uses]} for t in kit.needs.tools],
        "materials": [
            {"id": m.need.id, "name": m.need.name, "amounts": [str(a) for a in m.need.amounts],
             "jobs_without_amount": m.need.unstated, "container": str(m.container) if m.container else None,
             "containers": m.containers, **_shelved(m.shelf), "jobs": [_use(u) for u in m.need.uses]}
            for m in kit.materials
        ],
        "parts": [
            {"number": p.need.number, "name": p.need.name, "model": p.need.model, "needed": p.need.sure,
             "at_hand": p.need.hand, "if_all_fail": p.need.may, **_shelved(p.shelf),
             "jobs": [_use(u) for u in p.need.uses]}
            for p in kit.parts
        ],
        "order": [
            {"number": o.number, "name": o.name, "pack": o.pack, "count": o.count, "price": _money(o.price),
             "cost": _money(o.cost), "jobs": [_use(u) for u in o.uses]}
            for o in kit.order
        ],
        "currency": kit.currency,
        "total": _money(kit.total),
    }  # fmt: skip


def _use(use: Use) -> str:
    return f"{use.engine} {use.code}"


def _money(value: Decimal | None) -> str | None:
    return None if value is None else f"{value:.2f}"


def _shelved(shelf: Shelved) -> Mapping[str, object]:
    held = None if shelf.held is None else str(shelf.held)
    return {"on_hand": held, "short": shelf.short, "place": shelf.place, "price": _money(shelf.price)}
