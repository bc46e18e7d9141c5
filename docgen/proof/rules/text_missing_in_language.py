"""A file holds its texts in several languages, and a text lacks one: its sheet would be in two languages at once."""

from docgen.club.folder import Read
from docgen.club.translation import written_in
from docgen.proof.case import Findings, Written
from docgen.proof.texts import named, own_of, spoken_by, texts

LEVEL = "note"


def on_steps(file: Written) -> Findings:
    """One finding at each such text; a file that holds nothing at all in the club's language has one at its title."""
    held = list(texts(file.value, own_of(Read(file.value, file.document), file.club)))
    spoken, club = spoken_by(held), written_in(file.club)
    if club not in spoken:
        yield file.finding(
            ("title",), f"none of the {len(held)} texts of this file is there in {named([club])}, the club's language",
            f"write them side by side, {club}: beside {sorted(spoken)[0]}:; till then they print as they are",
        )  # fmt: skip
    for one in held:
        if lacking := one.lacks(spoken):
            yield file.finding(one.loc, f"this text is not there in {named(lacking)}, in which the file has others",
                               f"write it beside the other, {lacking[0]}: ...")  # fmt: skip
