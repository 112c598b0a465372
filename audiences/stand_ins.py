"""Codes that stand for all codes: rules that agree on these agree on every other.

A rule's answer changes only at the values it names. So one code from each stretch between them is enough.
"""

from collections.abc import Iterable, Iterator, Sequence
from itertools import product
from math import prod

from audiences.codes import Layout, Parsed, Part, read
from audiences.conditions import Conditions, Sign
from audiences.folding import fold
from audiences.written_values import Value, places_of

MOST = 60_000  # codes; with more, asking would take minutes
_OF_A_LIST = 2_000  # codes of a list that stand for it
_LAST_WEEKS = (52, 53)  # ISO 8601: the last of a year


def stand_ins(layout: Layout, asked: Sequence[Conditions]) -> tuple[Parsed, ...]:
    """Return a code for each stretch of codes that *asked* can tell apart; none where they would be too many.

    Of a long list some two thousand codes stand for all.
    """
    inside = [one for each in asked for one in each.within()]
    signs = [sign for one in inside for sign in one.signs]
    choices = []
    at = 1
    for part in layout.parts:
        found = _signs(part, list(_named(layout, part, inside)))
        size = len(next(iter(found), ""))
        here = [sign for sign in signs if at <= sign.place < at + size]
        choices.append(_varied(found, here, at) if part.kind == "digits" else found)
        at += size
    if prod(map(len, choices)) > MOST:
        return ()
    listed = (key for one in inside for codes in one.lists if codes for key in _some(list(codes)))
    made = ("".join(signs) for signs in product(*choices))
    readings = (read(layout, code) for code in (*made, *listed))
    return tuple(reading for reading in readings if isinstance(reading, Parsed))


def _some(keys: Sequence[str]) -> Sequence[str]:
    return keys[:: -(-len(keys) // _OF_A_LIST)]


def _named(layout: Layout, part: Part, inside: Iterable[Conditions]) -> Iterator[int]:
    """Yield each number that conditions name for a part; a week of a year names both."""
    for one in inside:
        written: list[tuple[str, tuple[Value, ...]]] = [*one.ranges.items(), *one.values.items()]
        for name, values in written:
            fields, places = places_of(layout, name, values) or ((), ())
            if part.kind != "text" and part.name in fields:
                at = fields.index(part.name)
                yield from (number for place in places if isinstance(number := place[at], int))


def _signs(part: Part, named: Sequence[int]) -> list[str]:
    """Return signs that may stand for a part: what is named, what lies beside it, the first and the last."""
    if part.kind == "text":
        return [fold(part.text)]
    if part.kind == "one_of":
        return [fold(letter) for letter in part.letters]
    beside = {number + step for number in named for step in (-1, 0, 1)}
    if part.kind == "iso_year":
        size = part.size or 2
        return sorted({f"{number:04}"[-size:] for number in beside or {2000} if number >= 0})
    if part.kind == "iso_week":
        return [
            f"{number:02}" for number in sorted(beside | {1, *_LAST_WEEKS}) if 0 < number <= _LAST_WEEKS[-1]
        ]
    last = 10**part.size - 1
    return [f"{number:0{part.size}}" for number in sorted(beside | {0, last}) if 0 <= number <= last]


def _varied(numbers: Sequence[str], signs: Sequence[Sign], begins: int) -> list[str]:
    """Add, for each sign asked for inside a number, the nearest numbers with that digit there, and one without it."""
    found = set(numbers)
    for sign in signs:
        if len(found) > MOST:
            break
        at = sign.place - begins
        size = len(numbers[0])
        weight = 10 ** (size - 1 - at)
        wanted = fold(sign.one_of)
        digits = {*wanted, *[digit for digit in "0123456789" if digit not in wanted][:1]}
        for number in [int(one) for one in found]:
            for digit in (int(one) for one in digits if one.isdecimal()):
                for higher in (number - 10 * weight, number, number + 10 * weight):
                    base = higher // (10 * weight) * 10 * weight + digit * weight
                    found |= {
                        f"{one:0{size}}"
                        for one in (base, base + number % weight, base + weight - 1)
                        if 0 <= one < 10**size
                    }
    return sorted(found)
