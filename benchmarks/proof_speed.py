"""How long does proofing take when a club grows: 200 procedures, each on 20 engine types?

The shipped procedures and models, copied under new names until there are that many. A job is simulated on each type
that has the equipment it needs. Reading is timed apart. The last line reads
`200 procedures on 20 models (N simulations): S s`.
"""

from __future__ import annotations

import sys
import tempfile
import time
from pathlib import Path

from docgen.club.folder import Folder
from docgen.club.read import read_club
from docgen.proof import proof_all

ROOT = Path(__file__).resolve().parents[1]
PROCEDURES, MODELS = 200, 20


def big_club(root: Path) -> None:
    """A club folder with that many files, each copy renamed."""
    shipped = read_club(ROOT)
    (root / "procedures").mkdir(parents=True)
    (root / "models").mkdir()
    (root / "club.yaml").write_text((ROOT / "club.yaml").read_text("utf-8"), "utf-8")
    for name, sequence in shipped.sequences.items():
        (root / "procedures" / f"{name}.yaml").write_text(sequence.document.text, "utf-8")
    jobs = sorted(shipped.procedures)
    for number in range(PROCEDURES):
        name = jobs[number % len(jobs)]
        text = shipped.procedures[name].document.text
        code = "".join(chr(65 + number // 26**place % 26) for place in (2, 1, 0))
        text = text.replace(f"procedure: {name}\n", f"procedure: job-{number:03}\n")
        text = text.replace(f"code: {shipped.procedures[name].value.code}\n", f"code: {code}\n")
        for other in jobs:
            text = text.replace(f"calls: {other}", f"calls: job-{jobs.index(other):03}")
        (root / "procedures" / f"job-{number:03}.yaml").write_text(text, "utf-8")
    types = sorted(shipped.models)
    for number in range(MODELS):
        name = types[number % len(types)]
        text = shipped.models[name].document.text.partition("\nintervals:\n")[0]
        text = text.replace(f"model: {name}\n", f"model: type-{number:02}\n")
        (root / "models" / f"type-{number:02}.yaml").write_text(f"{text}\n", "utf-8")


def main() -> int:
    """Read and proof the big club, and print how long each took."""
    with tempfile.TemporaryDirectory() as folder:
        big_club(Path(folder))
        start = time.perf_counter()
        club: Folder = read_club(Path(folder))
        read = time.perf_counter() - start
    start = time.perf_counter()
    problems = proof_all(club)
    proofed = time.perf_counter() - start
    errors = [p for p in (*club.problems, *problems) if p.level == "error"]
    print(f"reading: {read:.1f} s; {len(errors)} errors")
    if len(club.procedures) != PROCEDURES or len(club.models) != MODELS or errors:
        print("\n".join(map(str, errors[:5])))
        return 1
    pairs = sum(1 for model in club.models.values() for _ in club.for_model(model.value))
    print(f"{PROCEDURES} procedures on {MODELS} models ({pairs} simulations): {proofed:.1f} s")
    return 0


if __name__ == "__main__":
    sys.exit(main())
