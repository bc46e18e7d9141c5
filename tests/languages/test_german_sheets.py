"""The demo's plug job in German, printed: language, figures, number; filled in, filed, and read back equal."""

from __future__ import annotations

import io
import re
import shutil
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pikepdf
import pypdf
import pytest
from click.testing import CliRunner, Result

from docgen.cli.frame import docgen
from docgen.club.read import read_club
from docgen.club.schema.event import Service
from docgen.club.translation import spoken
from docgen.job.issue import thawed
from docgen.press.fields import boxes
from tests.languages.foreign import foreign_in
from tests.paper.measuring import check_sound
from tests.returns.filling import filled, filled_by_hand

ROOT = Path(__file__).resolve().parents[2]
FILES = ("club.yaml", "models", "procedures", "engines")
GERMAN = {
    "work-started": "1.3.2027",
    "work-completed": "1. März 2027",
    "engine-hours": "10,2",
    "done-by": "Zoë Kőszegi",
    "tighten-spark-plug_wrench": "Drehmomentschlüssel 20 bis 110",
    "tighten-spark-plug_initials": "ZK",
    "measure-plug-reach": "18,70",
    "measure-plug-gap": "0,55 mm",
    "renew-spark-plug_renewed": "on",
    "renew-spark-plug_number": "AL-7010",
    "looked-all": "on",
    "closing-plug-type": "on",
    "closing-stop-switch": "on",
    "findings": "keine",
    "released-by": "Zoë Kőszegi",
    "released-on": "01.03.2027",
    "next-due-hours": "15,2",
}
ENGLISH = GERMAN | {
    "work-started": "2027-03-01",
    "work-completed": "1 March 2027",
    "engine-hours": "10.2",
    "measure-plug-reach": "18.70",
    "measure-plug-gap": "0.55",
    "findings": "none",
    "released-on": "2027-03-01",
    "next-due-hours": "15.2",
}


def say(root: Path, *words: str) -> Result:
    return CliRunner().invoke(docgen, ["--club", str(root), *words], prog_name="docgen", catch_exceptions=False)


@pytest.fixture(scope="module")
def printed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo club with the plug job printed in English, then in German."""
    root = tmp_path_factory.mktemp("club")
    for name in FILES:
        copy = shutil.copytree if (ROOT / name).is_dir() else shutil.copy
        copy(ROOT / name, root / name)
    shutil.rmtree(root / "engines/017/issued", ignore_errors=True)
    for language in ("en", "de"):
        for words in (("print", "017", "--job", "PLU"), ("reading", "PLU", "--engine", "017")):
            done = say(root, *words, "--on", "2027-02-20", "--language", language, "--out", str(root / language))
            assert done.exit_code == 0, done.output
    return root


def pdf(root: Path, language: str, sheet: str) -> bytes:
    name = "reading/PLU-017-reading.pdf" if sheet == "reading" else f"017/017-PLU-{sheet}.pdf"
    return (root / language / name).read_bytes()


def text(data: bytes) -> str:
    pages = pypdf.PdfReader(io.BytesIO(data)).pages
    return re.sub(r"\s+", " ", " ".join(page.extract_text() for page in pages))


@pytest.mark.parametrize("sheet", ["leaf", "reading", "sign-off"])
def test_the_document_says_its_language(printed: Path, sheet: str) -> None:
    for language in ("en", "de"):
        with pikepdf.open(io.BytesIO(pdf(printed, language, sheet))) as document:
            assert str(document.Root.Lang) == language
            with document.open_metadata() as meta:
                assert meta["dc:language"] == {language}


def test_figures_and_dates_are_german(printed: Path) -> None:
    bench, desk, signed = (text(pdf(printed, "de", sheet)) for sheet in ("leaf", "reading", "sign-off"))
    for wanted in ("Zündkerze erneuern", "13. Februar 2027", "18,53 bis 19,00 mm", "0,50 geht durch, 0,60 nicht",
                   "27 N·m", "WARNUNG", "etwa 14 min", "1 von 1"):  # fmt: skip
        assert wanted in bench
    for wanted in ("Zum Nachlesen", "18,5 bis 19,0 mm, Neuteil 18,8 bis 19,0 mm", "25 bis 29 N·m", "M14×1,25 trocken",
                   "Drehmomentschlüssel stellen auf 27 N·m", "18,9 mm bei 7,8 h", "Etwa 14 min"):  # fmt: skip
        assert wanted in desk
    for wanted in ("Freigabeblatt", "Gedruckt am 20. Februar 2027", "18,9 mm bei 7,8 h", "10,2 h", "Anzugsmoment"):
        assert wanted in signed
    for page in (bench, desk, signed):
        assert re.findall(r"\d\.\d", page.replace("CC-BY-4.0", "")) == []


def test_fields_have_the_same_names_in_every_language(printed: Path) -> None:
    names = {language: [box.name for box in boxes(pdf(printed, language, "sign-off"))] for language in ("en", "de")}
    assert len(names["en"]) >= 25
    assert sorted(names["en"]) == sorted(names["de"])


def test_a_print_in_another_language_is_a_print_of_its_own(printed: Path) -> None:
    """One number stands for one paper: what is printed differs, so its number does."""
    issued = sorted((printed / "engines/017/issued").glob("017-PLU-*.yaml"))
    assert [path.name[:14] for path in issued] == ["017-PLU-07-001", "017-PLU-07-002"]
    english, german = (thawed(path.read_text("utf-8")) for path in issued)
    assert (english.instructions.language, german.instructions.language) == ("", "de")
    assert (english.instructions.tongue, german.instructions.tongue) == ("en", "de")
    assert english.instructions_digest != german.instructions_digest
    assert "017-PLU-07-001-S1" in text(pdf(printed, "en", "sign-off"))
    assert "017-PLU-07-002-S1" in text(pdf(printed, "de", "sign-off"))


def test_printed_again_in_the_same_language_it_keeps_its_number(printed: Path, tmp_path: Path) -> None:
    root = Path(shutil.copytree(printed, tmp_path / "club"))
    words = ("print", "017", "--job", "PLU", "--on", "2027-02-20", "--language", "de")
    again = say(root, *words, "--out", str(root / "x"))
    assert again.exit_code == 0
    assert (root / "x/017/017-PLU-sign-off.pdf").read_bytes() == pdf(printed, "de", "sign-off")
    assert len(list((root / "engines/017/issued").glob("017-PLU-*.yaml"))) == 2


@pytest.mark.parametrize("fill", [filled, filled_by_hand])
def test_a_german_sheet_filled_and_filed_says_what_an_english_one_says(printed: Path, tmp_path: Path, fill) -> None:  # type: ignore[no-untyped-def]
    services = {}
    for language, answers in (("en", ENGLISH), ("de", GERMAN)):
        root = Path(shutil.copytree(printed, tmp_path / language))
        path = root / "signed.pdf"
        path.write_bytes(fill(pdf(root, language, "sign-off"), answers))
        done = say(root, "file", "--on", "2027-03-02", "--yes", str(path))
        assert done.exit_code == 0, done.output
        folder = read_club(root)
        assert [str(p) for p in folder.problems] == []
        services[language] = list(folder.engines["017"].log.of(Service))[-1]
    own = {"sheet", "instructions", "issue", "printed", "file", "file_digest", "parents", "torques"}
    english, german = (services[language].model_dump(exclude=own) for language in ("en", "de"))
    assert english == german
    assert {name: [str(v) for v in values] for name, values in services["de"].readings.items()} == {
        "plug-reach": ["18.70 mm"],
        "plug-gap": ["0.55 mm"],
    }
    assert str(services["de"].hours) == "10.2 h"
    assert services["de"].findings == ()


def test_a_reading_outside_its_german_limit_is_seen(printed: Path, tmp_path: Path) -> None:
    root = Path(shutil.copytree(printed, tmp_path / "club"))
    path = root / "signed.pdf"
    path.write_bytes(filled(pdf(root, "de", "sign-off"), GERMAN | {"measure-plug-gap": "0,75"}))
    done = say(root, "file", "--on", "2027-03-02", "--yes", str(path))
    assert done.exit_code == 1
    said = "Elektrodenabstand, 0.75 mm, is outside its limit, 0.50 to 0.60 mm, and the sheet has no finding"
    assert said in done.output


@pytest.mark.parametrize("sheet", ["leaf", "reading", "sign-off"])
def test_tools_that_are_not_ours_find_german_sheets_sound(printed: Path, tmp_path: Path, sheet: str) -> None:
    check_sound(pdf(printed, "de", sheet), tmp_path)


def test_what_stays_english_is_read_out_in_english(printed: Path, tmp_path: Path) -> None:
    """A job that is there in English only, printed in German: each of its texts is tagged with its language."""
    root = Path(shutil.copytree(printed, tmp_path / "club"))
    done = say(root, "print", "017", "--job", "CLU", "--on", "2027-02-20", "--language", "de", "--out", str(root / "x"))
    assert done.exit_code == 0, done.output
    for sheet, least in (("leaf", 100), ("sign-off", 30)):
        data = (root / f"x/017/017-CLU-{sheet}.pdf").read_bytes()
        check_sound(data, tmp_path)
        with pikepdf.open(io.BytesIO(data)) as document:
            found = Counter(_tagged(document.Root.StructTreeRoot.K))
        assert set(found) == {("/Span", "en")}
        assert found["/Span", "en"] > least


def _tagged(item: object) -> Iterator[tuple[str, str]]:
    """The tags that name a language, and which."""
    if isinstance(item, pikepdf.Array):
        for kid in item:
            yield from _tagged(kid)
    elif isinstance(item, pikepdf.Dictionary):
        if "/Lang" in item:
            yield str(item.S), str(item.Lang)
        yield from _tagged(item.get("/K"))


def test_the_plug_job_is_whole_in_both_languages() -> None:
    """On no engine of the demo does the job print a text that had to stay in the other language."""
    folder = read_club(ROOT)
    for language in ("en", "de"):
        turned = spoken(folder, language)
        assert len(turned.engines) >= 9
        left = {number: foreign_in(turned, number, "spark-plug-renewal") for number in turned.engines}
        assert {number: texts for number, texts in left.items() if texts} == {}
