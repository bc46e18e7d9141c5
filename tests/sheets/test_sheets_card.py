"""The engine card: what stands on it, and that its plots show what they claim."""

from __future__ import annotations

import io
import json
import re
import subprocess
import sys
from pathlib import Path
from xml.etree import ElementTree

import pypdf
import pytest
from click.testing import CliRunner, Result

from docgen.cli.frame import docgen
from docgen.returns.filing import file_event
from docgen.sheets.drawings.plot import FOOT, HEIGHT, LEFT, LOW, RIGHT, TOP, WIDTH, Dot, Series, plot, used_bar
from tests.plan.club_with_a_past import folder_of, past
from tests.sheets.conftest import PT, Seen

SVG = "{http://www.w3.org/2000/svg}"


def say(root: Path, *words: str, typed: str = "") -> Result:
    return CliRunner().invoke(
        docgen, ["--club", str(root), *words], prog_name="docgen", input=typed, catch_exceptions=False
    )


@pytest.fixture(scope="module")
def root(tmp_path_factory: pytest.TempPathFactory) -> Path:
    root = tmp_path_factory.mktemp("card")
    past(root)
    return root


@pytest.fixture(scope="module")
def seen(root: Path) -> Seen:
    result = say(root, "card", "7A", "--on", "2030-03-01")
    path = root / "out/7A/7A-card.pdf"
    assert (result.exit_code, result.stdout) == (0, f"Card of engine 7A, 2 pages: {path}\n")
    return Seen(path.read_bytes(), 2, ((210, 297),) * 2)


def says(pdf: bytes, told: str) -> bool:
    """Whether a text stands on the card, in the order in which it was written; blanks aside."""
    pages = pypdf.PdfReader(io.BytesIO(pdf)).pages
    return re.sub(r"\s", "", told) in re.sub(r"\s", "", "".join(page.extract_text() for page in pages))


def test_card_holds_what_a_buyer_asks_for(seen: Seen, root: Path) -> None:
    digest = folder_of(root).engines["7A"].log.head
    for told in (
        "Engine card · Test Bench Club Willow 80 as of 1 March 2030",
        "Serial W80-0007 Keeper Bo Lind In the record since 1 March 2029 Maker’s manual Willow 80 workshop book",
        "Total hours 9.0 h 4 h when it was received on 1 March 2029; the rest follows from the log",
        "Hours since it was rebuilt 5.0 h on 2 March 2029, approved by Club scrutineer",
        "Rebuilt means: completely disassembled, inspected, repaired as necessary, reassembled, tested, and approved",
        "to the limits of a new one (the sense of 14 CFR 91.421(c)).",
        "1 May 2029 Rubs a little",
        "Rotor W-1 2 March 2029 5.0 h 10.0 h",
        "Rotor gap 0.05 mm to the limit: about 2.5 h left",
        "0.40 mm 1 July 2029, 9.0 h",
        "0.20 to 0.45 mm new 0.20 to 0.30 mm",
        "Seal on the side plate S-101",
        "1 March 2029 Ágnes Őry 1 August 2029 Bo Lind",
        "2029 5.0 h 2",
        "Ran 5 h Corrected Corrected 2 February 2030, Bo Lind: a nought too many holds now: ran 3 h",
        "rotor gap: 0.40 mm, was 0.38 mm",
        "Ran 1 h Corrected Corrected 2 February 2030, Bo Lind: another engine this entry does not count",
        "7A-ROT-03-001-S1-I",
        " ".join(re.findall("." * 8, digest)),
        f"Digest of this record {digest[:12]}",
        "The engine maker’s manual, class rules, local codes and licensed practice come first.",
        "Page 1 of 2",
    ):
        assert says(seen.pdf, told), told


def test_without_a_rebuild_no_hours_since_it_are_claimed(root: Path) -> None:
    assert say(root, "card", "8B", "--on", "2030-03-01").exit_code == 0
    pdf = (root / "out/8B/8B-card.pdf").read_bytes()
    for told in (
        "Hours since it was rebuilt no rebuild on record",
        "0.0 h since the record began on 1 February 2030; hours before are not known",
        "not known 10.0 h age not known",
        "Digest of this record empty",
        "Record empty",
    ):
        assert says(pdf, told), told


def test_long_words_other_scripts_and_letter_paper_fit(tmp_path: Path) -> None:
    past(tmp_path)
    for path, old, new in (
        ("club.yaml", "paper: A4", "paper: Letter"),
        ("engines/7A/engine.yaml", "W80-0007", "W80-" + "0123456789" * 8),
        ("models/willow-80.yaml", "title: Willow 80", "title: " + "Extraordinarily long name of an engine type " * 3),
    ):
        (tmp_path / path).write_text((tmp_path / path).read_text("utf-8").replace(old, new), "utf-8")
    name = "鈴木一郎 Zoë-Kőszegi-" + "Wolfeschlegelstein" * 6
    file_event(tmp_path, "7A", {"event": "owner", "date": "2030-02-03", "keeper": name})
    file_event(
        tmp_path, "7A", {"event": "finding", "date": "2030-02-03", "by": name, "finding": f"{name} ≤ 0.5 mm " * 30}
    )
    result = say(tmp_path, "card", "7A", "--on", "2030-03-01")
    assert (result.exit_code, result.stderr) == (0, "")
    pages = pypdf.PdfReader(tmp_path / "out/7A/7A-card.pdf").pages
    assert {(round(float(p.mediabox.width) * PT, 1), round(float(p.mediabox.height) * PT, 1)) for p in pages} == {
        (215.9, 279.4)
    }


def test_smallest_print_is_7_points(seen: Seen) -> None:
    sizes = [word.size / PT for page in (1, 2) for word in seen.words(page)]
    assert min(sizes) > 6.9


def test_rebuilt_is_entered_only_when_all_of_it_is_true(root: Path, tmp_path: Path) -> None:
    past(tmp_path)
    words = ("rebuilt", "8B", "--by", "Bo Lind", "--approved-by", "Club scrutineer", "--on", "2030-03-02")
    no = say(tmp_path, *words, typed="y\ny\nn\n")
    assert no.exit_code == 1
    assert no.stdout.endswith(
        "Nothing was written: an engine that was not repaired as necessary was not rebuilt (repaired).\n"
    )
    assert not (tmp_path / "engines/8B/log").exists()
    yes = say(tmp_path, *words, typed="y\n" * 6)
    assert yes.exit_code == 0
    assert say(tmp_path, "engine", "8B", "--on", "2030-03-02").stdout.splitlines()[3] == (
        "Hours since rebuilt: 0.0 h, since 2030-03-02, approved by Club scrutineer"
    )
    worn = say(tmp_path, "rebuilt", "7A", "--by", "A", "--approved-by", "B", "--on", "2030-03-02", typed="y\n" * 6)
    assert worn.exit_code == 1
    assert worn.stdout == (
        "  refused not-to-new-limits: rotor gap, 0.40 mm, is outside the range of new parts, 0.20 to 0.30 mm\n"
        "    an engine is approved as rebuilt only to the limits of a new one\nNothing was written.\n"
    )


# --- plots ------------------------------------------------------------------------------------------------------------

SERIES = Series(
    dots=(Dot(4.0, 0.30), Dot(6.0, 0.34, (0.32,)), Dot(9.0, 0.40)),
    low=0.20,
    high=0.45,
    new=(0.20, 0.30),
    renewed=(5.0,),
    trend=((6.0, 0.34), (11.0, 0.44)),
    labels=("0.20", "0.45"),
)


def shapes(svg: str, tag: str) -> list[dict[str, str]]:
    return [dict(one.attrib) for one in ElementTree.fromstring(svg).iter(f"{SVG}{tag}")]


def test_figures_stand_at_their_places() -> None:
    svg = str(plot(SERIES, "gap"))
    dots = [(float(c["cx"]), float(c["cy"])) for c in shapes(svg, "circle") if c["fill"] == "#000"]
    limits = sorted(float(line["y1"]) for line in shapes(svg, "line") if line.get("stroke-width") == "0.6")
    assert len(limits) == 2
    high, low = limits
    # Equal steps of figure and of hours are equal steps on paper.
    per_mm = (0.45 - 0.20) / (low - high)
    for (x, y), dot in zip(dots, SERIES.dots, strict=True):
        assert 0.45 - (y - high) * per_mm == pytest.approx(dot.value, abs=1e-4)
        assert (x - dots[0][0]) / (dots[1][0] - dots[0][0]) == pytest.approx((dot.hours - 4.0) / 2.0, abs=1e-3)
    assert TOP < high < low < HEIGHT - FOOT
    assert all(LEFT < x < WIDTH - RIGHT for x, _ in dots)


def test_a_renewal_parts_the_line_and_the_trend_meets_its_figures() -> None:
    svg = str(plot(SERIES, "gap"))
    (joined,) = shapes(svg, "polyline")
    assert len(joined["points"].split()) == 2, "the two readings since the renewal, not the one before"
    dashed = [line for line in shapes(svg, "line") if "stroke-dasharray" in line]
    renewed, trend = dashed
    dots = [(float(c["cx"]), float(c["cy"])) for c in shapes(svg, "circle") if c["fill"] == "#000"]
    assert renewed["x1"] == renewed["x2"]
    assert dots[0][0] < float(renewed["x1"]) < dots[1][0]
    assert (float(trend["x1"]), float(trend["y1"])) == pytest.approx(dots[1], abs=1e-3)
    assert float(trend["x2"]) > dots[2][0]
    (new,) = shapes(svg, "rect")
    assert float(new["y"]) == pytest.approx(dots[0][1], abs=1e-3), "0.30 is the upper end of the range of new parts"


def test_one_reading_alone_is_a_lower_drawing_and_none_is_an_error() -> None:
    svg = str(plot(Series((Dot(4.0, 0.3),), None, 0.45, labels=("", "0.45")), "gap"))
    assert ElementTree.fromstring(svg).attrib["height"] == f"{LOW:g}mm"
    with pytest.raises(ValueError, match="nothing to plot"):
        plot(Series((), 0.1, 0.2), "gap")


def test_equal_figures_at_equal_hours_are_drawn_too() -> None:
    svg = str(plot(Series((Dot(0.0, 0.0), Dot(0.0, 0.0)), None, None), "nought"))
    assert len({(c["cx"], c["cy"]) for c in shapes(svg, "circle")}) == 1
    assert "nan" not in svg


def test_a_life_used_up_runs_past_the_line_of_its_limit() -> None:
    half, over = (str(used_bar(share, (), 26.0, 3.4, "life")) for share in (0.5, 1.2))
    assert [shapes(svg, "rect")[1]["width"] for svg in (half, over)] == ["10.4", "24.96"]
    assert [line["x1"] for line in shapes(over, "line")] == ["20.8"]


def test_other_peoples_tools_find_nothing(root: Path, seen: Seen) -> None:
    assert seen.pages == 2
    path = root / "out/7A/7A-card.pdf"
    done = subprocess.run(
        [Path(sys.executable).with_name("pdfua"), "check", "--format", "json", path], capture_output=True, text=True
    )
    assert (done.returncode, json.loads(done.stdout)["findings"]) == (0, []), done.stdout
    checked = subprocess.run(["qpdf", "--check", path], capture_output=True, text=True)
    assert (checked.returncode, checked.stderr) == (0, "")
