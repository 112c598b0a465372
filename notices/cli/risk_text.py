"""A risk in plain text: the level first, then each scenario with its steps, its level and what moves it."""

from collections.abc import Iterator
from decimal import Decimal
from fractions import Fraction

from notices.figures.risk import Judged, Risk
from notices.figures.risk_matrix import MATRIX

_LONGEST = 10**9  # a denominator that somebody still reads


def lines(found: Risk) -> Iterator[str]:
    """Yield the level, the scenarios from the first on, and where the matrix comes from."""
    places = [str(place + 1) for place in found.decides]
    which = f"scenario {places[0]} decides" if len(places) == 1 else f"scenarios {_listed(places)} decide"
    yield f"Level: {found.level.word}; {which}."
    for place, one in enumerate(found.scenarios, 1):
        yield ""
        yield f"Scenario {place}: {one.scenario.happens}"
        yield from _scenario(one)
    yield ""
    yield f"Matrix {MATRIX.version}: {MATRIX.source}. {MATRIX.mark}"


def _scenario(one: Judged) -> Iterator[str]:
    scenario = one.scenario
    for number, step in enumerate(scenario.steps, 1):
        yield f"  step {number}: {chance(step.probability)}  {step.happens}"
        yield f"    reason: {step.reason}"
    yield (
        f"  probability: {chance(one.probability)}, in the row “{MATRIX.band_words(one.row)}”; "
        "of one user, never times the units"
    )
    yield f"  severity: {scenario.severity} ({MATRIX.severities[scenario.severity - 1]})"
    yield f"    reason: {scenario.severity_reason}"
    steady = one.lowest is one.highest
    yield f"  level: {one.level.word}" + (
        ", also when one figure is shifted"
        if steady
        else f"; from {one.lowest.word} to {one.highest.word} when one figure is shifted"
    )
    for words, level in (
        ("one row rarer", one.rarer),
        ("one row likelier", one.likelier),
        (f"severity {scenario.severity - 1}", one.milder),
        (f"severity {scenario.severity + 1}", one.worse),
    ):
        if level is not None:
            yield f"    {words}: {level.word}"
    for number, tried in enumerate(one.steps, 1):
        yield (
            f"    step {number} a third as probable: {tried.lower.word}; "
            f"thrice: {tried.higher.word}; certain: {tried.certain.word}"
        )
    yield f"  {_decides(one)}"


def _decides(one: Judged) -> str:
    if not one.decides:
        return "No single step decides: the level stays, even with one a third as probable or certain."
    first = one.steps[one.decides[0]]
    named = _listed([str(place + 1) for place in one.decides])
    step = f"step {named}" if len(one.decides) == 1 else f"steps {named}, each alone"
    if first.certain is not one.level:
        return f"What decides: {step}; if certain, the level is {first.certain.word}. Look into it first."
    return (
        f"What decides: {step}; a third as probable, the level is {first.lower.word}. Be sure of the reason."
    )


def chance(probability: Fraction) -> str:
    """Return a probability as people write it: ``1``, ``1/50``; ``1.2e-12`` where nobody reads the parts."""
    if probability.denominator < _LONGEST:
        return str(probability)
    return f"{Decimal(probability.numerator) / Decimal(probability.denominator):.1e}"


def _listed(places: list[str]) -> str:
    return places[0] if len(places) == 1 else f"{', '.join(places[:-1])} and {places[-1]}"
