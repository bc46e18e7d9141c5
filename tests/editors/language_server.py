"""A YAML language server spoken to as an editor does: the Language Server Protocol 3.17 over its standard streams."""

from __future__ import annotations

import json
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

Told = dict[str, Any]
SETTINGS: Told = {"yaml": {"schemaStore": {"enable": False}, "validate": True, "completion": True, "hover": True}}
"""No catalogue of schemas from the network: the club's folder is all that the server has."""


class LanguageServer:
    """One server at work on the club's folder `root`."""

    def __init__(self, process: subprocess.Popen[bytes], root: Path) -> None:
        self.process, self.root = process, root
        self.last = 0
        self.versions: dict[Path, int] = {}
        self.ask("initialize", {"processId": None, "rootUri": root.as_uri(), "capabilities": {}})
        self.say("initialized", {})
        self.say("workspace/didChangeConfiguration", {"settings": SETTINGS})

    def say(self, method: str, params: Told) -> None:
        """Tell the server something."""
        self._send({"method": method, "params": params})

    def ask(self, method: str, params: Told) -> Any:
        """Ask the server something, and wait for the answer."""
        self.last += 1
        self._send({"id": self.last, "method": method, "params": params})
        answer = next(one for one in self._heard() if one.get("id") == self.last and "method" not in one)
        assert "error" not in answer, answer
        return answer["result"]

    def faults(self, path: Path, text: str | None = None) -> list[Told]:
        """What the server has against a file, as it lies there or with other text in the editor."""
        text = path.read_text("utf-8") if text is None else text
        self.versions[path] = version = self.versions.get(path, 0) + 1
        document = {"uri": path.as_uri(), "version": version}
        if version == 1:
            self.say("textDocument/didOpen", {"textDocument": {**document, "languageId": "yaml", "text": text}})
        else:
            self.say("textDocument/didChange", {"textDocument": document, "contentChanges": [{"text": text}]})
        for one in self._heard():
            if one.get("method") == "textDocument/publishDiagnostics" and one["params"]["uri"] == path.as_uri():
                found: list[Told] = one["params"]["diagnostics"]
                return found
        raise AssertionError("the server said nothing of the file")

    def offered(self, path: Path, line: int, column: int) -> list[Told]:
        """What the server offers at a place of an open file, counted from 0."""
        at = {"textDocument": {"uri": path.as_uri()}, "position": {"line": line, "character": column}}
        answer = self.ask("textDocument/completion", at)
        items: list[Told] = answer["items"] if isinstance(answer, dict) else answer or []
        return items

    def explained(self, path: Path, line: int, column: int) -> str:
        """What the server says of the word at a place."""
        at = {"textDocument": {"uri": path.as_uri()}, "position": {"line": line, "character": column}}
        answer = self.ask("textDocument/hover", at)
        return str(answer["contents"]["value"]) if answer else ""

    def _send(self, message: Told) -> None:
        body = json.dumps({"jsonrpc": "2.0", **message}).encode()
        assert self.process.stdin is not None
        self.process.stdin.write(b"Content-Length: %d\r\n\r\n%s" % (len(body), body))
        self.process.stdin.flush()

    def _heard(self) -> Iterator[Told]:
        """What the server says; what it asks of the editor (its settings) is answered with nothing."""
        assert self.process.stdout is not None
        while line := self.process.stdout.readline():
            length = int(line.partition(b":")[2])
            while self.process.stdout.readline().strip():
                pass
            one: Told = json.loads(self.process.stdout.read(length))
            if "id" in one and "method" in one:
                sections = [item["section"] for item in one.get("params", {}).get("items", [])]
                self._send({"id": one["id"], "result": [SETTINGS.get(name) for name in sections] or None})
            yield one
        raise AssertionError("the server ended")


@contextmanager
def language_server(folder: Path, root: Path) -> Iterator[LanguageServer]:
    """The server that is installed in `folder`, at work on the club's folder `root`."""
    command = ["node", "node_modules/yaml-language-server/bin/yaml-language-server", "--stdio"]
    process = subprocess.Popen(command, cwd=folder, stdin=subprocess.PIPE, stdout=subprocess.PIPE)
    try:
        yield LanguageServer(process, root)
    finally:
        process.kill()
        process.wait()
        for stream in (process.stdin, process.stdout):
            if stream is not None:
                stream.close()
