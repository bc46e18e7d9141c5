"""How well photographs and scans of signed sheets are read, on simulated ones (see benchmarks/camera).

    python benchmarks/reading_photographs.py [--faces 1000] [--first 1000000] [--processes 1] [--struck] [--worst]

The sheets are all jobs of three of the demo's engines, on A4 and on Letter. Seeds from 1,000,000 on were not used while
the reader was tuned. What is made, and what was read of it, is kept in the folder `kept`: delete it after a change in
the simulator. CPU seconds
are those of reading alone: decoding the file, finding codes and marks, drawing the issued page, fitting, judging.

"Wrong sheet" is a face taken for another one; "not found" one of which nothing is said but why it must be taken again.
Of boxes: the share of the empty ones that were read as ticked, of the ticked ones read as empty, and how many boxes of
a face are left to a person. Boxes that a person must judge (struck through, scribbled over, run into) are told apart;
--struck makes faces that are full of them.
"""

from __future__ import annotations

import argparse
import hashlib
import json
import sys
import time
from collections import Counter
from dataclasses import dataclass, field
from multiprocessing import get_context
from pathlib import Path
from typing import Any

import cv2

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT))

from benchmarks.camera.faces import made  # noqa: E402
from benchmarks.camera.printed import Face, Sheet, sheets  # noqa: E402
from docgen.camera.codes import find_codes  # noqa: E402
from docgen.camera.marks import find_marks  # noqa: E402
from docgen.camera.pictures import picture  # noqa: E402
from docgen.camera.read import FaceRead, read_face  # noqa: E402
from docgen.camera.reference import faces_of  # noqa: E402
from docgen.returns.diagnostic import Refused  # noqa: E402

FIRST, FACES = 1_000_000, 1000


@dataclass
class Kept:
    """A simulated picture: its seed, the file, which face it shows, what is true of each box, how it was made."""

    seed: int
    data: bytes
    number: str
    paper: str
    truth: dict[str, str]
    told: str


@dataclass
class Count:
    """What was counted so far."""

    faces: int = 0
    wrong: int = 0
    lost: Counter[str] = field(default_factory=Counter)
    boxes: Counter[tuple[str, str]] = field(default_factory=Counter)
    seconds: float = 0.0

    def line(self) -> str:
        """The last line."""
        read = self.faces - sum(self.lost.values())
        plain = {state: sum(self.boxes[state, said] for said in ("ticked", "empty", "unclear")) for state in
                 ("ticked", "empty")}  # fmt: skip
        unclear = sum(count for (_, said), count in self.boxes.items() if said == "unclear")
        return (
            f"faces: {self.faces}; wrong sheet: {self.wrong}; not found: {sum(self.lost.values())}; "
            f"empty read ticked: {100 * self.boxes['empty', 'ticked'] / max(1, plain['empty']):.2f} %; "
            f"ticked read empty: {100 * self.boxes['ticked', 'empty'] / max(1, plain['ticked']):.2f} %; "
            f"unclear: {unclear / max(1, read):.2f} of a face's boxes; {self.seconds / max(1, self.faces):.2f} s a face"
        )


def kept(seed: int, faces: list[Face], folder: Path, struck: bool) -> Kept:
    """The picture of a seed, made anew or as it was made before."""
    picture, told = folder / f"{seed}.picture", folder / f"{seed}.json"
    if not told.is_file():
        one = made(seed, faces, struck)
        plain = {"number": one.face.number, "paper": one.face.paper, "truth": one.truth, "told": one.told}
        folder.mkdir(parents=True, exist_ok=True)
        picture.write_bytes(one.data)
        told.write_text(json.dumps(plain))
    return Kept(seed, picture.read_bytes(), **json.loads(told.read_text()))


def read(one: Kept, by_number: dict[tuple[str, str], Sheet]) -> FaceRead | str:
    """Read a picture as the program does: which face it is only its codes say. A text says why it was not read."""
    grey = picture(one.data, 0)
    marks = find_marks(grey)
    codes = find_codes(grey, marks)
    if not codes:
        return "no code"
    number = codes[0].text.split()[0]
    sheet = by_number.get((number, one.paper))
    if number != one.number or sheet is None:
        return "wrong sheet"
    page = next(face.page for face in sheet.faces if face.number == number)
    face = next(face for face in faces_of(sheet.pdf, only=page))
    try:
        return read_face(grey, marks, codes, face)
    except Refused as refused:
        return refused.said.name


@dataclass(frozen=True)
class Outcome:
    """What became of one picture: the face's boxes as (true, read), or why it was not read."""

    seed: int
    told: str
    why: str
    boxes: tuple[tuple[str, str, str], ...]
    seconds: float


_ALL: dict[str, Any] = {}


def _begin(folder: Path, struck: bool) -> None:
    cv2.setNumThreads(1)
    printed = sheets(folder)
    _ALL["folder"], _ALL["struck"] = folder, struck
    _ALL["faces"] = [face for sheet in printed for face in sheet.faces]
    _ALL["sheets"] = {(face.number, face.paper): sheet for sheet in printed for face in sheet.faces}


def outcome(seed: int) -> Outcome:
    """Make the picture of a seed and read it; or what was found before, by the same reader."""
    done = _ALL["folder"] / f"read-{_reader()}{_kind()}" / f"{seed}.json"
    if done.is_file():
        return Outcome(**json.loads(done.read_text()))
    found = _outcome(seed)
    done.parent.mkdir(exist_ok=True)
    done.write_text(json.dumps(vars(found)))
    return found


def _kind() -> str:
    return "-struck" if _ALL["struck"] else ""


def _reader() -> str:
    """The digest of the code that reads."""
    whole = hashlib.sha256()
    for path in sorted((ROOT / "docgen" / "camera").glob("*.py")):
        whole.update(path.read_bytes())
    return whole.hexdigest()[:12]


def _outcome(seed: int) -> Outcome:
    one = kept(seed, _ALL["faces"], _ALL["folder"] / f"faces{_kind()}", _ALL["struck"])
    start = time.process_time()
    found = read(one, _ALL["sheets"])
    seconds = time.process_time() - start
    if isinstance(found, str):
        return Outcome(seed, one.told, found, (), seconds)
    boxes = tuple((name, true, found.ticks[name]) for name, true in one.truth.items())
    return Outcome(seed, one.told, "", boxes, seconds)


def main() -> None:
    """Run it."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--faces", type=int, default=FACES)
    parser.add_argument("--first", type=int, default=FIRST)
    parser.add_argument("--kept", type=Path, default=ROOT / "out" / "camera")
    parser.add_argument("--processes", type=int, default=1)
    parser.add_argument("--struck", action="store_true", help="faces full of boxes that a person must judge")
    parser.add_argument("--worst", action="store_true", help="name every box that was read wrong, every face not read")
    given = parser.parse_args()
    sheets(given.kept)  # printed once, before anybody reads
    count = Count()
    seeds = range(given.first, given.first + given.faces)
    with get_context("spawn").Pool(given.processes, _begin, (given.kept, given.struck)) as pool:
        for n, one in enumerate(pool.imap_unordered(outcome, seeds), 1):
            take(count, one, given.worst)
            if n % 100 == 0 and n < given.faces:
                print(count.line(), flush=True)
    for (true, said), boxes in sorted(count.boxes.items()):
        print(f"{true} boxes read {said}: {boxes}")
    for why, lost in sorted(count.lost.items()):
        print(f"not read, {why}: {lost}")
    print(count.line())


def take(count: Count, one: Outcome, worst: bool) -> None:
    """Count what became of one picture."""
    count.seconds += one.seconds
    count.faces += 1
    if one.why:
        count.wrong += one.why == "wrong sheet"
        count.lost.update([one.why] if one.why != "wrong sheet" else [])
        if worst:
            print(f"{one.seed} {one.why}: {one.told}", flush=True)
    for name, true, said in one.boxes:
        count.boxes[true, said] += 1
        if worst and said != "unclear" and said != true:
            print(f"{one.seed} {name}: {true} read {said}: {one.told}", flush=True)


if __name__ == "__main__":
    main()
