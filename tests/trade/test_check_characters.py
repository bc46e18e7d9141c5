"""Check characters: python-stdnum's, and how many slips they find."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from stdnum.iso7064 import mod_37_36

from docgen.trade.checkchar import ALPHABET, check_character, is_valid
from docgen.trade.errors import TradeError

CODE = st.text(alphabet=ALPHABET, min_size=1, max_size=40)


@given(text=CODE)
def test_mod_37_36_agrees_with_stdnum(text: str) -> None:
    assert check_character(text) == mod_37_36.calc_check_digit(text)
    assert is_valid(text + check_character(text))
    assert mod_37_36.is_valid(text + check_character(text))


@given(text=CODE, data=st.data())
def test_one_wrong_character_is_always_found(text: str, data: st.DataObject) -> None:
    whole = text + check_character(text)
    place = data.draw(st.integers(0, len(whole) - 1))
    wrong = data.draw(st.sampled_from([each for each in ALPHABET if each != whole[place]]))
    assert not is_valid(whole[:place] + wrong + whole[place + 1 :])


def test_nearly_every_swap_of_neighbours_is_found() -> None:
    """MOD 37-36 misses few: of all pairs of neighbours before the check character, over 99 in 100 are found."""
    missed = total = 0
    for a in ALPHABET:
        for b in ALPHABET:
            if a != b:
                total += 1
                missed += is_valid(b + a + check_character(a + b))
    assert total == 36 * 35
    assert missed / total < 0.01


@pytest.mark.parametrize("text", ["", "a1", "A 1", "A-1", "Ä", "A" * 65])
def test_characters_that_do_not_belong_are_refused(text: str) -> None:
    with pytest.raises(TradeError) as caught:
        check_character(text)
    assert caught.value.name == "bad-characters"
    assert caught.value.message == f'"{text[:64]}" must be 1 to 64 characters of 0 to Z'
    assert not is_valid(text)
