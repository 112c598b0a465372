"""The sold units whose owner is known: what is stamped on each, and whether the lists hold it."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from random import Random

# The scenario's figures: units by line and weeks as the lists know them, and units listed without a code.
LINE_B, LINE_C, LINE_D, LINE_A, UNCODED = 322, 26, 31, 12, 75
UNITS = LINE_B + LINE_C + LINE_D + LINE_A + UNCODED

_YEAR = 2025
_FIRST_SALE, _LAST_SALE = date(2025, 5, 2), date(2025, 12, 30)
_FIRST_MADE, _LAST_MADE = 18, 47  # weeks of line B with the faulty batch
_NOTED_FROM = 27  # before this week the shops noted no codes


@dataclass(frozen=True, kw_only=True, slots=True)
class Stamped:
    """One unit: the code *stamped* on it, whether the lists hold it (*coded*), when it was sold."""

    stamped: str
    coded: bool
    sold_on: date

    @property
    def line(self) -> str:
        """Return the line letter of the code."""
        return self.stamped[8]

    @property
    def listed_code(self) -> str:
        """Return the code as the lists hold it, empty where they do not."""
        return self.stamped if self.coded else ""

    @property
    def clears(self) -> bool:
        """Say whether revision 1 clears it: lines A and D, by a code that the lists hold."""
        return self.coded and self.line in "AD"


def made(rng: Random) -> list[Stamped]:
    """Return all units in no order; no two bear the same four last signs."""
    numbers = iter(rng.sample(range(1, 10_000), UNITS))
    found = [
        _unit(rng, week, line, next(numbers), coded=coded)
        for line, coded, weeks in _kinds(rng)
        for week in weeks
    ]
    rng.shuffle(found)
    return found


def _kinds(rng: Random) -> Iterator[tuple[str, bool, list[int]]]:
    yield "B", True, rng.choices(range(_FIRST_MADE, _LAST_MADE + 1), k=LINE_B)
    yield "C", True, rng.choices(range(31, 35), k=LINE_C)
    yield "D", True, rng.choices((40, 41), k=LINE_D)
    yield "A", True, rng.choices(range(_FIRST_MADE, _LAST_MADE + 1), k=LINE_A)
    # Whoever finds the code of one of these finds line B: what the demo shows at its end adds up with any seed.
    yield "B", False, rng.choices(range(_FIRST_MADE, _NOTED_FROM), k=UNCODED)


def _unit(rng: Random, week: int, line: str, number: int, *, coded: bool) -> Stamped:
    sold = date.fromisocalendar(_YEAR, week, 1) + timedelta(days=rng.randint(9, 45))
    return Stamped(
        stamped=f"QM-{_YEAR % 100}{week:02}-{line}{number:04}",
        coded=coded,
        sold_on=min(max(sold, _FIRST_SALE), _LAST_SALE),
    )
