"""The text changed since the last release and the revision did not: two sheets of one number would differ."""

from docgen.proof.case import Findings, Written


def on_steps(file: Written) -> Findings:
    """One finding at the revision. A file that was never released is not judged."""
    last = file.released
    if last is None:
        return
    revision = file.value.revision
    if revision < last.revision:
        message = f"revision {revision} is older than revision {last.revision}, released before"
        yield file.finding(("revision",), message, f"write  revision: {last.revision + 1}")
    elif revision == last.revision and file.digest != last.digest:
        yield file.finding(("revision",), f"the text is not that of revision {revision} as it was released",
                           f"write  revision: {revision + 1}  and today's date, or take the change back")  # fmt: skip
