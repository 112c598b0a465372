"""What ``risk.toml`` says: the scenarios, in a form of our own, or every fault in it with its line."""

import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction

from audiences.cleaning import one_line
from audiences.findings import Finding, must_mend
from notices.figures import risk_faults as faults
from notices.figures.risk import Scenario, Step
from notices.figures.risk_faults import LARGEST, MOST_STEPS, Place
from notices.figures.risk_matrix import HIGHEST_SEVERITY, LOWEST_SEVERITY
from notices.figures.risk_starter import EXAMPLES

FILE = "risk.toml"

_TOP = ("scenario",)
_SCENARIO = ("happens", "severity", "severity_reason", "step")
_STEP = ("happens", "probability", "reason")
_LONGEST_KEY = 60
_HEADER = re.compile(r"\s*\[\[?\s*[\"']?scenario[\"']?\s*(\.\s*[\"']?step[\"']?\s*)?\]")
_KEY = re.compile(r"\s*[\"']?([^\s\"'=.\[\]#]+)[\"']?\s*[=.]")
# A plain decimal, as TOML or a person writes it, or two whole numbers with "/" or "in" between; bounded, so that
# no number is longer than a line to reckon with.
_DECIMAL = re.compile(r"([0-9]{1,9}(?:\.[0-9]{1,18})?(?:[eE]-[0-9]{1,2})?)\s*(%?)")
_RATIO = re.compile(r"([0-9]{1,12})\s*(?:/|in)\s*([0-9]{1,12})")

_Where = tuple[int | None, int | None, str]
"""A scenario, a step in it and a key; "" is the header of either."""


def read(data: bytes, file: str = FILE) -> tuple[tuple[Scenario, ...], tuple[Finding, ...]]:
    """Return the scenarios, one at least, or none where anything must be mended; and every finding with its line."""
    if len(data) > LARGEST:
        return (), (faults.too_large(Place(file=file, line=None)),)
    text = data.decode("utf-8-sig", "replace").replace("\r\n", "\n")
    try:
        # A decimal number stays as it was written: 0.02 is 1/50, and not what binary makes of it.
        found = tomllib.loads(text, parse_float=str)
    except (ValueError, RecursionError) as fault:  # a whole number of thousands of digits is a ValueError too
        place = re.search(r"\(at line (\d+)", str(fault))
        line = int(place[1]) if place else len(text.split("\n"))
        return (), (faults.not_toml(Place(file=file, line=line)),)
    reading = _Reading(file=file, lines=_lines(text))
    scenarios = reading.scenarios(found)
    return () if must_mend(reading.findings) else scenarios, tuple(reading.findings)


def probability(value: object) -> Fraction | None:
    """Return what 1, ``0.02``, ``2 %``, ``1/50`` or ``1 in 50`` say, exactly; None where it is not in 0 < p <= 1."""
    if isinstance(value, int) and not isinstance(value, bool):
        return Fraction(1) if value == 1 else None
    text = value.strip() if isinstance(value, str) else ""
    found = Fraction(0)
    if (decimal := _DECIMAL.fullmatch(text)) is not None:
        found = Fraction(decimal[1]) / (100 if decimal[2] else 1)
    elif (ratio := _RATIO.fullmatch(text)) is not None and int(ratio[2]):
        found = Fraction(int(ratio[1]), int(ratio[2]))
    return found if 0 < found <= 1 else None


def _lines(text: str) -> Mapping[_Where, int]:
    """Return where headers and keys stand; what is inside a text of several lines is none."""
    found: dict[_Where, int] = {}
    scenario: int | None = None
    step: int | None = None
    inside = ""
    for number, line in enumerate(text.split("\n"), 1):
        if inside:
            inside = "" if line.count(inside) % 2 else inside
            continue
        if header := _HEADER.match(line):
            if header[1] is None:
                scenario, step = (0 if scenario is None else scenario + 1), None
            else:
                step = 0 if step is None else step + 1
            found.setdefault((scenario, step, ""), number)
        elif key := _KEY.match(line):
            found.setdefault((scenario, step, key[1]), number)
        inside = next((mark for mark in ('"""', "'''") if line.count(mark) % 2), "")
    return found


@dataclass(slots=True)
class _Reading:
    """One file on its way to scenarios, and what was found."""

    file: str
    lines: Mapping[_Where, int]
    findings: list[Finding] = field(default_factory=list)

    def at(self, scenario: int | None, step: int | None, key: str) -> Place:
        """Return the place of a key; one that is not written has the line of the table that lacks it."""
        first = ((scenario, None, "step"), (scenario, 0, "")) if key == "step" else ()
        tries: tuple[_Where, ...] = (
            *first,
            (scenario, step, key),
            (scenario, step, ""),
            (scenario, None, "step"),
            (scenario, None, ""),
            (0, None, ""),
            (None, None, "scenario"),
        )
        lines = (self.lines.get(one) for one in tries)
        parts = (
            "" if scenario is None else f"scenario[{scenario}]",
            "" if step is None else f"step[{step}]",
            key if key.isascii() and key.isprintable() else ascii(key).strip("'"),
        )
        return Place(
            file=self.file,
            line=next((line for line in lines if line is not None), None),
            path=".".join(filter(None, parts)),
        )

    def scenarios(self, found: Mapping[str, object]) -> tuple[Scenario, ...]:
        """Read the whole file."""
        self._unknown(found, _TOP, None, None)
        tables = self._tables(found.get("scenario", []), None, "scenario")
        if tables == []:
            self.findings.append(faults.scenario_missing(Place(file=self.file, line=1)))
        return tuple(self._scenario(table, place) for place, table in enumerate(tables or []))

    def _scenario(self, table: Mapping[str, object], place: int) -> Scenario:
        self._unknown(table, _SCENARIO, place, None)
        return Scenario(
            happens=self._happens(table, place, None),
            severity=self._severity(table, place),
            severity_reason=self._reason(table, place, None, "severity_reason"),
            steps=self._steps(table, place),
        )

    def _steps(self, table: Mapping[str, object], place: int) -> tuple[Step, ...]:
        tables = self._tables(table.get("step", []), place, "step")
        if tables is None:
            return ()
        if not tables:
            self.findings.append(faults.steps_missing(self.at(place, None, "step")))
        elif len(tables) > MOST_STEPS:
            self.findings.append(faults.steps_too_many(self.at(place, None, "step"), len(tables)))
        return tuple(self._step(step, place, number) for number, step in enumerate(tables))

    def _step(self, table: Mapping[str, object], place: int, number: int) -> Step:
        self._unknown(table, _STEP, place, number)
        chance = probability(table.get("probability"))
        if chance is None:
            self.findings.append(faults.probability_unusable(self.at(place, number, "probability")))
        return Step(
            happens=self._happens(table, place, number),
            probability=chance or Fraction(1),
            reason=self._reason(table, place, number, "reason"),
        )

    def _tables(self, value: object, place: int | None, key: str) -> list[Mapping[str, object]] | None:
        """Return a list of tables, None beside a finding where the value is none."""
        if isinstance(value, list) and all(isinstance(one, dict) for one in value):
            return value
        header = "[[scenario]]" if place is None else "[[scenario.step]]"
        self.findings.append(faults.wrong_form(self.at(place, None, key), header))
        return None

    def _unknown(
        self, table: Mapping[str, object], known: tuple[str, ...], place: int | None, number: int | None
    ) -> None:
        for key in table:
            if key not in known:
                short = key[:_LONGEST_KEY]
                self.findings.append(faults.key_unknown(self.at(place, number, short), short, known))

    def _happens(self, table: Mapping[str, object], place: int, number: int | None) -> str:
        words = _words(table.get("happens"))
        if not words:
            self.findings.append(faults.words_missing(self.at(place, number, "happens")))
        elif words in EXAMPLES:
            self.findings.append(faults.example_kept(self.at(place, number, "happens")))
        return words

    def _reason(self, table: Mapping[str, object], place: int, number: int | None, key: str) -> str:
        words = _words(table.get(key))
        if not words:
            self.findings.append(faults.reason_missing(self.at(place, number, key), key))
        return words

    def _severity(self, table: Mapping[str, object], place: int) -> int:
        value = table.get("severity")
        if isinstance(value, int) and value is not True and LOWEST_SEVERITY <= value <= HIGHEST_SEVERITY:
            return value
        self.findings.append(faults.severity_unusable(self.at(place, None, "severity")))
        return HIGHEST_SEVERITY


def _words(value: object) -> str:
    return one_line(value) if isinstance(value, str) else ""
