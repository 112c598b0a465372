"""Named placeholders are filled once; every other per cent sign is text."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from notices.wording.placeholders import Placeholder, UnfilledError, fill, names, split

HOSTILE = (
    "100 % of %d units, %s %(x)d %% %(", "%(Day)s %(1)s %()s", "{{ x }} [[ y ]] <b>&", "\x00\ud800\u202e"
)  # fmt: skip


@pytest.mark.parametrize("text", HOSTILE)
def test_every_other_per_cent_sign_is_text(text: str) -> None:
    assert fill(text, {"x": "no"}) == text
    assert names(text) == ()


def test_a_name_is_given_once_in_the_order_of_its_first_place() -> None:
    assert names("%(b)s %(a)s %(b)s") == ("b", "a")


def test_a_text_is_split_where_a_value_goes() -> None:
    assert split("by %(day)s.") == ("by ", Placeholder(name="day"), ".")
    assert split("") == ()
    assert "".join(map(str, split("%(day)s, %(place)s"))) == "%(day)s, %(place)s"


def test_a_value_is_not_looked_into() -> None:
    assert fill("%(a)s %(b)s", {"a": "%(b)s", "b": "50 %"}) == "%(b)s 50 %"


def test_no_reader_sees_a_placeholder_without_a_value() -> None:
    with pytest.raises(UnfilledError, match="no value for day, place"):
        fill("on %(day)s at %(place)s, %(who)s", {"who": "me"})


@pytest.mark.property
@given(st.text(st.sampled_from("%()sab_ 1")))
def test_the_pieces_joined_are_the_text_again(text: str) -> None:
    assert "".join(map(str, split(text))) == text
    assert fill(text, {name: f"%({name})s" for name in names(text)}) == text
