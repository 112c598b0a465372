"""The affected rule: the fields of a code in, a verdict out.

Clearing is harder than suspecting: a condition that cannot be decided clears nobody, and a code that would
let its unit go is marked *near* where one slip makes it an affected one.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Literal

from audiences.codes import Layout, Parsed, Part, fold, read, read_week, read_year, slips

ALL_UNTIL_CLEARED = "all-until-cleared"
"""The rule's name where no affected rule is known."""

OTHERWISE = "otherwise"
"""The rule's name where no rule matches and the campaign says that the rest is affected."""

Value = str | int
_Place = tuple[Value, ...]


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
class Rule:
    """Codes that are affected: every field named lies in its range (both ends count) and among its values.

    A week is ``yyww`` in quotes, compared as decoded year and week, never as text.
    """

    name: str
    ranges: Mapping[str, tuple[Value, Value]] = field(default_factory=dict)
    values: Mapping[str, tuple[Value, ...]] = field(default_factory=dict)


@dataclass(frozen=True, kw_only=True, slots=True)
class Condition:
    """One condition of a rule, decoded: a field (behind its year, where it is a week), its ends or values."""

    fields: tuple[str, ...]
    ends: tuple[_Place, _Place] | None = None
    values: tuple[_Place, ...] = ()

    def holds(self, found: Mapping[str, Value]) -> bool:
        """Tell whether a code with these fields meets the condition."""
        place = tuple(found[name] for name in self.fields)
        return place in self.values if self.ends is None else self.ends[0] <= place <= self.ends[1]


@dataclass(frozen=True, kw_only=True, slots=True)
class Judge:
    """What a campaign knows: its layout, its affected rules, and what holds where no rule matches.

    *decoded* follows from the rest.
    """

    layout: Layout | None = None
    rules: tuple[Rule, ...] = ()
    otherwise: Literal["cleared", "affected"] = "cleared"
    decoded: tuple[tuple[str, tuple[Condition, ...]], ...] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        """Decode the rules once; every unit of a campaign is judged by the same ones."""
        parts = self.layout.parts if self.layout else ()
        decoded = tuple((rule.name, tuple(_conditions(rule, parts))) for rule in self.rules)
        object.__setattr__(self, "decoded", decoded)


@dataclass(frozen=True, kw_only=True, slots=True)
class Judgement:
    """A verdict: *why* it was cleared, the *rule* it is affected by, whether it is *near* an affected code."""

    verdict: Verdict
    why: str = ""
    rule: str = ""
    near: bool = False


def judge(judge: Judge, code: str | None) -> Judgement:
    """Return the verdict on a unit by its code; without a layout no code can clear it.

    A foreign code is *near* where this family's text in it would make an affected code or one near it.
    """
    if code is None or not fold(code):
        return Judgement(verdict=Verdict.MISSING)
    if judge.layout is None:
        return Judgement(verdict=Verdict.AFFECTED, rule=ALL_UNTIL_CLEARED)
    reading = read(judge.layout, code)
    if not isinstance(reading, Parsed):
        if not reading.foreign:
            return Judgement(verdict=Verdict.UNREADABLE)
        return Judgement(verdict=Verdict.FOREIGN, near=_near(judge, judge.layout, reading.twin))
    rule = _rule_for(judge, reading.fields)
    if rule:
        return Judgement(verdict=Verdict.AFFECTED, rule=rule)
    near = _near(judge, judge.layout, reading.code_key)
    return Judgement(verdict=Verdict.CLEARED, why="by code", near=near)


def _near(judge: Judge, layout: Layout, key: str) -> bool:
    """Tell whether *key* or a key one slip from it is an affected one."""
    readings = (read(layout, near_by) for near_by in (key, *slips(layout, key)))
    return any(isinstance(reading, Parsed) and _rule_for(judge, reading.fields) for reading in readings)


def _rule_for(judge: Judge, fields: Mapping[str, Value]) -> str:
    """Return the name of the first rule that makes the code an affected one, "" where none does."""
    if not judge.rules:
        return ALL_UNTIL_CLEARED
    for name, conditions in judge.decoded:
        if all(condition.holds(fields) for condition in conditions):
            return name
    return OTHERWISE if judge.otherwise == "affected" else ""


def _conditions(rule: Rule, parts: tuple[Part, ...]) -> Iterator[Condition]:
    """Yield the conditions that can be decided; any other must not let a unit go."""
    kinds = {part.name: part.kind for part in parts if part.kind != "text"}
    year = next((part.name for part in parts if part.kind == "iso_year"), "")
    for name, ends in rule.ranges.items():
        first, last = (_decoded(kinds.get(name), bool(year), end) for end in ends)
        if first is not None and last is not None:  # ends the wrong way round still mean what lies between
            yield Condition(
                fields=_fields(kinds[name], name, year), ends=(min(first, last), max(first, last))
            )
    for name, values in rule.values.items():
        wanted = [_decoded(kinds.get(name), bool(year), value) for value in values]
        known = tuple(value for value in wanted if value is not None)
        if known and len(known) == len(wanted):
            yield Condition(fields=_fields(kinds[name], name, year), values=known)


def _fields(kind: str, name: str, year: str) -> tuple[str, ...]:
    return (year, name) if kind == "iso_week" and year else (name,)


def _decoded(kind: str | None, dated: bool, value: Value) -> _Place | None:  # noqa: FBT001 - private, two uses
    """Return *value* as the field holds it, or None where the field cannot hold it."""
    folded = fold(str(value))
    if kind == "one_of":
        return (folded,)
    if kind == "iso_week" and dated:
        return read_week(folded)
    if kind == "iso_year":
        year = read_year(folded)
        return None if year is None else (year,)
    return (int(folded),) if kind and folded.isdecimal() else None
