"""What a page may load: our own fonts, the assets handed to the press, small embedded pictures. Nothing else."""

from __future__ import annotations

import base64
import binascii
import io
import re
from collections.abc import Mapping
from typing import Any
from xml.etree.ElementTree import Element

from PIL import Image
from weasyprint.urls import URLFetcher, URLFetcherResponse

from docgen.press.meta import Asset

DATA_LIMIT = 1_000_000  # bytes of a data: URI
PIXEL_LIMIT = 40_000_000  # A3 at 600 dots an inch is 69 million; a logo needs no more than this
_NAME = re.compile(r"(font|asset):([A-Za-z0-9][A-Za-z0-9._-]*)")
_DATA = re.compile(r"data:(image/(?:png|jpeg));base64,([A-Za-z0-9+/=\s]+)")


class SealedFetcher(URLFetcher):  # type: ignore[misc]
    """Serves `font:` and `asset:` names and bounded embedded pictures; refuses and records the rest.

    Pages get one without fonts: the press loads its faces once and for all, and no page may add to them.

    The parent's network, file and proxy handlers are never installed, so nothing is left that could reach out.
    """

    def __init__(self, *, fonts: Mapping[str, bytes] | None = None, assets: Mapping[str, Asset] | None = None) -> None:
        super(URLFetcher, self).__init__()
        self._fail_on_errors = False
        self._fonts = fonts or {}
        self.assets = assets or {}
        self.drawings: Mapping[str, Element] = {}
        self.refused: list[str] = []

    def fetch(self, url: str, headers: Any = None) -> URLFetcherResponse:
        """Return the named thing. Raises ValueError for anything else, which is also recorded in `refused`."""
        if match := _NAME.fullmatch(url):
            kind, name = match.groups()
            if kind == "font" and name in self._fonts:
                return URLFetcherResponse(url, self._fonts[name], {"Content-Type": "font/ttf"})
            if kind == "asset" and name in self.assets:
                asset = self.assets[name]
                return self._picture(url, asset.media_type, asset.data)
        elif len(url) <= DATA_LIMIT and (match := _DATA.fullmatch(url)):
            try:
                return self._picture(url, match[1], base64.b64decode(match[2], validate=False))
            except binascii.Error:
                pass
        raise self._refuse(url, "not a font, asset or small picture of ours")

    def _picture(self, url: str, media_type: str, data: bytes) -> URLFetcherResponse:
        if media_type == "image/svg+xml":
            if b"\0" in data or data.startswith((b"\xff\xfe", b"\xfe\xff")):  # or what is forbidden could hide in it
                raise self._refuse(url, "an SVG picture that is not UTF-8 text")
            if b"<!DOCTYPE" in data or b"<!ENTITY" in data:
                raise self._refuse(url, "an SVG picture with a document type")
        elif media_type in ("image/png", "image/jpeg"):
            try:
                with Image.open(io.BytesIO(data), formats=("PNG", "JPEG")) as picture:
                    width, height = picture.size
            except (OSError, ValueError, Image.DecompressionBombError) as error:
                raise self._refuse(url, "not a PNG or JPEG picture") from error
            if width * height > PIXEL_LIMIT:
                raise self._refuse(url, f"a picture of {width} x {height} dots")
        else:
            raise self._refuse(url, f"the media type {media_type}")
        return URLFetcherResponse(url, data, {"Content-Type": media_type})

    def _refuse(self, url: str, why: str) -> ValueError:
        shown = url if len(url) <= 80 else url[:77] + "..."
        self.refused.append(f"{shown}: {why}")
        return ValueError(f"refused: {shown}: {why}")
