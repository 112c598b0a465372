"""A code layout proposed from codes copied off real units, with what a person must confirm before it is used.

A handful of codes never proves how a marking is built. So every field comes back as a question, which *yes* makes
sure of, and what the codes cannot show is said.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from audiences.codes import Layout, Parsed, Part, fold, read
from audiences.weeks import read_week

_WEEK = len("yyww")
_YEAR = len("yy")
_FIRST_YEAR, _LAST_YEAR = 2000, 2040  # a plausible year of making for what is still in use
_WIDEST = 20  # years between the oldest and the newest of a few codes


@dataclass(frozen=True, kw_only=True, slots=True)
class Proposed:
    """What a few codes seem to be: the *layout*, the same *as_data* for ``code:``, and *questions* to its reader.

    *layout* is None where the codes have nothing in common that can be told; then *as_data* is empty and a
    question says so. *unread* holds the codes that the layout does not read, as they were given.
    """

    layout: Layout | None
    as_data: Mapping[str, object]
    questions: tuple[str, ...]
    unread: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True, slots=True)
class _Piece:
    """One part, as it stands in the file, and what to ask about it."""

    part: Part
    data: Mapping[str, object]
    ask: str = ""


def propose(codes: Sequence[str]) -> Proposed:
    """Return the layout that *codes* (three to twenty, of one family) seem to have; nothing is taken for certain."""
    given = {fold(code): code.strip() for code in codes if fold(code)}
    keys = _alike(list(given))
    pieces = list(_pieces(keys)) if keys else []
    layout = Layout(parts=tuple(piece.part for piece in pieces))
    if not any(piece.part.kind != "text" for piece in pieces):
        return Proposed(layout=None, as_data={}, questions=(_NOTHING,), unread=tuple(given.values()))
    readings = {key: read(layout, key) for key in given}
    unread = tuple(given[key] for key, found in readings.items() if not isinstance(found, Parsed))
    first = next(found for found in readings.values() if isinstance(found, Parsed))
    asked = [_read_back(layout, first), *(piece.ask for piece in pieces if piece.ask)]
    if unread:
        asked.append(
            f"{', '.join(unread)}: built in another way. Is it of another product, or copied wrongly?"
        )
    return Proposed(
        layout=layout,
        as_data={
            "layout": [dict(piece.data) for piece in pieces],
            "example": {"code": given[first.code_key], **_written(layout, first)},
        },
        questions=tuple(asked),
        unread=unread,
    )


_NOTHING = "These codes do not show how they are built. Can you copy at least three, from different units?"


def _alike(keys: Sequence[str]) -> list[str]:
    """Return the keys of the most frequent build: as long as each other, with letters and digits at the same places."""
    builds: dict[str, list[str]] = {}
    for key in keys:
        builds.setdefault("".join(map(_class, key)), []).append(key)
    return max(builds.values(), key=len, default=[])


def _class(sign: str) -> str:
    if sign.isdecimal():
        return "0"
    return "A" if sign.isalpha() else sign


def _pieces(keys: Sequence[str]) -> Iterator[_Piece]:
    """Yield the parts from left to right; digits beside each other are one run, so are letters."""
    dated = False
    lines = 0
    for begin, end in _runs(keys[0]):
        found = [key[begin:end] for key in keys]
        if keys[0][begin].isdecimal():
            if not dated and _are_weeks(found):
                dated = True
                yield _Piece(
                    part=Part(kind="iso_year", name="year", size=_YEAR),
                    data={"field": "year", "iso_year": _YEAR},
                )
                yield _Piece(
                    part=Part(kind="iso_week", name="week", size=2),
                    data={"field": "week", "iso_week": True},
                    ask=_ask_week(found[0][:_WEEK]),
                )
                found = [signs[_WEEK:] for signs in found]
            if found[0]:
                yield from _number(found, begin)
        elif len(set(found)) == 1:
            yield _Piece(part=Part(kind="text", text=found[0]), data={"text": found[0]})
        else:
            for place in range(end - begin):
                lines += 1
                yield _letters([signs[place] for signs in found], "line" if lines == 1 else f"line_{lines}")


def _runs(key: str) -> Iterator[tuple[int, int]]:
    begin = 0
    for at in range(1, len(key) + 1):
        if at == len(key) or _class(key[at]) != _class(key[begin]):
            yield begin, at
            begin = at


def _are_weeks(found: Sequence[str]) -> bool:
    """Tell whether every run begins with a plausible ISO 8601 year and week."""
    weeks = [read_week(signs[:_WEEK]) for signs in found]
    years = [week[0] for week in weeks if week is not None]
    return (
        len(years) == len(weeks)
        and min(years) >= _FIRST_YEAR
        and max(years) <= _LAST_YEAR
        and max(years) - min(years) <= _WIDEST
    )


def _ask_week(signs: str) -> str:
    return f"{signs}: week {int(signs[2:])} of 20{signs[:2]}?"


def _number(found: Sequence[str], begin: int) -> Iterator[_Piece]:
    """Yield the part of a run of digits: a number, or fixed text where they are always the same."""
    if len(set(found)) == 1 and begin == 0:
        ask = f"{found[0]}: always these digits?"
        yield _Piece(part=Part(kind="text", text=found[0]), data={"text": found[0]}, ask=ask)
        return
    name = "number" if begin else "first_number"
    size = len(found[0])
    yield _Piece(
        part=Part(kind="digits", name=name, size=size),
        data={"field": name, "digits": size},
        ask=f"{found[0]}: number {int(found[0])}?",
    )


def _letters(signs: Sequence[str], name: str) -> _Piece:
    seen = "".join(sorted(set(signs)))
    if len(seen) == 1:
        return _Piece(part=Part(kind="text", text=seen), data={"text": seen})
    return _Piece(
        part=Part(kind="one_of", name=name, size=1, letters=seen),
        data={"field": name, "one_of": seen},
        ask=f"{', '.join(seen)}: are these all the letters at this place? A code with another one cannot be read.",
    )


def _read_back(layout: Layout, code: Parsed) -> str:
    fields = ", ".join(f"{name} {value}" for name, value in _written(layout, code).items())
    return f"{code.code_key} reads as {fields}. Is that right?"


def _written(layout: Layout, code: Parsed) -> dict[str, str | int]:
    """Return the fields of a code in the order of the layout."""
    return {part.name: code.fields[part.name] for part in layout.parts if part.kind != "text"}
