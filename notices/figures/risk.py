"""How serious it is: scenarios as steps with probabilities, the level of each, and how sure that level is.

For the file and the authority, never for a notice. A probability is that of one user over the product's lifetime; the
number of units does not enter.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import prod

from notices.figures.risk_matrix import HIGHEST_SEVERITY, LOWEST_SEVERITY, MATRIX, Level, Matrix

SHIFT = 3
"""By how much a step's probability is raised and lowered to try the level: common practice, no source."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Step:
    """One thing that must happen, given all before it: *probability* above 0, up to 1, and the reason for it."""

    happens: str
    probability: Fraction
    reason: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Scenario:
    """How somebody comes to harm: one step or more, how bad the harm is (1 to 4), and the reason for that."""

    happens: str
    steps: tuple[Step, ...]
    severity: int
    severity_reason: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Tried:
    """The level when one step is a third as probable, thrice as probable (1 at most), and certain."""

    lower: Level
    higher: Level
    certain: Level


@dataclass(frozen=True, kw_only=True, slots=True)
class Judged:
    """A scenario and its level.

    *row* is its band in the matrix; *rarer*, *likelier*, *milder* and *worse* the level one row or one severity
    away, None where there is none; *steps* what each step does to it. *decides* holds the places of the steps on which
    the level hangs: the least probable that raises it most where it is certain, else those that lower it.
    """

    scenario: Scenario
    probability: Fraction
    row: int
    level: Level
    rarer: Level | None
    likelier: Level | None
    milder: Level | None
    worse: Level | None
    steps: tuple[Tried, ...]
    decides: tuple[int, ...]

    @property
    def lowest(self) -> Level:
        """Return the lowest level of one row or one severity away, or of one step a third as probable."""
        return min(self._tried(self.rarer, self.milder, *(one.lower for one in self.steps)))

    @property
    def highest(self) -> Level:
        """Return the highest level of one row or one severity away, or of one step thrice as probable."""
        return max(self._tried(self.likelier, self.worse, *(one.higher for one in self.steps)))

    def _tried(self, *levels: Level | None) -> list[Level]:
        return [self.level, *(level for level in levels if level is not None)]


@dataclass(frozen=True, kw_only=True, slots=True)
class Risk:
    """The whole: the highest level of all scenarios, and the places of those that have it."""

    scenarios: tuple[Judged, ...]
    level: Level
    decides: tuple[int, ...]


def risk(scenarios: Sequence[Scenario], matrix: Matrix = MATRIX) -> Risk:
    """Judge every scenario, one at least; the highest level decides, for levels are never averaged."""
    judged = tuple(judge(scenario, matrix) for scenario in scenarios)
    level = max(one.level for one in judged)
    return Risk(
        scenarios=judged,
        level=level,
        decides=tuple(place for place, one in enumerate(judged) if one.level is level),
    )


def judge(scenario: Scenario, matrix: Matrix = MATRIX) -> Judged:
    """Return the level of one scenario, and the levels that stand beside it."""
    probability = prod((step.probability for step in scenario.steps), start=Fraction(1))
    row, severity = matrix.row(probability), scenario.severity
    steps = tuple(_tried(scenario, probability, step, matrix) for step in scenario.steps)
    level = matrix.level(probability, severity)
    return Judged(
        scenario=scenario,
        probability=probability,
        row=row,
        level=level,
        rarer=matrix.bands[row + 1].levels[severity - 1] if row + 1 < len(matrix.bands) else None,
        likelier=matrix.bands[row - 1].levels[severity - 1] if row > 0 else None,
        milder=matrix.level(probability, severity - 1) if severity > LOWEST_SEVERITY else None,
        worse=matrix.level(probability, severity + 1) if severity < HIGHEST_SEVERITY else None,
        steps=steps,
        decides=_decides(scenario, level, steps),
    )


def _tried(scenario: Scenario, probability: Fraction, step: Step, matrix: Matrix) -> Tried:
    others = probability / step.probability

    def level(one: Fraction) -> Level:
        return matrix.level(others * min(one, Fraction(1)), scenario.severity)

    return Tried(
        lower=level(step.probability / SHIFT),
        higher=level(step.probability * SHIFT),
        certain=level(Fraction(1)),
    )


def _decides(scenario: Scenario, level: Level, steps: Sequence[Tried]) -> tuple[int, ...]:
    """Return the least probable of the steps that, taken as certain, raise the level most; else those that lower it."""
    top = max(one.certain for one in steps)
    if top is level:
        return tuple(place for place, one in enumerate(steps) if one.lower is not level)
    raising = {
        place: scenario.steps[place].probability for place, one in enumerate(steps) if one.certain is top
    }
    least = min(raising.values())
    return tuple(place for place, probability in raising.items() if probability == least)
