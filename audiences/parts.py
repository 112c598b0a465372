"""The parts that a code is made of: which signs may stand in each, and what they mean."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Literal

from audiences.check_characters import ALPHANUMERIC, CHECKING, DIGITS, Scheme, check_size
from audiences.folding import fold

PartKind = Literal[
    "text",
    "separator",
    "check",
    "iso_year",
    "year",
    "iso_week",
    "us_week",
    "month",
    "month_letter",
    "year_day",
    "day",
    "digits",
    "base_34",
    "base_36",
    "one_of",
    "choice",
    "whole",
]
Sort = Literal["", "year", "week", "month", "year_day", "day", "number", "choice"]

Decode = Callable[[str], str | int]

SORTS: Mapping[PartKind, Sort] = {
    "text": "",
    "separator": "",
    "check": "",
    "iso_year": "year",
    "year": "year",
    "iso_week": "week",
    "us_week": "week",
    "month": "month",
    "month_letter": "month",
    "year_day": "year_day",
    "day": "day",
    "digits": "number",
    "base_34": "number",
    "base_36": "number",
    "one_of": "choice",
    "choice": "choice",
    "whole": "choice",
}
"""What sort of value each kind gives: a year with its century, a place in the year, a number, a text; "" none."""

BASES: Mapping[PartKind, str] = {
    "digits": DIGITS,
    "base_34": "0123456789ABCDEFGHJKLMNPQRSTUVWXYZ",  # without I and O (common practice, no source)
    "base_36": ALPHANUMERIC,
}
"""The signs of running numbers, in the order of their values."""

_SIZES: Mapping[PartKind, int] = {
    "iso_year": 2,
    "year": 2,
    "iso_week": 2,
    "us_week": 2,
    "month": 2,
    "month_letter": 1,
    "year_day": 3,
    "day": 2,
    "one_of": 1,
}
_CENTURY = 2000  # of a year of two digits


@dataclass(frozen=True, kw_only=True, slots=True)
class Part:
    """One stretch of a code: fixed *text*, a *separator* that may be left out, a check, or a field *name*.

    *size* counts signs, 0 means the usual. *letters* holds the signs that may stand at each place, for a month the
    twelve in order; *choices* the texts of which one stands there. *since* is the first year that a year of one or two
    digits may mean. A check of *scheme* counts the fields *over*, or all that stands before it. *element* names the
    GS1 element that the part stands in.
    """

    kind: PartKind
    name: str = ""
    text: str = ""
    size: int = 0
    letters: str = ""
    choices: tuple[str, ...] = ()
    since: int | None = None
    scheme: Scheme = "mod_37_36"
    over: tuple[str, ...] = ()
    element: str = ""

    @property
    def sort(self) -> Sort:
        """Say what sort of value the part gives, "" where it gives none."""
        return SORTS[self.kind]


def texts_of(part: Part) -> tuple[str, ...]:
    """Return the texts, folded, of which one stands in the part; none where it holds signs instead."""
    if part.kind in {"text", "separator"}:
        return (fold(part.text),)
    return tuple(map(fold, part.choices)) if part.kind == "choice" else ()


def size_of(part: Part) -> int:
    """Return how many signs a part has that holds no text."""
    return check_size(part.scheme) if part.kind == "check" else part.size or _SIZES.get(part.kind, 0)


def signs_of(part: Part) -> str:
    """Return the signs, folded, that may stand at each place of a part that holds no text."""
    if part.kind == "check":
        return CHECKING[part.scheme]
    if part.kind in {"one_of", "month_letter"}:
        return fold(part.letters)
    return BASES.get(part.kind, DIGITS)


def decoding(part: Part) -> Decode:
    """Return what says what signs mean that may stand in the part: a choice as text, all else as a number."""
    if part.sort == "choice":
        return str
    if part.kind == "month_letter":
        return _place_in(signs_of(part))
    if part.sort == "year":
        return lambda signs: year_of(signs, part.since)
    return _number_in(BASES[part.kind]) if part.kind in {"base_34", "base_36"} else int


def _place_in(order: str) -> Decode:
    return lambda sign: order.index(sign) + 1


def _number_in(order: str) -> Decode:
    values = {sign: value for value, sign in enumerate(order)}

    def number(signs: str) -> int:
        found = 0
        for sign in signs:
            found = found * len(order) + values[sign]
        return found

    return number


def year_of(digits: str, since: int | None = None) -> int:
    """Return the year that *digits* write: the first from *since* on; without it two mean a year of this century."""
    year, span = int(digits), int("1" + "0" * len(digits))
    if len(digits) >= len("yyyy"):
        return year
    if since is None:
        return year + _CENTURY if len(digits) == len("yy") else year
    return since + (year - since) % span


def written(part: Part, value: str | int) -> str:
    """Return the signs that stand for *value* in the part; the inverse of `decoding`."""
    if part.sort == "choice":
        return fold(str(value))
    if not part.sort:
        return ""
    number = int(value)
    if part.kind == "month_letter":
        return signs_of(part)[number - 1]
    order, size = BASES.get(part.kind, DIGITS), size_of(part)
    signs = ""
    for _ in range(size):
        number, sign = divmod(number, len(order))
        signs = order[sign] + signs
    return signs
