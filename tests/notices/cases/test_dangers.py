"""A change is ranked by what happens to an owner who goes on as told: safe before, less before, any other."""

import pytest

from notices.cases.dangers import Danger, danger
from notices.cases.records import Saying


@pytest.mark.parametrize(
    ("verdict", "level", "now", "expected"),
    [
        ("cleared", 0, ("affected", 2), Danger.SAFE_BEFORE),
        ("foreign", 0, ("missing", 2), Danger.SAFE_BEFORE),
        ("cleared", 0, ("foreign", 0), Danger.OTHER),
        ("affected", 2, ("affected", 3), Danger.LESS_BEFORE),
        ("missing", 1, ("affected", 2), Danger.LESS_BEFORE),
        ("affected", 2, ("affected", 2), Danger.OTHER),
        ("affected", 3, ("cleared", 0), Danger.OTHER),
    ],
)
def test_the_most_endangered_is_who_was_told_safe(
    verdict: str, level: int, now: tuple[str, int], expected: Danger
) -> None:
    said = Saying(said="", verdict=now[0], segment="unknown", level=now[1], body="")

    assert danger(verdict, level, said) is expected


def test_the_order_is_that_of_danger() -> None:
    assert sorted(Danger) == [Danger.SAFE_BEFORE, Danger.LESS_BEFORE, Danger.OTHER]
