"""The same input gives the same bytes: in another process, for another user, in another place, language and second."""

from __future__ import annotations

import hashlib
import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

from docgen.press.meta import Pressed

PROGRAM = """
import hashlib, sys, time
sys.path.insert(0, {root!r})
from docgen.press.meta import Attached
from docgen.press.qr import qr_svg
from tests.press.conftest import PAPER, html, render
body = '''<h1>őŁßé</h1><p>Привет 鈴木一郎 שלום مرحبا 12 <b>Привет</b> <code>x</code></p>
<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 20 9">
<title>Nut</title><text y="8" font-size="6">Nut</text></svg>
<p><input name="a" title="A"> <input type="checkbox" name="b" title="B"></p>''' + qr_svg("007-CLU")
done = render(html(body), css=PAPER + "svg {{ width: 20mm }} body {{ font-family: serif }}", forms=True,
              attachments=(Attached("job.yaml", b"a: 1", "application/yaml", "job"),))
print(int(time.time()), hashlib.sha256(done.pdf).hexdigest())
"""


def _digest(root: Path, folder: Path, **environment: str) -> tuple[int, str]:
    program = PROGRAM.format(root=str(root))
    env = {"PATH": os.environ["PATH"], "HOME": str(folder), "TMPDIR": str(folder)} | environment
    folder.mkdir()
    done = subprocess.run(
        [sys.executable, "-c", program], env=env, cwd=folder, capture_output=True, text=True, check=False
    )
    assert (done.returncode, done.stderr) == (0, "")
    second, digest = done.stdout.split()
    return int(second), digest


def test_same_bytes_in_another_process_home_folder_language_zone_and_second(root: Path, tmp_path: Path) -> None:
    first, one = _digest(root, tmp_path / "one", PYTHONHASHSEED="1", LANG="C", TZ="UTC")
    fonts = tmp_path / "fonts.conf"
    fonts.write_text("<fontconfig><dir>/usr/share/fonts</dir></fontconfig>")
    second, two = _digest(
        root,
        tmp_path / "two elsewhere",
        PYTHONHASHSEED="77",
        LANG="C.UTF-8",
        LC_ALL="C.UTF-8",
        LANGUAGE="ja",
        PANGO_LANGUAGE="ja:ar",
        TZ="Pacific/Auckland",
        FONTCONFIG_FILE=str(fonts),
    )
    assert first < second
    assert one == two


def test_what_was_printed_before_leaves_no_trace(page: Callable[..., Pressed]) -> None:
    def digest() -> str:
        return hashlib.sha256(page("<h1>Clutch</h1><p>34 N·m, Привет</p>").pdf).hexdigest()

    first = digest()
    page("<h1>Other</h1><p><i>Привет</i> and 鈴木</p>", forms=True)
    page('<h1>Fields</h1><input name="a" title="A">', forms=True)
    assert digest() == first


def test_what_is_said_of_it_changes_the_bytes(page: Callable[..., Pressed]) -> None:
    assert page("<h1>One</h1>").pdf != page("<h1>Two</h1>").pdf
