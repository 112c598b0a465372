"""Codes that stand for all codes: rules that agree on these agree on every other.

A rule's answer changes only at the values it names. So one code from each stretch between them is enough.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import islice, product
from math import prod

from audiences.builds import Build
from audiences.check_characters import DIGITS
from audiences.codes import Layout, Parsed, Part, bare, read
from audiences.conditions import Conditions, Sign
from audiences.folding import fold
from audiences.gs1 import LENGTHS
from audiences.parts import BASES, Sort, signs_of, size_of, texts_of, written
from audiences.printing import assembled
from audiences.written_values import Value, places_of

MOST = 60_000  # codes; with more, asking would take minutes
_OF_A_LIST = 2_000  # codes of a list that stand for it


def stand_ins(layout: Layout, asked: Sequence[Conditions]) -> tuple[Parsed, ...]:
    """Return a code for each stretch of codes that *asked* can tell apart; none where they would be too many.

    Of a long list some two thousand codes stand for all.
    """
    inside = [one for each in asked for one in each.within()]
    if any(one.signs for one in inside) and not all(map(_counts_places, layout.ready)):
        return ()
    found = [(build, _choices(layout, build, inside)) for build in layout.ready]
    if sum(prod(map(len, choices)) for _, choices in found) > MOST:
        return ()
    listed = (key for one in inside for codes in one.lists if codes for key in _some(list(codes)))
    made = (assembled(build, signs) for build, choices in found for signs in product(*choices))
    readings = (read(layout, code) for code in (*made, *listed))
    return tuple(reading for reading in readings if isinstance(reading, Parsed))


def _counts_places(build: Build) -> bool:
    """Say whether each sign of a code stands at one place, separators aside."""
    return not build.marked and all(
        len(set(step.lengths)) == 1 for step in build.steps if step.part.kind != "separator"
    )


def _choices(layout: Layout, build: Build, inside: Sequence[Conditions]) -> list[list[str]]:
    """Return the signs that stand for each step of a build."""
    signs = [sign for one in inside for sign in one.signs]
    choices = []
    at = 1
    for step in build.steps:
        part = step.part
        found = _signs(part, list(_named(layout, part, inside)))
        size = max(len(bare(layout, one)) for one in found) if found else 0
        here = [sign for sign in signs if at <= sign.place < at + size]
        choices.append(_varied(part, found, here, at) if here and part.sort else found)
        at += size
    return choices


def _some(keys: Sequence[str]) -> Sequence[str]:
    return keys[:: -(-len(keys) // _OF_A_LIST)]


def _named(layout: Layout, part: Part, inside: Iterable[Conditions]) -> Iterator[Value]:
    """Yield each value that conditions name for a part; a week of a year names both."""
    for one in inside:
        asked: list[tuple[str, tuple[Value, ...]]] = [*one.ranges.items(), *one.values.items()]
        for name, values in asked:
            fields, places = places_of(layout, name, values) or ((), ())
            if part.sort and part.name in fields:
                at = fields.index(part.name)
                yield from (place[at] for place in places)


def _signs(part: Part, named: Sequence[Value]) -> list[str]:
    """Return signs that may stand for a part: what is named, what lies beside it, the first and the last."""
    if not part.sort:
        return ["0" * size_of(part) if part.kind == "check" else fold(part.text)]
    if part.sort == "choice":
        return _texts(part, [str(value) for value in named])
    beside = {int(number) + step for number in named for step in (-1, 0, 1)}
    if part.sort == "year":
        return sorted({written(part, number) for number in beside or {2000} if number >= 0})
    first, last = _ENDS.get(part.sort, (0, len(BASES.get(part.kind, DIGITS)) ** size_of(part) - 1))
    ends = {first, *range(last - 1, last + 1)} if part.sort in _ENDS else {first, last}
    return [written(part, number) for number in sorted(beside | ends) if first <= number <= last]


_ENDS: Mapping[Sort, tuple[int, int]] = {
    "week": (1, 53),
    "month": (1, 12),
    "year_day": (1, 366),
    "day": (1, 31),
}
"""The first and the last of each; years differ in the last one."""


def _texts(part: Part, named: Sequence[str]) -> list[str]:
    """Return texts that may stand for a part: what is named, and one beside that is not, or all where they are few."""
    if part.kind == "choice":
        return list(texts_of(part))
    if part.kind == "whole":
        return [*named, "0" * LENGTHS[part.element] if part.element not in {"10", "21"} else "0"]
    if size_of(part) == 1:
        return list(signs_of(part))
    others = ("".join(signs) for signs in product(signs_of(part), repeat=size_of(part)))
    return [*named, *[text for text in islice(others, len(named) + 1) if text not in named][:1]]


def _varied(part: Part, found: Sequence[str], signs: Sequence[Sign], begins: int) -> list[str]:
    """Add what stands for a part of which single signs are asked for: the nearest values with each, and without."""
    first, last = _ENDS.get(part.sort, (0, -1))
    if part.sort in _ENDS or (part.sort == "year" and size_of(part) < len("yyyy")):
        every = range(first, last + 1) if part.sort in _ENDS else range(10 ** size_of(part))
        return sorted({written(part, value) for value in every})
    if part.kind == "choice":
        return list(found)
    texts = set(found)
    order = signs_of(part)
    for sign in signs:
        at = sign.place - begins
        wanted = [one for one in order if one in fold(sign.one_of)]
        others = [one for one in order if one not in wanted][:1]
        if len(texts) > MOST:
            break
        texts |= {
            near_by
            for text in tuple(texts)
            for one in (*wanted, *others)
            for near_by in _with_sign(part, text, at, order.index(one))
        }
    return sorted(texts)


def _with_sign(part: Part, text: str, at: int, value: int) -> Iterator[str]:
    """Yield the text with the sign of this value at a place; of a number also its neighbours that have it there."""
    order = signs_of(part)
    yield text[:at] + order[value] + text[at + 1 :]
    if part.sort == "choice":
        return
    size, base = len(text), len(order)
    number = 0
    for one in text:
        number = number * base + order.index(one)
    weight = base ** (size - 1 - at)
    for higher in (number - base * weight, number, number + base * weight):
        begins = higher // (base * weight) * base * weight + value * weight
        for one in (begins, begins + weight - 1):
            if 0 <= one < base**size:
                yield written(part, one)
