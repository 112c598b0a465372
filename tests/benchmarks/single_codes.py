"""Judging by a list of single codes: a million of them cost a row what ten thousand cost, and little memory."""

import random
import tracemalloc
from collections.abc import Callable, Iterator

from audiences.code_lists import CodeList
from audiences.codes import Layout, Part, fold
from audiences.verdicts import Judge, Rule, judge
from tests.benchmarks.timing import Bound, Line, ready, slowness

_LAYOUT = Layout(
    parts=(
        Part(kind="text", text="KM-"),
        Part(kind="one_of", name="works", letters="PRS"),
        Part(kind="digits", name="number", size=8),
    )
)


def _codes(count: int) -> list[str]:
    dice = random.Random(11)  # noqa: S311 - a benchmark repeats
    return [f"KM{'PRS'[number % 3]}{dice.randrange(10**8):08}" for number in range(count)]


def by_single_codes(*, quick: bool) -> Iterator[Line]:
    """Judge the same rows by a long and a short list, and weigh the long one beside a set of the same texts."""
    many, few, rows = (300, 30, 200) if quick else (1_000_000, 10_000, 5_000)
    codes = _codes(many)
    plain = frozenset(map(fold, codes))
    long_list, short_list = CodeList.of(codes), CodeList.of(codes[:few])
    asked = [*codes[: rows // 2], *(f"{code[:-1]}{int(code[-1]) ^ 1}" for code in codes[: rows // 2])]
    by_long, by_short = (
        Judge(layout=_LAYOUT, rules=(Rule(name="b", lists=(one,)),)) for one in (long_list, short_list)
    )
    assert [bool(judge(by_long, code).rule) for code in asked] == [fold(code) in plain for code in asked]
    ratio = slowness(
        ready(lambda: [judge(by_long, code) for code in asked]),
        ready(lambda: [judge(by_short, code) for code in asked]),
    )
    yield Line(name="single-codes-flat", ratio=ratio, bound=Bound(limit=1.3), size=many, clock="cpu")
    ratio = _held(lambda: CodeList.of(codes)) / _held(lambda: frozenset(map(fold, codes)))
    yield Line(name="single-codes-memory", ratio=ratio, bound=Bound(limit=0.3), size=many, clock="bytes")


def _held(make: Callable[[], object]) -> int:
    """Return how many bytes what is made takes, once it is made."""
    tracemalloc.start()
    try:
        made = make()
        return tracemalloc.get_traced_memory()[0] if made else 0
    finally:
        tracemalloc.stop()
