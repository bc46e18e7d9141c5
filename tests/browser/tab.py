"""A tab of this machine's Chromium, driven by Playwright: what it asked for, what is read out, axe's word."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, expect, sync_playwright

NAMES = ("chromium", "chromium-browser", "google-chrome", "chrome")
PATIENCE = 60_000.0
"""Milliseconds to wait for an answer."""
expect.set_options(timeout=PATIENCE)


def program() -> str | None:
    """The browser that this machine has, if any."""
    return next((found for name in NAMES if (found := shutil.which(name))), None)


needs_browser = pytest.mark.skipif(program() is None, reason="there is no Chromium here to open the page in")


@dataclass
class Tab:
    """A page in the browser.

    requests : the address of everything that was asked for, by whatever means; ``said`` what stands on its console
    """

    page: Page
    requests: list[str] = field(default_factory=list)
    said: list[str] = field(default_factory=list)

    def faults(self) -> tuple[list[str], int]:
        """What axe-core finds wrong, and how many of its rules the page keeps."""
        found = Axe().run(self.page).response
        wrong = [f"{rule['id']}: {node['html']}" for rule in found["violations"] for node in rule["nodes"]]
        return wrong, len(found["passes"])

    def read_out(self) -> list[tuple[str, str]]:
        """Role and name of everything that a screen reader is told of, in order."""
        tree = self.page.context.new_cdp_session(self.page).send("Accessibility.getFullAXTree")
        nodes = {node["nodeId"]: node for node in tree["nodes"]}
        waiting, found = [next(iter(nodes))], []
        while waiting:
            node = nodes.get(waiting.pop(), {})
            waiting += reversed(node.get("childIds", []))
            if node and not node.get("ignored"):
                found.append((node["role"]["value"], node.get("name", {}).get("value", "")))
        return found


@contextmanager
def started() -> Iterator[Browser]:
    """A browser, gone at the end."""
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=program(), args=["--disable-dev-shm-usage"])
        yield browser
        browser.close()


@contextmanager
def opened(browser: Browser, width: int = 1200, height: int = 900) -> Iterator[Tab]:
    """A tab with a profile of its own, gone at the end."""
    context = browser.new_context(viewport={"width": width, "height": height})
    context.set_default_timeout(PATIENCE)
    tab = Tab(context.new_page())
    context.on("request", lambda request: tab.requests.append(request.url))
    tab.page.on("websocket", lambda socket: tab.requests.append(socket.url))
    tab.page.on("console", lambda message: tab.said.append(message.text))
    tab.page.on("pageerror", lambda error: tab.said.append(str(error)))
    yield tab
    context.close()
