"""How long does the due list take when the record grows: to a hundred thousand events over two thousand engines?

Each engine has fifty events of four years: two runs and a service by turns, all different. `docgen due --json` is run
as a member would, in a process of its own: once with nothing read before, then with what the first one kept in out/.
The growth is the exponent of the straight line through the logarithms of events and seconds: 1 is in proportion.
The last line reads `100000 events over 2000 engines: due list in W s, the first time in C s`.
"""

from __future__ import annotations

import json
import math
import shutil
import subprocess
import sys
import tempfile
import time
from datetime import date, timedelta
from itertools import pairwise
from pathlib import Path

from docgen.club.log import SHORT, digest

ROOT = Path(__file__).resolve().parents[1]
ENGINES, EVENTS = (100, 500, 2000), 50
FIRST, ON = date(2023, 3, 4), "2027-02-20"
DOCGEN = [sys.executable, "-c", "from docgen.cli import main; main()"]


def big_club(root: Path, engines: int, events: int = EVENTS) -> None:
    """A club of the shipped models and procedures with so many engines of each type by turns."""
    shutil.copytree(ROOT / "procedures", root / "procedures")
    shutil.copytree(ROOT / "models", root / "models")
    shutil.copy(ROOT / "club.yaml", root)
    models = sorted(path.stem for path in (root / "models").glob("*.yaml"))
    for index in range(engines):
        number, model = f"{index:05}" if engines > 10_000 else f"{index:04}", models[index % len(models)]
        folder = root / "engines" / number
        (folder / "log").mkdir(parents=True)
        engine = f'engine: "{number}"\nmodel: {model}\nserial: S-{number}\nkeeper: Keeper {number}\n'
        engine += f"received: {FIRST}\nhours: 0 h\ncomponents:\n  carburettor: C-{number}\n"
        (folder / "engine.yaml").write_text(engine, "utf-8")
        _write_log(folder / "log", number, events)


def _write_log(log: Path, number: str, events: int) -> None:
    parent, day = "", FIRST
    for index in range(events):
        day += timedelta(days=28)
        kind = "service" if index % 3 == 2 else "run"
        text = f"event: {kind}\ndate: {day}\nby: Keeper {number}\n"
        if kind == "run":
            text += f"hours: {70 + index} min\nsessions: 7 x {10 + index % 4} min\nmeeting: Meeting {index}\n"
        else:
            text += "procedure: spark-plug-renewal\nrevision: 5\nreadings:\n  plug-reach:\n  - 18.7 mm\n"
            text += f"  plug-gap:\n  - 0.{50 + index % 9} mm\nrenewed:\n  spark-plug: P-{index}\n"
        data = (text + (f"parents:\n- {parent}\n" if parent else "")).encode()
        parent = digest(data)
        (log / f"{day}-{kind}-{parent[:SHORT]}.yaml").write_bytes(data)


def due(root: Path) -> tuple[float, int]:
    """Seconds that the command takes, and the lines that it gives."""
    start = time.perf_counter()
    words = [*DOCGEN, "--club", str(root), "due", "--all", "--json", "--on", ON]
    done = subprocess.run(words, check=True, capture_output=True, cwd=ROOT)
    return time.perf_counter() - start, len(json.loads(done.stdout))


def growth(points: list[tuple[int, float]]) -> float:
    """The exponent by which seconds grow with events, by least squares of the logarithms."""
    logs = [(math.log(events), math.log(seconds)) for events, seconds in points]
    mean_x, mean_y = (sum(each) / len(logs) for each in zip(*logs, strict=True))
    return sum((x - mean_x) * (y - mean_y) for x, y in logs) / sum((x - mean_x) ** 2 for x, _ in logs)


def main() -> int:
    """Time the due list at three sizes."""
    cold: list[tuple[int, float]] = []
    warm: list[tuple[int, float]] = []
    for engines in ENGINES:
        with tempfile.TemporaryDirectory() as folder:
            root = Path(folder)
            big_club(root, engines)
            first, lines = due(root)
            again, same = min(due(root) for _ in range(3))
        events = engines * EVENTS
        cold.append((events, first))
        warm.append((events, again))
        print(f"{events} events, {engines} engines: first {first:.1f} s, then {again:.2f} s; {lines} lines", flush=True)
        if same != lines or lines < engines:
            return 1
    print(f"grows with the power {growth(cold):.2f} the first time, {growth(warm):.2f} then")
    slower = max(b[1] / a[1] / (b[0] / a[0]) for a, b in pairwise(warm))
    print(f"the worst step costs {slower:.2f} times its share")
    seconds = f"due list in {warm[-1][1]:.1f} s, the first time in {cold[-1][1]:.1f} s"
    print(f"{cold[-1][0]} events over {ENGINES[-1]} engines: {seconds}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
