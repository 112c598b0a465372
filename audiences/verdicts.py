"""The affected rule: the fields of a code in, a verdict out.

Clearing is harder than suspecting: a condition that cannot be decided clears nobody, and a code that would
let its unit go is marked *near* where one slip makes it an affected one.
"""

from dataclasses import dataclass, field
from datetime import date
from enum import StrEnum
from itertools import chain
from typing import Literal

from audiences.code_lists import CodeList
from audiences.codes import Layout, Parsed, bare, fold, near, read
from audiences.conditions import Conditions, Decide, deciding

ALL_UNTIL_CLEARED = "all-until-cleared"
"""The rule's name where no affected rule is known."""

OTHERWISE = "otherwise"
"""The rule's name where no rule matches and the campaign says that the rest is affected."""

BY_CODE, BY_DAY_OF_SALE, REWORKED = "by code", "by day of sale", "reworked"
"""Why a unit is cleared."""


class Verdict(StrEnum):
    """What is known of a unit."""

    AFFECTED = "affected"
    CLEARED = "cleared"
    FOREIGN = "foreign"
    UNREADABLE = "unreadable"
    MISSING = "missing"


SAFE = frozenset({Verdict.CLEARED, Verdict.FOREIGN})
"""The verdicts that let a unit go: its owner need not stop."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Rule(Conditions):
    """Units that are affected: by their code, or by the first and the last day on which they were *sold*.

    Beside conditions on the code the days count for units without one alone: a code is the better witness, and no day
    of sale may clear a unit whose code is affected. Without such conditions they count for every unit.
    """

    name: str
    sold: tuple[date, date] | None = None

    def sold_then(self, sold_on: date | None) -> bool | None:
        """Tell whether a unit was sold on these days; None where one of both is not known."""
        if self.sold is None or sold_on is None:
            return None
        return min(self.sold) <= sold_on <= max(self.sold)

    def holds_without_code(self, sold_on: date | None) -> bool | None:
        """Tell whether a unit without a code is affected; None where only its code could tell."""
        sold_then = self.sold_then(sold_on)
        return sold_then if self.ask_nothing or sold_then is False else None


@dataclass(frozen=True, kw_only=True, slots=True)
class Judge:
    """What a campaign knows: its layout, its affected rules, what holds where no rule matches, what was *reworked*.

    *decided* follows from the rest.
    """

    layout: Layout | None = None
    rules: tuple[Rule, ...] = ()
    otherwise: Literal["cleared", "affected"] = "cleared"
    reworked: tuple[CodeList, ...] = ()
    decided: tuple[tuple[Rule, Decide | None], ...] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        """Make the rules ready once; every unit of a campaign is judged by the same ones."""
        decided = tuple(
            (rule, None if rule.sold and rule.ask_nothing else deciding(rule, self.layout))
            for rule in self.rules
            if self.layout
        )
        object.__setattr__(self, "decided", decided)

    @property
    def asks_day_of_sale(self) -> bool:
        """Say whether some rule goes by the day of sale."""
        return any(rule.sold for rule in self.rules)


@dataclass(frozen=True, kw_only=True, slots=True)
class Judgement:
    """A verdict: *why* it was cleared, the *rule* it is affected by, whether it is *near* an affected code."""

    verdict: Verdict
    why: str = ""
    rule: str = ""
    near: bool = False


def judge(judge: Judge, code: str | None, sold_on: date | None = None) -> Judgement:
    """Return the verdict on a unit by its code, or by the day it was sold on where no code can be read.

    Without a layout no code can clear it. A foreign code is *near* where this family's text in it would make an
    affected code or one near it.
    """
    missing = code is None or not fold(code)
    if missing or judge.layout is None:
        unknown = Judgement(verdict=Verdict.MISSING) if missing else _affected(ALL_UNTIL_CLEARED)
        return _by_day_of_sale(judge, sold_on) or unknown
    reading = read(judge.layout, code or "")
    if not isinstance(reading, Parsed):
        if not reading.foreign:
            return Judgement(verdict=Verdict.UNREADABLE)
        return Judgement(verdict=Verdict.FOREIGN, near=_near(judge, judge.layout, reading.twin, sold_on))
    rule = rule_for(judge, reading, sold_on)
    reworked = _reworked(judge, reading)
    if rule and not reworked:
        return _affected(rule)
    near = _near(judge, judge.layout, reading.code_key, sold_on)
    return Judgement(verdict=Verdict.CLEARED, why=REWORKED if rule else BY_CODE, near=near)


def rule_for(judge: Judge, code: Parsed, sold_on: date | None = None) -> str:
    """Return the name of the first rule that a code meets, or may meet, "" where none does."""
    if not judge.rules:
        return ALL_UNTIL_CLEARED
    for rule, decide in judge.decided:
        found = rule.sold_then(sold_on) if decide is None else decide(code)
        if found is not False:
            return rule.name
    return OTHERWISE if judge.otherwise == "affected" else ""


def _affected(rule: str) -> Judgement:
    return Judgement(verdict=Verdict.AFFECTED, rule=rule)


def _by_day_of_sale(judge: Judge, sold_on: date | None) -> Judgement | None:
    """Return the verdict on a unit of which only the day of sale is known, None where that is not enough."""
    answers = [(rule, rule.holds_without_code(sold_on)) for rule in judge.rules]
    for rule, holds in answers:
        if holds:
            return _affected(rule.name)
    if not answers or any(holds is None for _, holds in answers):
        return None
    if judge.otherwise == "affected":
        return _affected(OTHERWISE)
    return Judgement(verdict=Verdict.CLEARED, why=BY_DAY_OF_SALE)


def _near(judge: Judge, layout: Layout, key: str, sold_on: date | None) -> bool:
    """Tell whether *key* or a key one slip from it is an affected one."""
    own = read(layout, key)
    readings = chain([own] if isinstance(own, Parsed) else [], near(layout, key))
    return any(rule_for(judge, reading, sold_on) and not _reworked(judge, reading) for reading in readings)


def _reworked(judge: Judge, code: Parsed) -> bool:
    return any(bare(judge.layout, code.code_key) in codes for codes in judge.reworked if judge.layout)
