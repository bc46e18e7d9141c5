"""Many documents at once: order kept, progress told, no failure lost, no neighbour harmed."""

from __future__ import annotations

import signal
from typing import Any

import pytest

from docgen.press.meta import Order
from docgen.press.pool import in_pool
from docgen.press.render import render
from docgen.press.workers import press, press_all
from tests.press.conftest import META, PAPER, html
from tests.press.killed import Killer, dies_while_it_answers


def _orders(count: int, **special: Any) -> list[Order]:
    bodies = {f"{number:02}": f"<h1>Sheet {number}</h1>" for number in range(count)}
    return [
        Order(
            **META, key=key, html=html(special.get(f"body{key}", body)), css=PAPER,
            drawings=special.get(f"drawings{key}", {}),
        )
        for key, body in bodies.items()
    ]


@pytest.mark.parametrize("processes", [1, 2])
def test_outcomes_keep_the_order_and_the_bytes(processes: int) -> None:
    orders = _orders(5)
    outcomes = press_all(orders, processes)
    assert [outcome.key for outcome in outcomes] == ["00", "01", "02", "03", "04"]
    assert [outcome.pressed for outcome in outcomes] == [render(order) for order in orders]


FAULTY = '<h1>A 🔧</h1><img src="x">'
FAULTS = (
    'picture "x" has no alternative text: give it alt="..."',
    'no typeface here has "🔧" (U+1F527): change it in the file that says it',
)


def test_a_faulty_page_costs_no_other() -> None:
    outcomes = press_all(_orders(4, body01=FAULTY), processes=1)
    assert [outcome.pressed is not None for outcome in outcomes] == [True, False, True, True]
    assert outcomes[1].faults == FAULTS


def test_a_fault_of_the_press_itself_is_told_with_its_kind() -> None:
    orders = [Order(key="a", html=None, css=PAPER, **META)]  # type: ignore[arg-type]
    (outcome,) = press_all(orders)
    assert outcome.pressed is None
    (fault,) = outcome.faults
    assert fault.startswith("the press failed on this page: TypeError: ")


def test_a_faulty_page_and_one_that_kills_its_process_are_found_and_the_others_are_printed() -> None:
    outcomes = press_all(_orders(5, body01=FAULTY, drawings02={"a": Killer()}), processes=2)
    assert [outcome.pressed is not None for outcome in outcomes] == [True, False, False, True, True]
    assert outcomes[1].faults == FAULTS
    assert outcomes[2].faults == (
        "the process that printed this page was killed: out of memory, or a fault in a system library",
    )


@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="writes to the pipe of a POSIX system")
def test_half_an_answer_of_a_killed_process_is_not_waited_for() -> None:
    answers = in_pool(iter(_orders(6)), 2, press, dies_while_it_answers)
    given: list[str] = []
    while True:
        try:
            given.append(next(answers).key)
        except StopIteration as end:
            left = end.value
            break
    assert sorted(given) == ["00", "01", "03", "04", "05"]
    assert [order.key for order in left] == ["02"]


def test_an_interrupt_ends_the_run() -> None:
    answers = in_pool(iter(_orders(4)), 2, press)
    next(answers)
    with pytest.raises(KeyboardInterrupt):
        answers.throw(KeyboardInterrupt)


def test_nothing_to_do_is_done() -> None:
    assert press_all([]) == []
