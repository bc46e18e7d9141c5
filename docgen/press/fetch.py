"""What a page may load: our own fonts, and the drawings handed to the press. Nothing else."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any
from xml.etree.ElementTree import Element

from weasyprint.urls import URLFetcher, URLFetcherResponse

_NAME = re.compile(r"(font|asset):([A-Za-z0-9][A-Za-z0-9._-]*)")


class SealedFetcher(URLFetcher):  # type: ignore[misc]
    """Serves `font:` and `asset:` names; refuses and records the rest.

    Pages get one without fonts: the press loads its faces once and for all, and no page may add to them. Assets are
    SVG. The parent's network, file and proxy handlers are never installed, so nothing is left that could reach out.
    """

    def __init__(self, *, fonts: Mapping[str, bytes] | None = None, assets: Mapping[str, str] | None = None) -> None:
        super(URLFetcher, self).__init__()
        self._fail_on_errors = False
        self._fonts = fonts or {}
        self.assets = assets or {}
        self.drawings: Mapping[str, Element] = {}
        self.refused: list[str] = []

    def fetch(self, url: str, headers: Any = None) -> URLFetcherResponse:
        """Return the named thing. Raises ValueError for anything else, which is also recorded in `refused`."""
        kind, name = match.groups() if (match := _NAME.fullmatch(url)) else ("", "")
        if kind == "font" and name in self._fonts:
            return URLFetcherResponse(url, self._fonts[name], {"Content-Type": "font/ttf"})
        if kind != "asset" or name not in self.assets:
            raise self._refuse(url, "not a font or drawing of ours")
        if "<!DOCTYPE" in self.assets[name] or "<!ENTITY" in self.assets[name]:
            raise self._refuse(url, "a drawing with a document type")
        return URLFetcherResponse(url, self.assets[name].encode(), {"Content-Type": "image/svg+xml"})

    def _refuse(self, url: str, why: str) -> ValueError:
        shown = url if len(url) <= 80 else url[:77] + "..."
        self.refused.append(f"{shown}: {why}")
        return ValueError(f"refused: {shown}: {why}")
