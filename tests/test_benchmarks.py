"""The benchmarks in small: each way gives what the bare way gives; how long they take is not asked here."""

import json
from dataclasses import replace

import pytest

from tests.benchmarks.__main__ import BENCHMARKS, main, run
from tests.benchmarks.timing import Bound, Line, slowness


@pytest.mark.parametrize("name", BENCHMARKS)
def test_ours_gives_what_the_bare_way_gives(name: str) -> None:
    lines = list(run([name], quick=True))

    assert lines
    for line in lines:
        said = json.loads(str(line))
        assert {"name", "ratio", "bound", "holds", "size", "clock"} == said.keys()
        assert said["ratio"] > 0
        assert said["size"] > 0


def test_a_bound_is_kept_from_its_own_side() -> None:
    line = Line(name="x", ratio=2.0, bound=Bound(limit=2.0), size=1, clock="cpu")

    assert line.holds
    assert not replace(line, ratio=2.1).holds
    assert replace(line, ratio=2.1, bound=Bound(limit=2.0, at_least=True)).holds
    assert not replace(line, ratio=1.9, bound=Bound(limit=2.0, at_least=True)).holds


def test_the_median_of_the_rounds_counts_and_both_take_turns() -> None:
    turns: list[str] = []
    ticks = iter([0.0, 4.0, 0.0, 2.0, 0.0, 9.0, 0.0, 1.0, 0.0, 3.0, 0.0, 1.0])

    ratio = slowness(
        lambda: lambda: turns.append("ours"),
        lambda: lambda: turns.append("bare"),
        clock=lambda: next(ticks),
        rounds=3,
    )

    assert ratio == 3.0
    assert turns == ["ours", "bare"] * 3


def test_a_benchmark_that_there_is_not_is_no_success(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["nothing", "--quick"]) == 2
    assert "no benchmark is called nothing" in capsys.readouterr().err
