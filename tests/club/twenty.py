"""The twenty mistakes that the YAML reader answers with words of their own: what, as it is typed, the fault's name.

Which are the commonest: common practice, no source. `tools/files_page.py` lists them for members.
"""

from __future__ import annotations

TWENTY: tuple[tuple[str, str | bytes, str], ...] = (
    ("a tab in front of a line", "every:\n\thours: 5 h\n", "tab-indent"),
    ("a line further in or out than those around it", "every:\n    hours: 5 h\n  months: 6\n", "bad-indent"),
    ("no space behind a colon", "title: Clutch\ncode:CLU\n", "missing-space"),
    ("no space behind a dash", "spares:\n  - washer\n  -nut\n", "missing-space"),
    ("a key without its colon", "title: Clutch\ncode CLU\n", "no-colon"),
    ("a colon in a text", "do: Note: fit it.\n", "colon-in-text"),
    ("a list on the line of its key", "fits: - washer\n", "list-on-key-line"),
    ("a text that begins with a sign", "allow: >= 5 mm\n", "reserved-start"),
    ("a quote that is not closed", 'do: "Fit it.\nwhy: It spins.\n', "unclosed-quote"),
    ("an apostrophe in single quotes", "do: 'Fit the washer's face first.'\n", "text-after-quote"),
    ("a word processor's quotes", "do: \u201cFit it.\u201d\n", "curly-quote"),
    ("a bracket that is not closed", "needs: [reed-valve\ntitle: Clutch\n", "unclosed-bracket"),
    ("a comma in a text in braces", "stop: {name: Rotor stop, large}\n", "stray-comma-key"),
    ("a decimal comma in braces", "gap: {gauge: feelers, allow: 0,5 mm}\n", "stray-comma-key"),
    ("a list in braces", "needs: {reed-valve, dry-clutch}\n", "key-without-value"),
    ("a # in a text", "do: Slide spacer #2 on.\n", "text-cut"),
    ("a key that stands twice", "code: CLU\ntitle: Clutch\ncode: CLV\n", "duplicate-key"),
    ("a word processor's space", "torque: 34\u00a0N.m\n", "odd-space"),
    ("a digit of another keyboard", "torque: \uff134 N.m\n", "look-alike-digit"),
    ("a file saved in Windows' old encoding", b"do: Caf\xe9\n", "not-utf-8"),
)
