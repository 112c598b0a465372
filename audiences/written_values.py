"""A value as a rule writes it, decoded to where it lies among the values of its field."""

from collections.abc import Sequence

from audiences.check_characters import DIGITS
from audiences.codes import LONGEST_CODE, Layout, Part
from audiences.folding import fold
from audiences.parts import BASES, decoding, signs_of, size_of, texts_of, year_of
from audiences.weeks import is_day, is_month, is_us_week, is_week, is_year, is_year_day

Value = str | int
Place = tuple[Value, ...]
"""Where a value lies, to be compared: a week, month or day behind its year, a number, a choice."""

_YEARS = (len("yyyy"), len("yy"))


def places_of(
    layout: Layout, name: str, values: Sequence[Value]
) -> tuple[tuple[str, ...], tuple[Place, ...]] | None:
    """Return the fields that make up the place of *name*, and the place of each value; None where one has none.

    A week, month or day is written behind its year, as ``yyww``, ``yymm``, ``yyddd`` or ``yymmdd``, where the code
    holds the year; a number as it stands in the code.
    """
    parts = next((parts for parts in layout.builds if any(_is(part, name) for part in parts)), ())
    asked = next((part for part in parts if _is(part, name)), None)
    if asked is None:
        return None
    dated = _dated(asked, parts)
    places = tuple(_place(asked, dated, fold(str(value))) for value in values)
    known = tuple(place for place in places if place is not None)
    return (tuple(part.name for part in dated), known) if len(known) == len(places) else None


def _is(part: Part, name: str) -> bool:
    return bool(part.sort) and part.name == name


def _dated(asked: Part, parts: Sequence[Part]) -> tuple[Part, ...]:
    """Return the parts that make up a place: those that a week, month or day stands behind, and itself."""
    behind = {"week": ("year",), "month": ("year",), "year_day": ("year",), "day": ("year", "month")}
    wanted = behind.get(asked.sort, ())
    found = [next((part for part in parts if part.sort == sort), None) for sort in wanted]
    known = tuple(part for part in found if part is not None)
    return (*known, asked) if len(known) == len(wanted) else (asked,)


def _place(asked: Part, dated: tuple[Part, ...], text: str) -> Place | None:
    if asked.sort == "choice":
        return (text,)
    if asked.kind in BASES:
        signs = text if len(text) <= LONGEST_CODE and set(text) <= set(BASES[asked.kind]) else ""
        return (decoding(asked)(signs),) if signs else None
    if asked.kind == "month_letter" and len(dated) == 1 and text and text in signs_of(asked):
        return (decoding(asked)(text),)
    if not text or len(text) > LONGEST_CODE or not set(text) <= set(DIGITS):
        return None
    if asked.sort == "year":
        known = {*_YEARS, size_of(asked)}
        return (year_of(text, asked.since),) if len(text) in known else None
    return _date(asked, dated, text) if len(dated) > 1 else (int(text),)


def _date(asked: Part, dated: tuple[Part, ...], text: str) -> Place | None:
    """Return year and week, month, day of the year, or month and day; None where there is none such."""
    size = {"year_day": 3, "day": 4}.get(asked.sort, 2)
    signs, rest = text[:-size], text[-size:]
    if len(signs) not in _YEARS:
        return None
    year, number = year_of(signs, dated[0].since), int(rest)
    if not is_year(year):
        return None
    if asked.sort == "day":
        month, day = int(rest[:2]), int(rest[2:])
        return (year, month, day) if is_month(month) and is_day(year, month, day) else None
    known = {
        "iso_week": lambda: is_week(year, number),
        "us_week": lambda: is_us_week(year, number),
        "year_day": lambda: is_year_day(year, number),
    }.get(asked.kind, lambda: is_month(number))()
    return (year, number) if known else None


def fits(part: Part, place: Place) -> bool:
    """Tell whether a field can take the value of a *place* at all."""
    value = place[-1]
    if part.kind == "choice":
        return value in texts_of(part)
    if part.kind == "one_of":
        text = str(value)
        return len(text) == size_of(part) and set(text) <= set(signs_of(part))
    return part.kind not in BASES or int(value) < len(BASES[part.kind]) ** size_of(part)
