"""What is wrong with a value that does not fit its key: our words for every error the models can raise."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from difflib import get_close_matches
from typing import Any

from audiences.findings import Finding
from notices.campaign.looking import line_of
from notices.campaign.models import Campaign
from notices.campaign.shape import Place, keys, part_at, path_of
from notices.campaign.syntax import shown


@dataclass(frozen=True, kw_only=True, slots=True)
class Fault:
    """Our words for one type of error; ``{…}`` takes what was found, what is allowed, and the key."""

    code: str
    message: str
    mend: str = ""


FAULTS: Mapping[str, Fault] = {
    "missing": Fault(
        code="key-missing", message="this is needed and not there", mend="add the key {key} and its value"
    ),
    "extra_forbidden": Fault(code="key-unknown", message="the key {key} is not known here", mend="{near}"),
    "model_type": Fault(
        code="part-form",
        message="keys of its own belong under {key}, but {found} stands there",
        mend="write each key on a line of its own below, set in by two spaces",
    ),
    "dict_type": Fault(
        code="part-form",
        message="keys of its own belong under {key}, but {found} stands there",
        mend="write each key on a line of its own below, set in by two spaces",
    ),
    "tuple_type": Fault(
        code="list-form",
        message="{key} takes a list, but {found} stands there",
        mend="write [one, two], or one line with a dash for each",
    ),
    "string_type": Fault(
        code="text-form", message="{key} takes a text, but {found} stands there", mend="{quotes}"
    ),
    "string_too_long": Fault(
        code="text-too-long",
        message="the text is longer than {max_length} signs",
        mend="say it in fewer words, or in several steps",
    ),
    "string_unicode": Fault(
        code="text-sign",
        message="the text holds half of a sign (a lone surrogate)",
        mend="type the sign again",
    ),
    "string_pattern_mismatch": Fault(
        code="value-form", message="{found} is not written as {key} must be", mend="{form}"
    ),
    "text_blank": Fault(code="text-blank", message="the text is empty", mend="write it, or take the key out"),
    "text_hidden_sign": Fault(
        code="text-sign",
        message="the text holds the sign {sign}, which no reader sees or which turns the text around",
        mend="delete it, or type the text again",
    ),
    "int_type": Fault(
        code="number-form",
        message="{key} takes a whole number, but {found} stands there",
        mend="write digits alone, without quotes, point or unit",
    ),
    "greater_than_equal": Fault(
        code="number-range",
        message="{signs} is too small: {key} is at least {ge}",
        mend="write a number from {ge} on",
    ),
    "less_than_equal": Fault(
        code="number-range",
        message="{signs} is too large: {key} is at most {le}",
        mend="write a number up to {le}",
    ),
    "bool_type": Fault(
        code="true-false-form",
        message="{key} takes true or false, but {found} stands there",
        mend="write true for yes or false for no, without quotes",
    ),
    "date_type": Fault(
        code="day-form",
        message="{key} takes a day, but {found} stands there",
        mend="write year, month and day without quotes, as 2026-03-31",
    ),
    "literal_error": Fault(code="choice-unknown", message="{found} is no choice for {key}", mend="{choices}"),
    "field_value": Fault(
        code="field-form",
        message="a field takes a text or a whole number, but {found} stands there",
        mend="{quotes}",
    ),
    "condition_form": Fault(
        code="condition-form",
        message="a condition is one value, or a list of texts or of whole numbers",
        mend='write the first and the last of the range, both in quotes: ["2518", "2547"]',
    ),
}
"""By the error's type. A type that is not here cannot be raised; a test walks the models and holds that."""

_OTHERWISE = Fault(
    code="value-form", message="{found} does not fit {key}", mend="look at the examples in the new folder"
)

_FORMS: Mapping[str, str] = {
    "[A-Z]{2}$": "write the two capital letters of the country, as IE (ISO 3166)",
    "[A-Z]{3}$": "write the three capital letters of the currency, as EUR (ISO 4217)",
    "(-[A-Za-z0-9]{1,8})": "write the language as en, de or pt-BR (BCP 47)",
    "(0[1-9]|1[0-2])$": "write year and month, as 2025-05",
    "[0-5][0-9]$": 'write the time in quotes, as "08:00"',
    "{0,39}$": "use letters without accents, digits, hyphens and underscores, at most 40",
}


def finding(error: Mapping[str, Any], lines: Mapping[str, int], written: str | None, file: str) -> Finding:
    """Say in our words what pydantic found; *written* holds the very signs of an unquoted value."""
    place = tuple(step for step in error["loc"] if step != "[key]")
    fault = FAULTS.get(error["type"], _OTHERWISE)
    code = fault.code
    context = error.get("ctx", {})
    values = {
        **{name: str(value) for name, value in context.items()},
        "key": _key(place),
        "signs": written or str(error["input"]),
        "found": found(error["input"], written),
        "quotes": _quotes(error["input"]),
        "near": _near(place),
        "form": _form(str(context.get("pattern", ""))),
        "choices": _choices(str(context.get("expected", "")), error["input"]),
    }
    return Finding(
        code=code,
        file=file,
        line=line_of(path_of(place), lines),
        path=path_of(place),
        message=fault.message.format_map(values),
        mend=fault.mend.format_map(values),
    )


def found(value: object, written: str | None) -> str:
    """Say what stands there, as somebody who wrote the file would see it."""
    if isinstance(value, str):
        return shown(value)
    signs = written if written is not None else str(value)
    if isinstance(value, bool):
        return f"{signs} (YAML reads it as {'yes' if value else 'no'})"
    if isinstance(value, int | float):
        return f"{signs} (YAML reads it as a number)"
    if isinstance(value, date):
        return f"{signs} (YAML reads it as a day)"
    return "a list" if isinstance(value, tuple) else "a part with keys"


def _key(place: Place) -> str:
    """Name the last key on the way; an item of a list goes by its list's."""
    return next((shown(step) for step in reversed(place) if isinstance(step, str)), "the file")


def _quotes(value: object) -> str:
    if isinstance(value, tuple):
        return "write one text; lists are not possible here"
    if isinstance(value, dict):
        return "write one text, and put it in quotes if it holds a colon or begins with a bracket"
    return "put it in quotes"


def _near(place: Place) -> str:
    """Ask whether a known key was meant."""
    known = keys(part_at(Campaign, place[:-1]) or Campaign)
    close = get_close_matches(str(place[-1]) if place else "", known, n=1)
    if close:
        return f"did you mean {close[0]}?"
    return f"take it out; known here: {', '.join(known)}"


def _form(pattern: str) -> str:
    return next((form for part, form in _FORMS.items() if part in pattern), "")


def _choices(expected: str, value: object) -> str:
    """List the choices, and ask whether a close one was meant."""
    choices = [choice.strip("'") for part in expected.split(" or ") for choice in part.split(", ")]
    close = get_close_matches(str(value).lower(), [choice.lower() for choice in choices], n=1)
    if close:
        meant = next(choice for choice in choices if choice.lower() == close[0])
        return f"did you mean {meant}? Possible: {', '.join(choices)}"
    return f"write one of: {', '.join(choices)}"
