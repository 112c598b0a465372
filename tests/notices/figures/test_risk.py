"""The level of a risk: the matrix as its source has it, the scenarios, and what moves the level."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from notices.figures.risk import SHIFT, Scenario, Step, judge, risk
from notices.figures.risk_matrix import MATRIX, Level

LOW, MEDIUM, HIGH, SERIOUS = Level


def scenario(severity: int, *probabilities: str | Fraction) -> Scenario:
    """Return a scenario with these steps."""
    steps = tuple(Step(happens="x", probability=Fraction(one), reason="y") for one in probabilities)
    return Scenario(happens="x", steps=steps, severity=severity, severity_reason="y")


def test_the_folding_chair_is_a_low_risk() -> None:
    """Decision 2010/15/EU, guidelines, section 6.1 (also 2019/417): 1 x 1/50 x 1/10 x 1 = 1/500, severity 1, low."""
    judged = judge(scenario(1, "1", "1/50", "1/10", "1"))

    assert judged.probability == Fraction(1, 500)
    assert MATRIX.band_words(judged.row) == "more than 1/1000"
    assert judged.level is LOW


def test_one_in_six_thousand_and_severity_three_is_high() -> None:
    """The event tree's path of 1/6000 is published (elektrika.cz); that the cell is H is from memory."""
    judged = judge(scenario(3, "1/6000"))

    assert MATRIX.band_words(judged.row) == "more than 1/10000"
    assert judged.level is HIGH


# Decision 2010/15/EU, Annex 5, table 4 = Decision (EU) 2019/417: the cells are from memory.
CELLS = [
    ("1/2", "HSSS"),
    ("1/10", "MSSS"),
    ("1/100", "MSSS"),
    ("1/1000", "LHSS"),
    ("1/10000", "LMHS"),
    ("1/100000", "LLMH"),
    ("1/1000000", "LLLM"),
    ("0", "LLLL"),
]
A_HAIR = Fraction(1, 10**12)


@pytest.mark.parametrize(("place", "edge", "cells"), [(n, *cell) for n, cell in enumerate(CELLS)])
def test_the_edge_of_a_band_falls_below_and_a_hair_more_into_it(place: int, edge: str, cells: str) -> None:
    at, below = Fraction(edge), CELLS[min(place + 1, len(CELLS) - 1)][1]

    for severity, (cell, under) in enumerate(zip(cells, below, strict=True), 1):
        assert MATRIX.level(at + A_HAIR, severity).name[0] == cell
        if at:
            assert MATRIX.level(at, severity).name[0] == under


def test_exactly_one_in_a_thousand_and_severity_two_is_medium_and_just_above_it_high() -> None:
    assert judge(scenario(2, "1/1000")).level is MEDIUM
    assert judge(scenario(2, "1001/1000000")).level is HIGH


def test_the_matrix_has_a_source_and_says_that_its_cells_are_from_memory() -> None:
    assert "2019/417" in MATRIX.source
    assert "2024/3173" in MATRIX.source
    assert "from memory" in MATRIX.mark
    assert MATRIX.band_words(len(MATRIX.bands) - 1) == "1/1000000 or less"


def test_the_highest_level_decides_and_levels_are_never_averaged() -> None:
    found = risk([scenario(1, "1/500"), scenario(4, "1/8000"), scenario(1, "1/9"), scenario(4, "1/2")])

    assert [one.level for one in found.scenarios] == [LOW, SERIOUS, MEDIUM, SERIOUS]
    assert (found.level, found.decides) == (SERIOUS, (1, 3))


def test_the_level_is_tried_one_row_and_one_severity_away() -> None:
    judged = judge(scenario(2, "1/5000"))

    assert (judged.rarer, judged.level, judged.likelier) == (LOW, MEDIUM, HIGH)
    assert (judged.milder, judged.worse) == (LOW, HIGH)
    assert (judged.lowest, judged.highest) == (LOW, HIGH)


def test_beyond_the_ends_of_the_matrix_there_is_nothing_to_try() -> None:
    top, bottom = judge(scenario(4, "1")), judge(scenario(1, "1/2000000"))

    assert (top.likelier, top.worse, top.decides) == (None, None, ())
    assert (bottom.rarer, bottom.milder, bottom.decides) == (None, None, (0,))


def test_a_step_is_tried_at_a_third_at_threefold_and_as_certain() -> None:
    one, other = judge(scenario(2, "1/2", "1/10000")).steps

    assert (one.lower, one.higher, one.certain) == (
        LOW,
        LOW,
        LOW,
    )  # more than half is at most twice as probable
    assert (other.lower, other.higher, other.certain) == (LOW, MEDIUM, SERIOUS)


def test_the_least_probable_of_the_steps_that_raise_it_most_decides() -> None:
    assert judge(scenario(2, "1/40", "1/100", "1")).decides == (1,)
    assert judge(scenario(2, "1/60", "1/60", "1")).decides == (0, 1)


def test_where_nothing_raises_it_those_decide_that_lower_it() -> None:
    judged = judge(scenario(4, "1/4", "1/50", "1/2", "1/20"))

    assert {one.lower for one in judged.steps} == {HIGH}
    assert (judged.level, judged.decides) == (SERIOUS, (0, 1, 2, 3))
    assert judge(scenario(4, "1/2", "1/2")).decides == ()


# Edges of bands among them: 1/10 to 1/10^8, and multiples.
chances = st.builds(lambda part, places: Fraction(part, 10**places), st.integers(1, 10), st.integers(1, 8))
severities = st.integers(1, 4)
scenarios = st.builds(
    lambda severity, steps: scenario(severity, *steps), severities, st.lists(chances, min_size=1, max_size=4)
)


@pytest.mark.property
@given(chances, chances, severities, severities)
def test_more_probable_or_worse_is_never_a_lower_level(
    one: Fraction, other: Fraction, mild: int, bad: int
) -> None:
    assert MATRIX.level(min(one, other), min(mild, bad)) <= MATRIX.level(max(one, other), max(mild, bad))


@pytest.mark.property
@given(scenarios)
def test_what_is_tried_lies_around_the_level(drawn: Scenario) -> None:
    judged = judge(drawn)

    assert judged.lowest <= judged.level <= judged.highest
    for tried in judged.steps:
        assert tried.lower <= judged.level <= tried.higher <= tried.certain
    for lower, higher in ((judged.rarer, judged.likelier), (judged.milder, judged.worse)):
        assert (lower or judged.level) <= judged.level <= (higher or judged.level)


@pytest.mark.property
@given(scenarios)
def test_a_certain_step_more_changes_no_level_and_the_order_of_steps_neither(drawn: Scenario) -> None:
    probabilities = [step.probability for step in drawn.steps]
    more = judge(scenario(drawn.severity, *reversed(probabilities), Fraction(1)))

    assert more.level is judge(drawn).level
    assert more.probability == judge(drawn).probability


@pytest.mark.property
@given(st.lists(scenarios, min_size=1, max_size=2), scenarios)
def test_a_further_scenario_never_lowers_the_whole(some: list[Scenario], further: Scenario) -> None:
    assert risk([*some, further]).level >= risk(some).level


def test_the_shift_is_threefold() -> None:
    judged = judge(scenario(2, Fraction(1, 1000) * SHIFT))

    assert judged.level is HIGH
    assert judged.steps[0].lower is MEDIUM
