"""Pressing pages for a command: all of them or none, then all written."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

import click

from docgen.cli._saying import counted
from docgen.cli._system import put, shown
from docgen.cli.frame import Session
from docgen.desk.whereabouts import with_place
from docgen.press.meta import Pressed
from docgen.press.workers import Order, press_all


@dataclass(frozen=True)
class Wish:
    """A page to print: its order for the press, and where it goes."""

    order: Order
    path: Path


def pressed(orders: Sequence[Order]) -> list[Pressed]:
    """The orders' documents. When one of them cannot be printed, every fault is said, and the command ends with 1."""
    outcomes = press_all(orders)
    faults = [f"{outcome.key}: {fault}" for outcome in outcomes for fault in outcome.faults]
    root = click.get_current_context().find_object(Session).root  # type: ignore[union-attr]
    for fault in faults:
        click.echo(with_place(root, fault), err=True)
    if faults:
        click.echo("Nothing was printed.", err=True)
        raise click.exceptions.Exit(1)
    return [outcome.pressed for outcome in outcomes if outcome.pressed is not None]


def print_pages(wishes: Sequence[Wish], files: Mapping[Path, bytes] | None = None) -> list[Pressed]:
    """Print all pages, then write them, and `files` beside them, and say where they lie."""
    made = pressed([wish.order for wish in wishes])
    for wish, one in zip(wishes, made, strict=True):
        put(wish.path, one.pdf)
        click.echo(f"{wish.order.key}, {counted(one.pages, 'page')}: {shown(wish.path)}")
    for path, data in (files or {}).items():
        put(path, data)
    return made
