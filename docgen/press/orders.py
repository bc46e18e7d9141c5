"""From a sheet's page to an order for the press: its drawings and codes as assets, its job attached."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, time

from docgen.job.issued import frozen
from docgen.job.job import Job
from docgen.press.meta import Asset, Attached, Meta
from docgen.press.qr import qr_svg
from docgen.press.workers import Order
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
    assets = {name: Asset("image/svg+xml", svg.encode()) for name, svg in page.drawings.items()}
    assets |= {name: Asset("image/svg+xml", qr_svg(text, quiet=0).encode()) for name, text in page.codes.items()}
    meta = Meta(
        title=page.title,
        author=author,
        subject=page.subject,
        keywords=keywords,
        language=page.language,
        created=_noon(on),
        identifier=page.identifier,
    )
    return Order(key, page.html, page.css, meta, (), assets, body=page.body, faces=page.faces, numbers=page.numbers)


def _noon(day: date) -> datetime:
    return datetime.combine(day, time(12), UTC)
