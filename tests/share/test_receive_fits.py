"""A parcel of jobs at a club with engine types of its own: what fits comes in, nothing is forced on it."""

from __future__ import annotations

from pathlib import Path

from click.testing import CliRunner

from docgen.cli.frame import docgen
from docgen.club.read import read_club
from docgen.share.merge import merge, respelled
from tests.share.receiving import DAY, FROM, JOB, MODEL, WAIT, edit, packed, receive, say
from tests.smallclub import texts, write

ELDER = texts()[MODEL].replace("willow-80", "elder-60").replace("Willow 80", "Elder 60")
BARE = ELDER.replace("elder-60", "bare-60").replace("Elder 60", "Bare 60").replace("  spacer:", "  shim:")


def slate(root: Path, *models: str) -> Path:
    """A club with these engine types in the place of the Willow, and no job."""
    named = {f"models/{text.split()[1]}.yaml": text for text in models}
    engines = dict.fromkeys(("engines/7A/engine.yaml", "engines/8B/engine.yaml"))
    return write(root, {JOB: None, MODEL: None, **engines, **named})


def test_no_engine_type_is_forced_on_a_club_that_has_its_own(other: Path, tmp_path: Path) -> None:
    home = slate(tmp_path / "slate", ELDER)
    code, said = receive(home, packed(other), "--yes")
    assert code == 0
    assert said == FROM + """\
NEW: you have none of that name
  job rotor-service, "Rotor - clean and regrease", revision 3 of 2030-01-15
    by A. Tester, licence: CC-BY-4.0; 18 steps
    fits of your engine types: elder-60
    every 5 h or 6 months, whichever comes first

LEFT OUT: an engine type that you have not
  engine type willow-80, "Willow 80"
    manual: Willow 80 workshop book; 4 parts, 2 fasteners, 1 limit, 1 setting
    --take willow-80  takes it in too.

Taken in: rotor-service
"""
    folder = read_club(home)
    assert (sorted(folder.models), sorted(folder.procedures)) == (["elder-60"], ["rotor-service"])
    assert folder.problems == []


def test_it_comes_where_somebody_asks_for_it(other: Path, tmp_path: Path) -> None:
    home = slate(tmp_path / "slate", ELDER)
    assert receive(home, packed(other), "--yes", "--take", "willow-80")[0] == 0
    assert sorted(read_club(home).models) == ["elder-60", "willow-80"]


def test_a_job_comes_in_when_it_fits_one_type_and_the_others_are_told_of(other: Path, tmp_path: Path) -> None:
    home = slate(tmp_path / "slate", ELDER, BARE)
    code, said = receive(home, packed(other), "--yes")
    assert code == 0
    assert "    fits of your engine types: elder-60\n    bare-60 lacks 1 name: spacer\n" in said
    folder = read_club(home)
    assert folder.fits("rotor-service", folder.models["elder-60"].value)
    assert not folder.fits("rotor-service", folder.models["bare-60"].value)
    assert [one.level for one in folder.problems] == ["note"]
    proofed = say(home, "proof", "--on", DAY)
    assert proofed.exit_code == 0
    assert "ROT lacks 1 name: spacer" in proofed.stderr


def test_a_job_may_speak_of_equipment_that_no_type_here_has(other: Path, tmp_path: Path) -> None:
    wet = ("      - do: Slide the rotor on.\n", "      - do: Drain the water.\n        only_with: [water-jacket]\n"
           "      - do: Slide the rotor on.\n")  # fmt: skip
    edit(other, JOB, ("revision: 3", "revision: 4"), wet)
    edit(other, MODEL, ("equipment: [rotor-drive]", "equipment: [rotor-drive, water-jacket]"))
    home = slate(tmp_path / "slate", ELDER)
    assert receive(home, packed(other), "--yes")[0] == 0
    assert read_club(home).problems == []


def test_two_clubs_that_began_with_the_same_library_have_one_ancestor(tmp_path: Path) -> None:
    library = write(tmp_path / "library")
    for name in ("one", "two"):
        take = ("--name", f"Club {name}", "--take", "willow-80", "--from", str(library), "--yes")
        words = ("new", "club", str(tmp_path / name), *take)
        assert CliRunner().invoke(docgen, words, catch_exceptions=False).exit_code == 0
        if name == "one":  # the library goes on before the second club begins
            edit(library, JOB, ("revision: 3", "revision: 4"), ("cold and extinguisher", "cold, extinguisher"))
    edit(tmp_path / "two", JOB, ("revision: 4", "revision: 5"), ("wait: 10 min", "wait: 12 min"))
    edit(tmp_path / "one", JOB, ("title: Rotor - clean and regrease", "title: Rotor - clean, look and regrease"))
    code, said = receive(tmp_path / "one", packed(tmp_path / "two"), "--yes")
    assert (code, "ANOTHER ONE" in said) == (0, False)
    assert "CHANGED BY BOTH, in different places" in said
    text = (tmp_path / "one" / JOB).read_text("utf-8")
    assert "wait: 12 min" in text
    assert "title: Rotor - clean, look and regrease" in text


def test_whoever_packed_first_what_both_changed_is_put_together(other: Path, met: Path) -> None:
    edit(met, JOB, ("revision: 3", "revision: 4"), ("title: Rotor - clean and regrease", "title: Rotor"))
    edit(other, JOB, ("revision: 3", "revision: 4"), WAIT)
    code, said = receive(other, packed(met), "--yes")
    assert code == 0, said
    assert "CHANGED BY BOTH, in different places" in said
    assert receive(met, packed(other), "--yes")[0] == 0
    assert (met / JOB).read_text("utf-8").partition("\n")[2] == (other / JOB).read_text("utf-8").partition("\n")[2]


def test_equal_figures_written_differently_are_equal(other: Path, met: Path) -> None:
    edit(other, MODEL, ("new: 0.20..0.30 mm", "new: 0.2..0.3 mm"))
    code, said = receive(met, packed(other), "--yes")
    assert (code, "As you have it already: willow-80, rotor-service" in said) == (0, True)
    assert "new: 0.20..0.30 mm" in (met / MODEL).read_text("utf-8")


def test_a_figure_in_another_spelling_is_no_change_of_it() -> None:
    base = {"limits": {"gap": {"new": "0.20..0.30 mm"}, "play": {"new": "0.4 mm"}}}
    ours = {"limits": {"gap": {"new": "0.2..0.3 mm"}, "play": {"new": "0.40 mm"}}}
    theirs = {"limits": {"gap": {"new": "0.20..0.35 mm"}, "play": {"new": "0.4 mm"}}}
    merged = merge(base, ours, theirs)
    assert merged.conflicts == []
    assert merged.data == {"limits": {"gap": {"new": "0.20..0.35 mm"}, "play": {"new": "0.40 mm"}}}
    assert respelled({"a": "0.40 mm", "b": "M6x1.0"}, {"a": "0.4 mm", "b": "M6x1"}) == {"a": "0.4 mm", "b": "M6x1.0"}
