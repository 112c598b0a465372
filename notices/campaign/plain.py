"""What an unquoted value means (YAML 1.2.2, section 10.3.2, core schema; days by ISO 8601)."""

import re
from collections.abc import Callable
from contextlib import suppress
from datetime import date

_LONGEST_NUMBER = 40  # digits; Python refuses to read a number of more than 4300
_DAY = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")
_ZERO_FIRST = re.compile(r"[-+]?0[0-9]+")


def _float(raw: str) -> float:
    return float(raw.lower().replace(".inf", "inf").replace(".nan", "nan"))


# The first that fits wins. A day is not in the core schema; YYYY-MM-DD alone is one.
_FORMS: tuple[tuple[re.Pattern[str], Callable[[str], object]], ...] = (
    (re.compile(r"null|Null|NULL|~|"), lambda _: None),
    (re.compile(r"true|True|TRUE"), lambda _: True),
    (re.compile(r"false|False|FALSE"), lambda _: False),
    (re.compile(r"[-+]?[0-9]+"), int),
    (re.compile(r"0o[0-7]+"), lambda raw: int(raw, 0)),
    (re.compile(r"0x[0-9a-fA-F]+"), lambda raw: int(raw, 0)),
    (re.compile(r"[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]+)?"), _float),
    (re.compile(r"[-+]?(\.inf|\.Inf|\.INF)"), _float),
    (re.compile(r"\.nan|\.NaN|\.NAN"), _float),
    (_DAY, date.fromisoformat),
)


def meant(raw: str) -> object:
    """Return nothing, true, false, a number or a day where the signs mean one, else the text.

    A day that the calendar does not have, and a number longer than any that is meant, stay text.
    """
    if len(raw) > _LONGEST_NUMBER:
        return raw
    for form, made in _FORMS:
        if form.fullmatch(raw):
            with suppress(ValueError):
                return made(raw)
    return raw


def is_impossible_day(raw: str) -> bool:
    """Tell whether this is written as a day, and the calendar has none like it."""
    return bool(_DAY.fullmatch(raw)) and isinstance(meant(raw), str)


def loses_zero(raw: str) -> bool:
    """Tell whether a number begins with a zero: nobody who writes 0818 means 818."""
    return len(raw) <= _LONGEST_NUMBER and bool(_ZERO_FIRST.fullmatch(raw))
