"""From a sheet's page to an order for the press: its codes as drawings, its job attached."""

from dataclasses import replace
from datetime import UTC, date, datetime, time

from docgen.job.issue import frozen
from docgen.job.job import Job
from docgen.press.meta import Attached, Order
from docgen.press.qr import qr_svg
from docgen.sheets.page import Page


def order(key: str, page: Page, job: Job, author: str, *, forms: bool = False, source: bytes | None = None) -> Order:
    """The order that prints `page`, with the frozen job inside the PDF as its source; `source` saves freezing it again.

    The sheets leave the white round their codes themselves. The document is dated the day of the job at noon UTC, so
    that the same job gives the same bytes.
    """
    told = job.instructions
    data = frozen(job).encode() if source is None else source
    attached = Attached("job.yaml", data, "application/yaml", "The job that this sheet was printed from")
    made = plain_order(key, page, author, job.issue.on, (told.engine, told.code, told.model))
    return replace(made, attachments=(attached,), forms=forms)


def plain_order(key: str, page: Page, author: str, on: date, keywords: tuple[str, ...]) -> Order:
    """The order that prints a page which is no job's: an engine's card. It is dated noon UTC of the day `on`."""
    pictures = {**page.drawings, **{name: qr_svg(text) for name, text in page.codes.items()}}
    noon = datetime.combine(on, time(12), UTC)
    told = vars(page) | {"drawings": pictures, "codes": {}}
    return Order(**told, key=key, author=author, keywords=keywords, created=noon)
