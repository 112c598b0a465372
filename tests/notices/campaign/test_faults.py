"""Every error that the models can raise is said in our words, and no sentence of pydantic's reaches anybody."""

import ast
from collections.abc import Iterator, Mapping
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from pydantic import ValidationError
from pydantic_core import ErrorDetails

from notices.campaign import faults, product, scalars
from notices.campaign.loading import load
from notices.campaign.models import Campaign
from tests.stove import WHOLE

# What each kind of schema raises for values that a YAML file can hold, in strict mode (pydantic's documentation,
# "Validation errors"). A kind that is not here fails the walk: nobody has looked at it yet.
_RAISES: Mapping[str, tuple[str, ...]] = {
    "model": ("model_type",),
    "model-fields": ("missing", "extra_forbidden"),
    "model-field": (),
    "default": (),
    "nullable": (),
    "any": (),
    "str": ("string_type", "string_unicode"),
    "int": ("int_type",),
    "bool": ("bool_type",),
    "date": ("date_type",),
    "literal": ("literal_error",),
    "tuple": ("tuple_type",),
    "dict": ("dict_type",),
    "function-after": (),  # ours: collected from the source
    "definitions": (),
    "definition-ref": (),
}
_RAISED_BY_A_LIMIT = {
    "max_length": "string_too_long",
    "pattern": "string_pattern_mismatch",
    "ge": "greater_than_equal",
    "le": "less_than_equal",
}
_LIMITS_UNUSED = {"min_length", "gt", "lt", "multiple_of", "allow_inf_nan"}


def _nodes(schema: object) -> Iterator[Mapping[str, Any]]:
    """Yield every schema inside a core schema; metadata and serialization raise nothing on reading."""
    if isinstance(schema, dict):
        if "type" in schema:
            yield schema
        for key, inner in schema.items():
            if key not in {"metadata", "serialization", "cls", "function", "config"}:
                yield from _nodes(inner)
    elif isinstance(schema, list | tuple):
        for inner in schema:
            yield from _nodes(inner)


def _ours() -> set[str]:
    """Return the types of error that our own validators raise."""
    found = set()
    for module in (scalars, product):
        for node in ast.walk(ast.parse(Path(str(module.__file__)).read_text("utf-8"))):
            if isinstance(node, ast.Call) and getattr(node.func, "id", "") == "PydanticCustomError":
                assert isinstance(node.args[0], ast.Constant)
                found.add(str(node.args[0].value))
    return found


def _possible() -> set[str]:
    """Return every type of error that reading a campaign can raise."""
    found = _ours()
    for node in _nodes(Campaign.__pydantic_core_schema__):
        found.update(_RAISES[node["type"]])
        if node["type"] in {"str", "int"}:
            assert not _LIMITS_UNUSED & node.keys()
            found.update(error for limit, error in _RAISED_BY_A_LIMIT.items() if limit in node)
    return found


_HALF = "\ud800"
_FAULTS: Mapping[str, tuple[Mapping[str, object], str]] = {
    "missing": ({"issuer": {}}, "key-missing"),
    "extra_forbidden": ({"x": 1}, "key-unknown"),
    "model_type": ({"hours": "all day"}, "part-form"),
    "dict_type": ({"markets": ("EU",)}, "part-form"),
    "tuple_type": ({"cautions": "Stop"}, "list-form"),
    "string_type": ({"share": 1}, "text-form"),
    "string_too_long": ({"share": "a" * 4001}, "text-too-long"),
    "string_unicode": ({"share": _HALF}, "text-sign"),
    "string_pattern_mismatch": ({"language": "?"}, "value-form"),
    "text_blank": ({"share": "  "}, "text-blank"),
    "text_hidden_sign": ({"share": "a\u202eb"}, "text-sign"),
    "int_type": ({"saying": "1"}, "number-form"),
    "greater_than_equal": ({"saying": 0}, "number-range"),
    "less_than_equal": ({"saying": 10**12}, "number-range"),
    "bool_type": ({"contacts": ({"countries": (), "free": "yes"},)}, "true-false-form"),
    "date_type": ({"next_word": "tomorrow"}, "day-form"),
    "literal_error": ({"otherwise": "clear"}, "choice-unknown"),
    "field_value": ({"code": {"example": {"code": "A", "line": ("B",)}}}, "field-form"),
    "condition_form": ({"affected": ({"rule": "a", "week": ("2518", 2547)},)}, "condition-form"),
}


def _errors(value: Mapping[str, object]) -> list[ErrorDetails]:
    whole = {"issuer": {"name": "F"}, "product": {"name": "E"}, **value}
    with pytest.raises(ValidationError) as caught:
        Campaign.model_validate(whole, by_alias=True, by_name=False)
    return caught.value.errors(include_url=False)


def test_every_error_that_reading_can_raise_has_words_of_ours() -> None:
    assert sorted(faults.FAULTS) == sorted(_possible())


def test_every_error_that_reading_can_raise_is_tried_here() -> None:
    assert sorted(_FAULTS) == sorted(_possible())


@pytest.mark.parametrize("error", sorted(_FAULTS))
def test_no_sentence_of_pydantics_reaches_the_user(error: str) -> None:
    value, code = _FAULTS[error]
    [details] = _errors(value)
    line = 7
    finding = faults.finding(details, dict.fromkeys(value, line), None, "campaign.yaml")

    assert (details["type"], finding.code, finding.line) == (error, code, line)
    assert details["msg"] not in str(finding)
    assert "nput should" not in str(finding)
    assert "{" not in finding.message + finding.mend.replace("{field: ", "").replace("{text: ", "")


def _wrong_values() -> list[object]:
    return [
        0,
        -1,
        10**30,
        0.5,
        True,
        date(2026, 1, 1),
        "",
        _HALF,
        "\0",
        "{x}",
        (),
        ((),),
        ({},),
        {},
        {"a": {}},
    ]


def _places(value: object, place: tuple[str | int, ...] = ()) -> Iterator[tuple[str | int, ...]]:
    yield place
    if isinstance(value, dict):
        for key, inner in value.items():
            yield from _places(inner, (*place, key))
    elif isinstance(value, tuple):
        for at, inner in enumerate(value):
            yield from _places(inner, (*place, at))


def _replaced(value: object, place: tuple[str | int, ...], new: object) -> object:
    if not place:
        return new
    step, rest = place[0], place[1:]
    if isinstance(value, dict):
        return {key: _replaced(inner, rest, new) if key == step else inner for key, inner in value.items()}
    assert isinstance(value, tuple)
    return tuple(_replaced(inner, rest, new) if at == step else inner for at, inner in enumerate(value))


def _plain() -> object:
    """Return what a file holds: as dumped for Python, but with the keys of the file."""
    campaign = load(WHOLE).campaign
    assert campaign is not None
    return campaign.model_dump(by_alias=True, exclude_none=True)


def test_whatever_stands_wherever_only_known_errors_are_raised() -> None:
    whole = _plain()
    raised = set()
    seen: set[tuple[str | int, ...]] = set()  # one place of each kind, not every step of a list
    for place in _places(whole):
        kind = tuple(step if isinstance(step, str) else 0 for step in place)
        if kind in seen:
            continue
        seen.add(kind)
        for wrong in _wrong_values():
            try:
                Campaign.model_validate(_replaced(whole, place, wrong), by_alias=True, by_name=False)
            except ValidationError as error:
                for details in error.errors(include_url=False):
                    raised.add(details["type"])
                    said = str(faults.finding(details, {}, None, "campaign.yaml"))
                    assert details["msg"] not in said

    assert raised <= faults.FAULTS.keys()


def test_an_error_of_a_later_pydantic_is_still_said_in_our_words() -> None:
    error = {"type": "not_known_yet", "loc": ("share",), "input": {"a": 1}, "msg": "Something English"}

    assert str(faults.finding(error, {"share": 3}, None, "campaign.yaml")) == (
        "campaign.yaml:3: must mend [value-form] share: a part with keys does not fit “share”"
        "\n    mend: look at the examples in the new folder"
    )


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (
            "share: [a]\n",
            "“share” takes a text, but a list stands there\n    mend: write one text; lists are",
        ),
        (
            "share: {a: b}\n",
            "“share” takes a text, but a part with keys stands there\n    mend: write one text,",
        ),
        (
            "free: true\n",
            "“free” takes a text, but true (YAML reads it as yes) stands there\n    mend: put it in",
        ),
        ("cautions: Stop\n", "“cautions” takes a list, but “Stop” stands there"),
        ("cautions: [Stop, 5]\n", "cautions[1]: “cautions” takes a text, but 5 (YAML reads it as a number)"),
        ("hours: always\n", "keys of its own belong under “hours”, but “always” stands there"),
        ("saying: 0\n", "0 is too small: “saying” is at least 1\n    mend: write a number from 1 on"),
        ("saying: 9999999999\n", "9999999999 is too large: “saying” is at most 1000000000"),
        (
            "language: deutsch!\n",
            "“deutsch!” is not written as “language” must be\n    mend: write the language as",
        ),
        ("contacts: [{countries: [Ireland]}]\n", "mend: write the two capital letters of the country, as IE"),
        ("product: {name: E, price: {cents: 1, currency: Euro}}\n", "three capital letters of the currency"),
        ("hours: {days: [mon], from: 8:00, to: '09:00'}\n", 'mend: write the time in quotes, as "08:00"'),
        (
            "remedies: {Neues Ventil: {kind: repair}}\n",
            "remedies.Neues Ventil: “Neues Ventil” is not written as",
        ),
        ("otherwise: Cleared\n", "mend: did you mean cleared? Possible: cleared, affected"),
        ("issuer: {name: F, role: boss}\n", "mend: write one of: maker, importer, dealer"),
        ("share: '  '\n", "share: the text is empty\n    mend: write it, or take the key out"),
        ('share: "a\\u0085b\\u0007"\n', "the text holds the sign U+0007, which no reader sees"),
        ("share: 'a\u2067b'\n", "the text holds the sign U+2067"),
        ("share: 'a\u2069b'\n", "the text holds the sign U+2069"),
    ],
)
def test_each_fault_says_what_stands_there_and_how_to_mend_it(text: str, said: str) -> None:
    names = "".join(f"{key}: {{name: X}}\n" for key in ("issuer", "product") if not text.startswith(key))
    [finding] = load(names + text).findings

    assert (said in str(finding), finding.line) == (True, names.count("\n") + 1)


def test_closed_isolates_are_let_through() -> None:
    text = "a \u2067b\u2069 c"
    campaign = load(f"issuer: {{name: F}}\nproduct: {{name: E}}\nshare: '{text}'\n").campaign
    assert campaign is not None

    assert campaign.share == text


def test_a_long_value_is_shown_short() -> None:
    [finding] = load(f"issuer: {{name: F}}\nproduct: {{name: E}}\nlanguage: {'x' * 500}\n").findings

    assert finding.message == f"“{'x' * 60}…” is not written as “language” must be"
