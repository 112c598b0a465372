"""The answers to the fourteen questions, read from the lines that somebody typed."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from audiences import addresses
from audiences.cleaning import one_line
from audiences.findings import Finding
from notices.campaign.asks import LATEST_NEXT_WORD, NEXT_WORD_DAYS, UNKNOWN, Ask
from notices.campaign.questions import ASKS

Value = str | int | date | tuple[str, ...] | None
"""What was answered, by the kind of what was asked; None is not yet known."""

Given = Mapping[str, Sequence[str]]
"""The lines that were typed, by the key of what was asked."""

FILE = "answers.toml"  # its name in the folder that it began
_LONGEST = 600  # signs; our own words come beside it in one text, and a text has 4000
_MOST = 40
_FEWEST_CODES, _MOST_CODES = 3, 20
_MOST_SOLD = 1_000_000_000_000
_COUNTRY = re.compile(r"[A-Z]{2}")
_MONTH = re.compile(r"[0-9]{4}-(0[1-9]|1[0-2])")
_DAY = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")
# What is not known to have happened is never taken for not having happened.
_DENIAL = re.compile(
    r"(no|none|not|nothing|nobody|never|zero|0|-)"
    r"(\W*|\W.{0,60}\b(accidents?|incidents?|injur\w*|harm\w*|hurt|reports?|reported|cases?|complaints?|known|yet|far)\W*)",
    re.IGNORECASE,
)
_NOTHING = re.compile(r"(no|none|nothing)\b.{0,60}", re.IGNORECASE)


class Answers(dict[str, Value]):
    """Each answer by its key; all of them are there."""

    def text(self, key: str) -> str | None:
        """Return an answer of one line; None where it is not yet known."""
        value = self[key]
        return value if isinstance(value, str) else None

    def lines(self, key: str) -> tuple[str, ...]:
        """Return an answer of several lines; none where it is not yet known."""
        value = self[key]
        return value if isinstance(value, tuple) else ()

    def day(self, key: str) -> date | None:
        """Return a day; None where it is not yet known."""
        value = self[key]
        return value if isinstance(value, date) else None


class UnfitError(ValueError):
    """Raised with a sentence on what is wrong with one answer; it is asked again, or named in the file."""


def is_asked(ask: Ask, answered: Mapping[str, Value]) -> bool:
    """Say whether *ask* is to be asked after what was *answered* before it."""
    if ask.key == "layout":
        return bool(answered.get("codes"))
    return ask.only_if is None or answered.get(ask.only_if[0]) == ask.only_if[1]


def read(ask: Ask, typed: Sequence[str], today: date) -> Value:
    """Return the answer that the *typed* lines give; raise UnfitError with what is wrong with them.

    No line at all is the default, where there is one. Signs that nobody sees are taken out.
    """
    longest = max((len(line) for line in typed), default=0)
    if longest > _LONGEST:
        raise UnfitError(f"this has {longest} signs; {_LONGEST} are the most")
    lines = tuple(filter(None, map(plain, typed)))
    if len(lines) > _MOST:
        raise UnfitError(f"these are {len(lines)} lines; {_MOST} are the most")
    if lines == (UNKNOWN,):
        return today + timedelta(days=NEXT_WORD_DAYS) if ask.kind == "next_word" else None
    if not lines:
        return _default(ask, today)
    if ask.several:
        return _several(ask, lines)
    if len(lines) > 1:
        raise UnfitError("write it on one line")
    return _single(ask, lines[0], today)


def plain(line: str) -> str:
    """Return a line without controls, and without what would open a placeholder; a second time changes nothing."""
    cleaned = one_line(line).replace("%(", "% (")
    return cleaned if cleaned == line else plain(cleaned)


def _default(ask: Ask, today: date) -> Value:
    if ask.kind == "next_word":
        return today + timedelta(days=NEXT_WORD_DAYS)
    if ask.kind == "signs":
        return ()
    if ask.default is None:
        raise UnfitError("write an answer, or ? where it is not yet known")
    return ask.default


def _several(ask: Ask, lines: tuple[str, ...]) -> Value:
    if ask.kind == "incidents":
        return tuple(line for line in lines if not _DENIAL.fullmatch(line)) or None
    if ask.kind == "signs":
        return () if len(lines) == 1 and _NOTHING.fullmatch(lines[0]) else lines
    if ask.kind == "codes" and not _FEWEST_CODES <= len(set(lines)) <= _MOST_CODES:
        raise UnfitError(
            f"{len(set(lines))} codes show too little; copy three to twenty, from different units"
        )
    if ask.kind == "countries":
        return tuple(
            dict.fromkeys(_country(part) for line in lines for part in re.split(r"[,;\s]+", line) if part)
        )
    if ask.kind == "phones":
        return tuple(map(_phone, lines))
    return lines


def _single(ask: Ask, line: str, today: date) -> Value:
    if ask.kind == "choice":
        return _choice(ask, line)
    if ask.kind == "country":
        return _country(line)
    if ask.kind in {"day", "next_word"}:
        return _day(ask, line, today)
    if ask.kind == "month" and not _MONTH.fullmatch(line):
        raise UnfitError("write year and month, as 2025-03")
    if ask.kind == "number":
        return _number(line)
    if ask.kind == "email":
        return _email(line)
    return line


def _choice(ask: Ask, line: str) -> str:
    found = [choice for choice in ask.choices if choice.startswith(line.casefold())]
    exact = [choice for choice in found if choice == line.casefold()] or found
    if len(exact) != 1:
        raise UnfitError(f"write one of: {', '.join(ask.choices)}")
    return exact[0]


def _country(line: str) -> str:
    code = line.strip().upper()
    if not _COUNTRY.fullmatch(code):
        raise UnfitError(f"{line}: write a country as two letters (ISO 3166), as GB, DE or PL")
    return "GB" if code == "UK" else code


def _phone(line: str) -> str:
    """Return country and number, parted by a space; the country alone where owners are called back."""
    country = _country(line[:2])
    number = line[2:].strip(" :=-")
    if not number:
        return country
    point = addresses.phone(number, country)
    if point.fault or not point.value:
        fault = addresses.FAULTS[point.fault or "phone-not-a-number"]
        raise UnfitError(f"{line}: this is no usable telephone number: {fault}")
    return f"{country} {point.value}"


def _day(ask: Ask, line: str, today: date) -> date:
    try:
        day = date.fromisoformat(line) if _DAY.fullmatch(line) else None
    except ValueError:
        day = None
    if day is None:
        raise UnfitError(f"write the day as year, month and day, as {today}")
    if ask.kind == "next_word":
        latest = today + timedelta(days=LATEST_NEXT_WORD)
        if not today < day <= latest:
            raise UnfitError(
                f"write a day after today, {latest} at the latest; the word may be that nothing is new"
            )
    elif day > today:
        raise UnfitError(f"{day} is still to come; today is {today}")
    return day


def _number(line: str) -> int:
    digits = re.sub(r"[\s.,']", "", line)
    if (
        not (digits.isascii() and digits.isdigit() and len(digits) <= len(str(_MOST_SOLD)))
        or int(digits) > _MOST_SOLD
    ):
        raise UnfitError("write a whole number, or ? where it is not yet known")
    return int(digits)


def _email(line: str) -> str:
    point = addresses.email(line)
    if point.fault:
        raise UnfitError(f"this is no usable e-mail address: {addresses.FAULTS[point.fault]}")
    return line


@dataclass(frozen=True, kw_only=True, slots=True)
class Filled:
    """All answers, None where one is unfit; and a finding for each that is."""

    answers: Answers | None
    findings: tuple[Finding, ...]


def fill(given: Given, today: date, lines: Mapping[str, int] | None = None) -> Filled:
    """Return every answer: what is *given*, else the default, else not yet known; *lines* of the file by key."""
    answers = Answers()
    findings: list[Finding] = []
    for ask in ASKS:
        answers[ask.key] = None
        if not is_asked(ask, answers):
            continue
        typed = given.get(ask.key, () if ask.default is not None else (UNKNOWN,))
        try:
            answers[ask.key] = read(ask, typed, today)
        except UnfitError as fault:
            findings.append(
                Finding(
                    code="answer-unfit",
                    file=FILE,
                    line=(lines or {}).get(ask.key),
                    path=ask.key,
                    message=str(fault),
                    mend="correct it in the file, or write ?",
                )
            )
    return Filled(answers=None if findings else answers, findings=tuple(findings))
