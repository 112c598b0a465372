"""A value as a rule writes it, decoded to where it lies among the values of its field."""

from collections.abc import Sequence

from audiences.codes import LONGEST_CODE, Layout
from audiences.folding import fold
from audiences.weeks import read_week, read_year

Value = str | int
Place = tuple[Value, ...]
"""Where a value lies, to be compared: a week behind its year, a number, a choice."""


def places_of(
    layout: Layout, name: str, values: Sequence[Value]
) -> tuple[tuple[str, ...], tuple[Place, ...]] | None:
    """Return the fields that make up the place of *name*, and the place of each value; None where one has none."""
    kind = next((part.kind for part in layout.parts if part.name == name and part.kind != "text"), None)
    year = next((part.name for part in layout.parts if part.kind == "iso_year"), "")
    places = tuple(_place(kind, bool(year), value) for value in values)
    known = tuple(place for place in places if place is not None)
    if len(known) < len(places):
        return None
    return ((year, name) if kind == "iso_week" and year else (name,)), known


def _place(kind: str | None, dated: bool, value: Value) -> Place | None:  # noqa: FBT001 - private, one use
    folded = fold(str(value))
    if kind == "one_of":
        return (folded,)
    if kind == "iso_week" and dated:
        return read_week(folded)
    if kind == "iso_year":
        year = read_year(folded)
        return None if year is None else (year,)
    return (int(folded),) if kind and folded.isdecimal() and len(folded) <= LONGEST_CODE else None
