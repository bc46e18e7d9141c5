"""A simulator of signed sheets before a camera or on a scanner, which knows nothing of the code that reads them.

A face is made in four steps, each from the face's seed alone:

- ``printed``: the demo's sign-off sheets as the press makes them, drawn by poppler (the reader draws with pdfium)
- ``pens``: what a hand does: ticks, words, initials, rows struck through, ticks scribbled over
- ``dirt``: toner, paper, grease, fingerprints, creases, thumbs
- ``lens`` and ``scanner``: curl, perspective, light, shadow, glare, blur, noise, grey and two-level, JPEG

``faces`` puts them together and keeps what is true of each box. Seeds below 1,000,000 are for tuning; the benchmark
uses those above, on which nothing was tuned.

Every figure here (how people tick, how much a hand shakes, how dark a pencil is) is a guess from experience, no source:
real sheets will do worse in ways that nobody thought of. What is measured is that nothing known goes wrong.
"""
