"""How much of a processor a printed sheet costs, beside general typesetters; and what a change costs, or none.

Usage: python benchmarks/speed.py [--large] [--growth] [--folder N]
Typesetters that are no part of this project are measured where DOCGEN_PEERS names a Python that has them.

Sign-off sheets, each of another engine: the demo's clutch service with random figures in its values. Ours are made from
the page and its style (HTML, CSS), the others' from the same words, headings and table cells, drawn plainly; none reads
a club. Each way runs in a process of its own, start and imports counted; ways are interleaved, three rounds, medians.
Figures are CPU time, user and system, of the process and its children: ratios within one run can be trusted, absolutes
only on this machine. Then the demo, the start of each command and an edit under `docgen watch`, by the command line;
with --large the others' 2,000 sheets and a club of 2,000 engines and 100,000 events too, with --growth 20,000 sheets,
filled one after the other; with --folder N the sheets of N engines, two events each, printed from a club's folder on
all cores.
What was not run is left out, and nothing is reckoned. docs/speed.md is what it prints.
"""

from __future__ import annotations

import json
import os
import pickle
import platform
import random
import resource
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from dataclasses import replace
from datetime import date, timedelta
from functools import partial
from importlib.resources import files
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT))

from benchmarks.due_scale import big_club  # noqa: E402
from docgen.club.read import read_club  # noqa: E402
from docgen.job.number import SIGNOFF, SheetNumber  # noqa: E402
from docgen.job.resolve import resolve  # noqa: E402
from docgen.press.journal import PLACE as JOURNAL  # noqa: E402
from docgen.press.meta import Order  # noqa: E402
from docgen.press.orders import order  # noqa: E402
from docgen.press.page import Page, SealedFetcher  # noqa: E402
from docgen.press.shelf import PLACE, Shelf  # noqa: E402
from docgen.press.workers import printed  # noqa: E402
from docgen.sheets.leaf import leaf  # noqa: E402
from docgen.sheets.signoff import signoff  # noqa: E402
from tests.press.filled import another, deviating, with_values  # noqa: E402

DAY = date(2027, 2, 20)
ROUNDS = 3
OURS = ("kept", "cold")
WAYS = (*OURS, "plain", "typst", "reportlab", "xelatex", "chromium")
COUNTS = (1, 20, 200, 2000)
THRICE = {"plain": 20, "chromium": 20}
"""Up to this many sheets a way is run in each of the rounds, else up to 200; beyond, in the first alone."""
GROWTH, ENGINES, DEVIATING = 20_000, 2000, 50
PEERS = ("typst", "reportlab")
TYPESETTERS = (*PEERS, "xelatex")
PROGRAMS = ("xelatex", "chromium")
TWIN = os.environ | {"PYTHONPATH": str(ROOT)}
DOCGEN = [sys.executable, "-c", "from docgen.cli import main; main()"]


def spent(command: list[str], **more: Any) -> tuple[float, str]:
    """CPU seconds of a process with its children, and what it printed."""
    with tempfile.TemporaryFile() as out:
        process = subprocess.Popen(
            command, stdout=out, env={k: v for k, v in TWIN.items() if k != "PYTHONDONTWRITEBYTECODE"}, **more
        )
        _, status, used = os.wait4(process.pid, 0)
        out.seek(0)
        said = out.read().decode()
    if status:
        raise RuntimeError(f"{command} ended with {status}")
    return used.ru_utime + used.ru_stime, said


def make_orders(count: int) -> list[Order]:
    """The same sheet of so many engines."""
    folder = read_club(ROOT)
    job = resolve(folder, folder.engines["017"], folder.procedures["clutch-service"], DAY)
    first = order("speed", signoff(job, folder.club.value), job, folder.club.value.club, forms=True)
    chance = random.Random(1)
    made = []
    for n in range(count):
        number = SheetNumber(f"{n:03}", "CLU", 6, 1, SIGNOFF)
        other = with_values(
            first, lambda text: "".join(str(chance.randrange(10)) if char.isdigit() else char for char in text)
        )
        assert first.numbers is not None
        job_file = replace(first.attachments[0], data=first.attachments[0].data.replace(b"017", b"%03d" % n))
        numbers = replace(first.numbers, number=number)
        named = {"key": str(n), "identifier": number.body, "subject": number.body}
        made.append(replace(other, numbers=numbers, attachments=(job_file,), **named))
    return made


def contents(made: Order) -> list[tuple[str, Any]]:
    """The sheet's words as headings, paragraphs and tables, in reading order."""
    body = Page(made.html, SealedFetcher(assets=made.drawings)).etree_element.find("body")
    assert body is not None
    return [block for child in body for block in _blocks(child)]


def _blocks(element: Any) -> Any:
    text = " ".join("".join(element.itertext()).split())
    if element.tag == "table":
        rows = [[" ".join("".join(cell.itertext()).split()) for cell in row] for row in element.iter("tr")]
        wide = max(map(len, rows))
        yield "table", [row + [""] * (wide - len(row)) for row in rows]
    elif element.tag in ("h1", "h2"):
        yield "heading", text
    elif element.tag in ("section", "div") and len(element):
        for child in element:
            yield from _blocks(child)
    elif text:
        yield "paragraph", text


def sheets(*, large: bool = False) -> dict[tuple[str, int], float]:
    """CPU seconds of each way at each count, the medians; printed as a table. Others at 2,000 in a large run only:
    the slowest of them takes a quarter of an hour."""
    found: dict[tuple[str, int], list[float]] = {}
    sizes: dict[str, list[str]] = {}
    peers = os.environ.get("DOCGEN_PEERS", "")
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place)
        (folder / "made").mkdir()
        orders = make_orders(max(COUNTS))
        (folder / "orders").write_bytes(b"".join(map(pickle.dumps, orders)))
        face = Path(str(files("fontpkg_atkinson_hyperlegible").joinpath("files")))
        faces = {name: str(face / f"AtkinsonHyperlegible-{name}.ttf") for name in ("Regular", "Bold")}
        told = [{"fonts": [str(face)], "faces": faces}, *(contents(one) for one in orders)]
        (folder / "contents").write_text("\n".join(map(json.dumps, told)), "utf-8")
        printed(orders[0], Shelf(folder / "kept"))
        ways = [way for way in WAYS if (peers if way in PEERS else way not in PROGRAMS or shutil.which(way))]
        for turn in range(ROUNDS):
            for count in COUNTS:
                for way in ways[turn:] + ways[:turn]:
                    often = count <= THRICE.get(way, 200)
                    if often or (turn == 0 and (large or count <= 200 or way in OURS)):
                        python = peers if way in PEERS else sys.executable
                        script = str(ROOT / "benchmarks" / "_speed_way.py")
                        used, said = spent([python, script, way, str(count), str(folder)], stderr=subprocess.DEVNULL)
                        found.setdefault((way, count), []).append(used)
                        sizes[way] = said.split()
    print("| way | " + " | ".join(f"{count:,}" for count in COUNTS) + " | bytes a sheet | peak MB |")
    print("|---|" + "---|" * (len(COUNTS) + 2))
    for way in ways:
        cells = [_cell(found.get((way, count)), count) for count in COUNTS]
        print(f"| {way} | {' | '.join(cells)} | {int(sizes[way][0]):,} | {sizes[way][1]} |")
    return {key: statistics.median(each) / key[1] for key, each in found.items()}


def _cell(seconds: list[float] | None, count: int) -> str:
    if not seconds:
        return ""
    each = [1000 * one / count for one in seconds]
    spread = f" ({min(each):.0f} to {max(each):.0f})" if len(each) > 1 else ""
    return f"{statistics.median(each):.1f} ms{spread}"


def growth() -> None:
    """Many sheets from a kept layout in one process: what each costs, and the most memory, as they become more."""
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place)
        (folder / "made").mkdir()
        orders = make_orders(2000)
        (folder / "orders").write_bytes(b"".join(map(pickle.dumps, orders)))
        printed(orders[0], Shelf(folder / "kept"))
        print("\n| sheets in one process | CPU ms a sheet | peak MB |\n|---|---|---|")
        for count in (200, 2000, GROWTH):
            script = str(ROOT / "benchmarks" / "_speed_way.py")
            used, said = spent([sys.executable, script, "kept", str(count), str(folder)])
            print(f"| {count:,} | {1000 * used / count:.1f} | {said.split()[1]} |", flush=True)


def from_a_folder(engines: int) -> None:
    """Leaf and sign-off sheet of each engine of a club's folder, as `docgen print` makes them, layouts kept: how many a
    second by the clock, what one costs, and the memory of the command and of its helpers as they become more."""
    with tempfile.TemporaryDirectory() as place:
        root = Path(place)
        big_club(root, engines, 2)
        words = [*DOCGEN, "--club", str(root), "print", "--job", "CLU", "--on", str(DAY), "--json"]
        numbers = sorted(path.name for path in (root / "engines").iterdir())
        spent([*words, *numbers[: len(list((root / "models").iterdir()))], "--processes", "1"])
        env = {k: v for k, v in TWIN.items() if k != "PYTHONDONTWRITEBYTECODE"}
        begun, rows = time.perf_counter(), [("sheets there", "seconds", "MB of the command", "MB of each that helps")]
        before = resource.getrusage(resource.RUSAGE_CHILDREN)
        process = subprocess.Popen(words, stdout=subprocess.DEVNULL, env=env)
        for part in range(1, 11):
            while process.poll() is None and (there := _lines(root / "out" / JOURNAL)) < 2 * engines * part // 10:
                time.sleep(1)
            if process.poll() is None:
                helping = ", ".join(f"{_resident(child)}" for child in _children(process.pid) if _resident(child) > 20)
                rows.append((f"{there:,}", f"{time.perf_counter() - begun:.0f}", f"{_resident(process.pid)}", helping))
        if process.wait():
            raise RuntimeError(f"{words} ended with {process.returncode}")
        wall, after = time.perf_counter() - begun, resource.getrusage(resource.RUSAGE_CHILDREN)
        used = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
        print("\n" + "\n".join(f"| {' | '.join(row)} |" for row in (rows[0], ("---",) * 4, *rows[1:])))
        each = f"{used:.0f} CPU s, {1000 * used / engines / 2:.1f} ms a sheet, reading the club included"
        rate = f"{wall:.0f} s by the clock, {2 * engines / wall:.0f} sheets a second"
        print(f"\n{2 * engines:,} sheets of {engines:,} engines: {rate}; {each}")


def _lines(path: Path) -> int:
    return path.read_bytes().count(b"\n") if path.exists() else 0


def _resident(process: int) -> int:
    """MB of memory that a process has now; 0 where it is gone (Linux)."""
    try:
        return int(Path(f"/proc/{process}/statm").read_text("utf-8").split()[1]) * resource.getpagesize() >> 20
    except OSError:
        return 0


def _children(process: int) -> list[int]:
    told = Path(f"/proc/{process}/task/{process}/children").read_text("utf-8")
    return [int(child) for child in told.split()]


def demo_club(root: Path) -> list[str]:
    """The demo's club, never printed, in `root`; how its commands begin."""
    for name in ("procedures", "models", "engines", "shared"):
        if (ROOT / name).is_dir():
            shutil.copytree(ROOT / name, root / name, ignore=shutil.ignore_patterns("issued"))
    for name in ("club.yaml", "glossary.yaml"):
        shutil.copy(ROOT / name, root)
    return [*DOCGEN, "--club", str(root)]


def demo() -> dict[str, float]:
    """What printing costs on the demo, CPU seconds."""
    told: dict[str, float] = {}
    with tempfile.TemporaryDirectory() as place:
        root = Path(place)
        due = [*demo_club(root), "print", "--due", "--on", str(DAY)]
        told["cold"] = spent([*due, "--processes", "1"])[0]
        told["no change"] = min(spent(due)[0] for _ in range(ROUNDS))
        kept = root / "out" / PLACE
        shutil.move(kept, root / "forms")
        shutil.rmtree(root / "out")
        kept.parent.mkdir(parents=True)
        shutil.move(root / "forms", kept)
        told["kept"] = spent([*due, "--processes", "1"])[0]
        path = root / "engines/017/engine.yaml"
        path.write_text(path.read_text("utf-8").replace("keeper: ", "keeper: A. "), "utf-8")
        told["one engine changed"] = spent(due)[0]
        path = root / "procedures/clutch-service.yaml"
        path.write_text(path.read_text("utf-8").replace("\ntitle: ", "\ntitle: New "), "utf-8")
        told["one procedure changed"] = spent(due)[0]
    return told


def of_their_own() -> dict[str, float]:
    """What leaf and sign-off sheet cost together, for engines of a type with a deviation each, CPU seconds."""
    folder = read_club(ROOT)
    club, chance, spent_on = folder.club.value, random.Random(1), []
    for _ in range(DEVIATING):
        job = resolve(folder, folder.engines["023"], folder.procedures["clutch-service"], DAY)
        job = deviating(job, chance)
        orders = [
            with_values(
                order("speed", make(job, club), job, club.club, forms=make is signoff), partial(another, chance=chance)
            )
            for make in (leaf, signoff)
        ]
        begun = time.process_time()
        for one in orders:
            printed(one)
        spent_on.append(time.process_time() - begun)
    return {"the first engine": spent_on[0], f"each of {DEVIATING - 1} more": statistics.median(spent_on[1:])}


WRITTEN = ("--by", "A", "--yes", "--accept", "date-before-last-event")
"""How a line is entered today, behind what the demo's future holds."""
STARTS = {
    "--help": ("--help",),
    "due": ("due", "--on", f"{DAY}"),
    "due 017": ("due", "017", "--on", f"{DAY}"),
    "engine 017": ("engine", "017", "--on", f"{DAY}"),
    "components": ("components", "--on", f"{DAY}"),
    "proof": ("proof",),
    "current": ("current", "017"),
    "verify": ("verify",),
    "ran 017 12 min": ("ran", "017", "12", "min", "--again", *WRITTEN),
    "note finding 017 ...": ("note", "finding", "017", "Weeps.", *WRITTEN, "--accept", "said-already"),
    "print --help": ("print", "--help"),
}


def starts() -> dict[str, tuple[float, float]]:
    """CPU seconds of each command on the demo: after a change of a file, and when nothing changed since."""
    told = {}
    with tempfile.TemporaryDirectory() as place:
        root = Path(place)
        words = demo_club(root)
        spent([*words, "due", "--all"])  # what is read is known from here on
        for name, more in STARTS.items():
            changed, again = [], []
            for turn in range(ROUNDS):
                (root / "engines/017/engine.yaml").open("a").write(f"# {name} {turn}\n")
                changed.append(tried([*words, *more]))
                again.append(tried([*words, *more]))
            told[name] = statistics.median(changed), statistics.median(again)
    return told


def tried(command: list[str]) -> float:
    """CPU seconds of a command, whatever it ends with."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    env = {k: v for k, v in TWIN.items() if k != "PYTHONDONTWRITEBYTECODE"}
    subprocess.run(command, capture_output=True, env=env, check=False)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def watched() -> list[float]:
    """From an edit of a procedure under `docgen watch` to the leaf, and to the sign-off sheet, by the clock; and the
    processor's seconds for both."""
    env = {k: v for k, v in TWIN.items() if k != "PYTHONDONTWRITEBYTECODE"}
    with tempfile.TemporaryDirectory() as place:
        root = Path(place)
        words = [*demo_club(root), "watch", "017", "CLU", "--on", str(DAY)]
        process = subprocess.Popen(words, stdout=subprocess.PIPE, text=True, env=env | {"PYTHONUNBUFFERED": "1"})
        assert process.stdout is not None
        path = root / "procedures/clutch-service.yaml"
        text, found = path.read_text("utf-8"), []
        try:
            for _ in range(2):
                process.stdout.readline()
            worked = _worked(process.pid)
            for turn in range(ROUNDS):
                begun = time.perf_counter()
                path.write_text(text.replace("\ntitle: ", f"\ntitle: {turn} "), "utf-8")
                for _ in range(2):
                    process.stdout.readline()
                    found.append(time.perf_counter() - begun)
            worked = (_worked(process.pid) - worked) / ROUNDS
        finally:
            process.kill()
            process.wait()
    return [statistics.median(found[::2]), statistics.median(found[1::2]), worked]


def _worked(process: int) -> float:
    """Seconds of the processor that a process took so far (Linux)."""
    fields = Path(f"/proc/{process}/stat").read_text("utf-8").rpartition(")")[2].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def large() -> dict[str, float]:
    """Two thousand engines with fifty events each: commands, the sheets of half of them, and what a change costs."""
    told: dict[str, float] = {}
    with tempfile.TemporaryDirectory() as place:
        root = Path(place)
        big_club(root, ENGINES)
        time.sleep(5)  # a club's files are older than the coarsest clock's tick
        words = [*DOCGEN, "--club", str(root)]
        on = ("--on", str(DAY))
        told["due, the record read the first time"] = spent([*words, "due", *on])[0]
        told["due of another day"] = spent([*words, "due", "--on", str(DAY + timedelta(1))])[0]
        told["due, no change"] = min(spent([*words, "due", *on])[0] for _ in range(ROUNDS))
        told["engine 0007"] = spent([*words, "engine", "0007", *on])[0]
        told["ran 0007 12 min"] = spent([*words, "ran", "0007", "12", "min", *WRITTEN])[0]
        told["note finding 0009"] = spent([*words, "note", "finding", "0009", "Weeps.", *WRITTEN])[0]
        printing = [*words, "print", *(f"{n:04}" for n in range(ENGINES // 2)), "--job", "CLU", *on, "--json"]
        used, said = spent([*printing, "--processes", "1"])
        told[f"{len(json.loads(said)):,} sheets printed"] = used
        told["print, no change"] = min(spent(printing)[0] for _ in range(ROUNDS))
        path = root / "engines/0007/engine.yaml"
        path.write_text(path.read_text("utf-8").replace("keeper: ", "keeper: A. "), "utf-8")
        told["print, one engine changed"] = spent(printing)[0]
    return told


def main(arguments: list[str]) -> int:
    """Measure, and print what docs/speed.md says."""
    load = os.getloadavg()[0]
    machine = f"{platform.machine()}, {os.cpu_count()} cores, load {load:.1f} when it began"
    print(f"Python {platform.python_version()}, {machine}; WeasyPrint {_version('weasyprint')}\n")
    if "--folder" in arguments:
        from_a_folder(int(arguments[arguments.index("--folder") + 1]))
        return 0
    each = sheets(large="--large" in arguments)
    if "--growth" in arguments:
        growth()
    made, began, (leaf, both, worked) = demo(), starts(), watched()
    _table("printing the demo's due sheets", {**made})
    _table("two sheets of an engine with a deviation of its own", of_their_own())
    print("\n| command | a file changed, CPU s | nothing changed, CPU s |\n|---|---|---|")
    for name, (changed, again) in began.items():
        print(f"| {name} | {changed:.2f} | {again:.2f} |")
    print(f"\nwatch: {leaf:.1f} s from an edit to the leaf and {both:.1f} s to both by the clock, {worked:.1f} CPU s")
    big = large() if "--large" in arguments else {}
    if big:
        _table(f"{ENGINES:,} engines, {50 * ENGINES:,} events", big)
    peers = {way: each[way, 200] for way in TYPESETTERS if (way, 200) in each}
    fastest = min(peers, key=lambda way: peers[way], default="")
    peer = f"{1000 * peers[fastest]:.1f} ms {fastest}" if fastest else "none here"
    unchanged = f"{big['print, no change']:.2f} s" if big else "not run"
    print(
        f"\nsheet at 200: {1000 * each['kept', 200]:.1f} ms; plain WeasyPrint: {1000 * each['plain', 200]:.0f} ms; "
        f"fastest peer: {peer}; no change 2000: {unchanged}; "
        f"demo cold: {made['cold']:.1f} s, kept: {made['kept']:.1f} s; "
        f"due: {began['due'][0]:.2f} s; help: {began['--help'][0]:.2f} s"
    )
    return 0


def _table(title: str, told: dict[str, float]) -> None:
    print(f"\n| {title} | CPU s |\n|---|---|")
    for what, seconds in told.items():
        print(f"| {what} | {seconds:.2f} |", flush=True)


def _version(name: str) -> str:
    from importlib.metadata import version

    return version(name)


if __name__ == "__main__":
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
    sys.exit(main(sys.argv[1:]))
