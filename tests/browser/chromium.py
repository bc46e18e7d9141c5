"""Headless Chromium asked over its pipe (the browser's own DevTools protocol), with nothing in between."""

from __future__ import annotations

import contextlib
import json
import os
import select
import shutil
import subprocess
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

NAMES = ("chromium", "chromium-browser", "google-chrome", "chrome")
PATIENCE = 60.0
"""Seconds to wait for an answer."""


def program() -> str | None:
    """The browser that this machine has, if any."""
    return next((found for name in NAMES if (found := shutil.which(name))), None)


class Browser:
    """One tab of a running browser."""

    def __init__(self, into: int, out: int) -> None:
        self._into, self._out = into, out
        self._rest, self._number, self._session = b"", 0, ""
        self.requests: list[str] = []
        self.said: list[str] = []
        target = self.ask("Target.createTarget", url="about:blank")["targetId"]
        self._session = self.ask("Target.attachToTarget", targetId=target, flatten=True)["sessionId"]
        for domain in ("Page", "Network", "Runtime", "Log", "Accessibility"):
            self.ask(f"{domain}.enable")

    def ask(self, method: str, **parameters: Any) -> dict[str, Any]:
        """Send one command; its result."""
        self._number += 1
        message: dict[str, Any] = {"id": self._number, "method": method, "params": parameters}
        if self._session:
            message["sessionId"] = self._session
        os.write(self._into, json.dumps(message).encode() + b"\0")
        wanted = self._number
        while True:
            answer = self._next()
            if answer.get("id") == wanted:
                assert "error" not in answer, (method, answer["error"])
                result: dict[str, Any] = answer["result"]
                return result

    def open(self, path: Path) -> None:
        """Open a file and wait until it is there."""
        self.ask("Page.navigate", url=path.resolve().as_uri())
        until = time.monotonic() + PATIENCE
        while self.value("document.readyState") != "complete":
            assert time.monotonic() < until, "the page never came"
            time.sleep(0.05)

    def value(self, script: str) -> Any:
        """What a script gives, as plain data; promises are waited for."""
        found = self.ask("Runtime.evaluate", expression=script, returnByValue=True, awaitPromise=True)
        assert "exceptionDetails" not in found, found["exceptionDetails"]
        return found["result"].get("value")

    def press(self, key: str, code: int, text: str = "") -> None:
        """Press and release a key."""
        about: dict[str, Any] = {"key": key, "code": key, "windowsVirtualKeyCode": code}
        self.ask("Input.dispatchKeyEvent", type="keyDown", **about, **({"text": text} if text else {}))
        self.ask("Input.dispatchKeyEvent", type="keyUp", **about)

    def read_out(self) -> list[tuple[str, str]]:
        """Role and name of everything that a screen reader is told of, in order."""
        nodes = {node["nodeId"]: node for node in self.ask("Accessibility.getFullAXTree")["nodes"]}
        waiting, found = [next(iter(nodes))], []
        while waiting:
            node = nodes.get(waiting.pop(), {})
            waiting += reversed(node.get("childIds", []))
            if node and not node.get("ignored"):
                found.append((node["role"]["value"], node.get("name", {}).get("value", "")))
        return found

    def _next(self) -> dict[str, Any]:
        until = time.monotonic() + PATIENCE
        while b"\0" not in self._rest:
            ready, _, _ = select.select([self._out], [], [], max(0.0, until - time.monotonic()))
            assert ready, "the browser does not answer"
            chunk = os.read(self._out, 1 << 20)
            assert chunk, "the browser is gone"
            self._rest += chunk
        line, _, self._rest = self._rest.partition(b"\0")
        message: dict[str, Any] = json.loads(line)
        if message.get("method") == "Network.requestWillBeSent":
            self.requests.append(message["params"]["request"]["url"])
        if message.get("method") in ("Log.entryAdded", "Runtime.exceptionThrown"):
            self.said.append(json.dumps(message["params"]))
        return message


@contextlib.contextmanager
def browser(folder: Path, width: int = 1200, height: int = 900) -> Iterator[Browser]:
    """A browser with a profile of its own in `folder`, gone at the end."""
    name = program()
    assert name is not None
    read_end, into = os.pipe()
    out, write_end = os.pipe()

    def connected() -> None:
        os.dup2(read_end, 3, inheritable=True) if read_end != 3 else os.set_inheritable(3, True)
        os.dup2(write_end, 4, inheritable=True) if write_end != 4 else os.set_inheritable(4, True)

    command = [name, "--headless", "--no-sandbox", "--disable-gpu", "--remote-debugging-pipe", "--no-first-run",
               f"--user-data-dir={folder}", f"--window-size={width},{height}", "--disable-dev-shm-usage"]  # fmt: skip
    running = subprocess.Popen(
        command, close_fds=False, preexec_fn=connected, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
    )
    os.close(read_end)
    os.close(write_end)
    try:
        yield Browser(into, out)
    finally:
        running.terminate()
        with contextlib.suppress(subprocess.TimeoutExpired):
            running.wait(10)
        if running.poll() is None:
            running.kill()
            running.wait()
        os.close(into)
        os.close(out)
