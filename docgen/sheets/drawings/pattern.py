"""The order in which several fasteners are tightened, as numbered heads."""

from __future__ import annotations

from math import cos, pi, sin

from docgen.sheets.drawings.canvas import THIN, Canvas, Point


def places(pattern: str, count: int) -> list[Point]:
    """Where the heads stand, in the order in which they are numbered; -1..1 both ways.

    circle    : even spacing, each next one opposite; rectangle : two rows, from the middle outwards, crosswise;
    row       : from the middle outwards. Common practice, no source.
    """
    if pattern == "row":
        middle = sorted(range(count), key=lambda n: (abs(n - (count - 1) / 2), n))
        return [((2 * n / max(count - 1, 1)) - 1, 0.0) for n in middle]
    if pattern == "rectangle":
        columns = (count + 1) // 2
        grid = [((2 * c / max(columns - 1, 1)) - 1, y) for c in range(columns) for y in (-0.6, 0.6)][:count]
        pairs = sorted(range(columns), key=lambda c: (abs(c - (columns - 1) / 2), c))
        order: list[Point] = []
        for c in pairs:
            mirror = columns - 1 - c
            for point in (grid[2 * c], grid[min(2 * mirror + 1, count - 1)]):
                if point not in order:
                    order.append(point)
        return order + [p for p in grid if p not in order]
    around = [(sin(2 * pi * n / count), -cos(2 * pi * n / count)) for n in range(count)]
    half = count // 2
    jumps = [n for pair in zip(range(half), range(half, 2 * half), strict=True) for n in pair]
    return [around[n] for n in (*jumps, *range(2 * half, count))]


def pattern_picture(pattern: str, count: int) -> str:
    """Draw ``count`` heads in a pattern, each with its number in the tightening order."""
    canvas = Canvas(52, 38, f"Tightening order of {count} in a {pattern}, numbered 1 to {count}")
    spots = places(pattern, count)
    radius = 4.6 if count <= 8 else 3.6
    for n, (x, y) in enumerate(spots):
        centre = (26 + x * (20 if pattern != "circle" else 13.5), 19 + y * 13.5)
        canvas.circle(centre, radius, THIN * 2)
        canvas.text(centre, str(n + 1), radius * 1.35)
    return canvas.svg()
