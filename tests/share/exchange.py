"""Two clubs exchange a job over three revisions, and both change it: played through, and written down as it is said.

`python -m tests.share.exchange --accept` writes what was said into docs/exchange.md.
"""

from __future__ import annotations

import re
import shutil
import sys
import tempfile
from dataclasses import dataclass, field
from pathlib import Path

from click.testing import CliRunner

from docgen.cli.frame import docgen
from tests.smallclub import texts, write

DOC = Path(__file__).resolve().parents[2] / "docs" / "exchange.md"
DAY = "2030-06-10"
JOB, MODEL = "procedures/rotor-service.yaml", "models/willow-80.yaml"
KESTREL, SLATE = "Kestrel Mere Kart Club", "Slate Hollow Karters"
HEAD = f"""\
# An exchange between two clubs

Written by a test (`tests/share/test_exchange.py`): every line below a `$` is what the program said. The
**{KESTREL}** has a job, *Rotor - clean and regrease*, for an engine type that it looks after. **{SLATE}**
have an engine type of their own with the same drive, and would like to have the job too. Clubs, engines and figures are
invented.
"""


@dataclass
class Play:
    """The two clubs' folders below `root`, and what has been said so far."""

    root: Path
    lines: list[str] = field(default_factory=lambda: [HEAD])
    said: list[tuple[int, str]] = field(default_factory=list)

    def tell(self, text: str) -> None:
        """A paragraph of the story."""
        self.lines.append(f"{text}\n")

    def edit(self, club: str, path: str, *changes: tuple[str, str], shown: bool = True) -> None:
        """Somebody edits a file of a club by hand."""
        place = self.root / club / path
        text = place.read_text("utf-8")
        rows = []
        for old, new in changes:
            assert text.count(old) == 1, f"{old!r} stands {text.count(old)} times in {path}"
            text = text.replace(old, new)
            rows += [f"- {line}" for line in old.strip("\n").splitlines()] if old.strip() not in new else []
            rows += [f"+ {line}" for line in new.strip("\n").splitlines() if line not in old.splitlines()]
        place.write_text(text, "utf-8")
        if shown:
            self.lines.append(f"`{club}/{path}`:\n")
            self.lines.append("```diff\n" + "\n".join(rows) + "\n```\n")

    def type(self, club: str, *words: str, answer: str = "") -> str:
        """Somebody types a command in a club's folder; `answer` is typed when it asks."""
        done = CliRunner().invoke(
            docgen, ["--club", str(self.root / club), *self._placed(words)], prog_name="docgen", input=answer,
            catch_exceptions=False,
        )  # fmt: skip
        said = done.output.replace(f"{self.root}/", "").rstrip("\n")
        self.said.append((done.exit_code, said))
        command = " ".join(f'"{word}"' if " " in word else word for word in words)
        self.lines.append(f"```\n{club}$ docgen {command}\n{said}\n```\n")
        return said

    def _placed(self, words: tuple[str, ...]) -> list[str]:
        return [str(self.root / word) if word.endswith(".parcel") else word for word in words]

    def as_said(self) -> str:
        """All of it, as a page."""
        return "\n".join(self.lines)


def clubs(root: Path) -> Play:
    """Kestrel with the job and its engine type; Slate with a type of its own, other tools, and no job."""
    write(root / "kestrel", {"club.yaml": texts()["club.yaml"].replace("Test Bench Club", KESTREL)})
    elder = texts()[MODEL].replace("willow-80", "elder-60").replace("Willow 80", "Elder 60").replace("34 N.m", "28 N.m")
    shelf = re.sub(r"\n  rotor-stop: .*", "", texts()["club.yaml"].replace("Test Bench Club", SLATE))
    shelf = re.sub(r"\n  paste: .*", "", shelf)
    engine = texts()["engines/7A/engine.yaml"].replace("7A", "31").replace("willow-80", "elder-60")
    write(root / "slate", {
        "club.yaml": shelf.replace("tools:", "# What hangs on our board\ntools:"),
        "models/elder-60.yaml": elder.replace("    holding_tool: rotor-stop\n", ""),
        "engines/31/engine.yaml": engine, JOB: None, MODEL: None,
        "engines/7A/engine.yaml": None, "engines/8B/engine.yaml": None,
    })  # fmt: skip
    return Play(root)


def play(root: Path) -> Play:
    """The whole exchange."""
    one = clubs(root)
    _first(one)
    _both_in_different_places(one)
    _back(one)
    _both_in_the_same_place(one)
    _refused(one)
    return one


def _first(one: Play) -> None:
    one.tell("## Revision 3 goes out\n\nKestrel packs it. What the job needs goes with it; prices, calibration and"
             " records do not.")
    one.type("kestrel", "pack", "ROT", "-o", "rotor-3.parcel")
    one.tell("Slate looks at what it would bring, and says no first; nothing is written before somebody agrees.")
    one.type("slate", "receive", "rotor-3.parcel", "--on", DAY, answer="n\n")
    one.tell("It is what they wanted. A member has bought a Willow, so the second time they take its engine type too.")
    one.type("slate", "receive", "rotor-3.parcel", "--on", DAY, "--take", "willow-80", answer="y\n")
    one.type("slate", "proof")
    one.tell("The register keeps its comments and its layout; what the job names and Slate had not stands at its head.")
    text = (one.root / "slate/club.yaml").read_text("utf-8")
    one.lines.append("```yaml\n" + text[text.index("# What hangs") : text.index("  wrench-25")] + "```\n")


def _both_in_different_places(one: Play) -> None:
    one.tell("## Revision 4, twice\n\nSlate has a cold workshop: the fluid needs longer, and they say why. They make"
             " it their revision 4.")
    one.edit("slate", JOB,
             ("revision: 3\ndated: 2030-01-15", "revision: 4\ndated: 2030-03-02"),
             ("        wait: 10 min",
              "        why: In the cold it dries slowly, and paste on a wet bore does not hold.\n"
              "        wait: 15 min"))
    one.tell("Kestrel, not knowing of it, has learnt from the maker that the nut wants more, and adds a look at its"
             " thread.")
    one.edit("kestrel", MODEL, ("torque: 34 N.m +/- 10 %", "torque: 38 N.m +/- 5 %"))
    one.edit("kestrel", JOB,
             ("revision: 3\ndated: 2030-01-15", "revision: 4\ndated: 2030-03-20"),
             ("      - do: Slide the rotor on.\n", "      - do: Look at the thread of the nut.\n"
              "        look: {id: thread-clean, accept: Every turn is whole and clean., fail: Fit a new nut.}\n"
              "        takes: 1 min\n      - do: Slide the rotor on.\n"))
    one.type("kestrel", "pack", "ROT", "-o", "rotor-4.parcel")
    one.tell("Slate gets theirs with its own change in it. Neither revision 4 is that text, so it becomes revision 5.")
    one.type("slate", "receive", "rotor-4.parcel", "--on", DAY, answer="y\n")


def _back(one: Play) -> None:
    one.tell("## Revision 5 goes back\n\nSlate sends its own to Kestrel, who had changed nothing since: for them it"
             " is simply newer.")
    one.type("slate", "pack", "ROT", "--model", "willow-80", "-o", "rotor-5.parcel")
    one.type("kestrel", "receive", "rotor-5.parcel", "--on", DAY, answer="y\n")
    one.tell("Taken in again, it brings nothing.")
    one.type("kestrel", "receive", "rotor-5.parcel", "--on", DAY)


def _both_in_the_same_place(one: Play) -> None:
    one.tell("## Revision 6, and a conflict\n\nNow both change the same wait, and each in another way.")
    one.edit("kestrel", JOB, ("revision: 5", "revision: 6"), ("wait: 15 min", "wait: 20 min"))
    one.edit("slate", JOB, ("revision: 5", "revision: 6"), ("wait: 15 min", "wait: 12 min"),
             ("- do: Let rotor and nut dry.", "- do: Let rotor and nut dry on the heater."))  # fmt: skip
    one.type("kestrel", "pack", "ROT", "--model", "willow-80", "-o", "rotor-6.parcel")
    one.tell("Nothing of Slate's is written over, `--yes` or not.")
    one.type("slate", "receive", "rotor-6.parcel", "--on", DAY, "--yes")
    one.tell("They telephone, agree on twenty minutes and the heater, and write that into their own file.")
    one.edit("slate", JOB, ("revision: 6", "revision: 7"), ("wait: 12 min", "wait: 20 min"))
    one.type("slate", "receive", "rotor-6.parcel", "--on", DAY, "--keep", "rotor-service", answer="y\n")
    one.type("slate", "pack", "ROT", "--model", "willow-80", "-o", "rotor-7.parcel")
    one.type("kestrel", "receive", "rotor-7.parcel", "--on", DAY, answer="y\n")


def _refused(one: Play) -> None:
    one.tell("## What is not taken in\n\nSomebody at Kestrel loses a step. Slate's engines would not have run long.")
    one.edit("kestrel", JOB, ("revision: 7", "revision: 8"),
             ("      - do: Tighten the rotor nut.\n"
              "        tightens: [rotor-nut]\n        takes: 2 min\n", ""))  # fmt: skip
    one.type("kestrel", "pack", "ROT", "--model", "willow-80", "-o", "rotor-8.parcel")
    one.type("slate", "receive", "rotor-8.parcel", "--on", DAY, "--yes")
    one.tell("And a parcel in which one figure was changed on the way:")
    parcel = one.root / "rotor-7.parcel"
    data = parcel.read_bytes()
    assert data.count(b"38 N.m") == 1
    (one.root / "changed.parcel").write_bytes(data.replace(b"38 N.m", b"83 N.m"))
    one.type("slate", "receive", "changed.parcel", "--on", DAY, "--yes")


def main() -> None:
    """Print what was said, or write it into the docs."""
    root = Path(tempfile.mkdtemp(prefix="exchange-"))
    try:
        page = play(root).as_said()
    finally:
        shutil.rmtree(root)
    if "--accept" in sys.argv:
        DOC.write_text(page, "utf-8")
    else:
        sys.stdout.write(page)


if __name__ == "__main__":
    main()
