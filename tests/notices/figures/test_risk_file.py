"""Reading risk.toml: all that is wrong at once, with its line, and nothing that breaks it."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from audiences.findings import Finding
from notices.figures.risk import risk
from notices.figures.risk_faults import LARGEST
from notices.figures.risk_file import probability, read
from notices.figures.risk_matrix import Level
from notices.figures.risk_starter import STARTER
from tests.hostile import hostile_texts

GOOD = """\
[[scenario]]
happens = "The stove leaks, and somebody is burnt."
severity = 3
severity_reason = "Two burns were treated in hospital (own file, 12 and 14)."

[[scenario.step]]
happens = "The valve has a crack."
probability = "3 in 40"
reason = "Three of forty cut open."

[[scenario.step]]
happens = "Gas meets a flame."
probability = 0.02
reason = "Own estimate."
"""


def found(text: str) -> list[tuple[str, int | None, str]]:
    """Return what is found in a file: code, line and path."""
    return [(one.code, one.line, one.path) for one in _findings(text)]


def _findings(text: str) -> tuple[Finding, ...]:
    return read(text.encode())[1]


def test_a_good_file_gives_its_scenarios_exactly() -> None:
    (one,), findings = read(GOOD.encode())

    assert findings == ()
    assert (one.happens, one.severity) == ("The stove leaks, and somebody is burnt.", 3)
    assert [step.probability for step in one.steps] == [Fraction(3, 40), Fraction(1, 50)]
    assert one.steps[0].reason == "Three of forty cut open."


def test_a_file_of_another_system_reads_the_same() -> None:
    assert read(b"\xef\xbb\xbf" + GOOD.replace("\n", "\r\n").encode()) == read(GOOD.encode())


def test_the_starter_is_read_judged_and_told_as_the_example_that_it_is() -> None:
    scenarios, findings = read(STARTER.encode())
    line = STARTER.split("\n").index("[[scenario]]") + 2

    assert {(one.code, one.severity) for one in findings} == {("risk-example-kept", "consider")}
    assert (findings[0].line, findings[0].path) == (line, "scenario[0].happens")
    assert len(findings) == 5
    assert risk(scenarios).level is Level.SERIOUS


def test_everything_is_said_at_once_each_with_its_line() -> None:
    text = """\
title = "Valve"
[[scenario]]
severity = 5
severity_reason = " "
note = \"\"\"
happens = "not a key, but text"
\"\"\"

[[scenario.step]]
happens = "The valve has a crack."
probability = 50
reson = "Own estimate."

[[scenario]]
happens = 7
severity = true
severity_reason = "Own estimate."
"""

    assert found(text) == [
        ("risk-key-unknown", 1, "title"),
        ("risk-key-unknown", 5, "scenario[0].note"),
        ("risk-words-missing", 2, "scenario[0].happens"),
        ("risk-severity-unusable", 3, "scenario[0].severity"),
        ("risk-reason-missing", 4, "scenario[0].severity_reason"),
        ("risk-key-unknown", 12, "scenario[0].step[0].reson"),
        ("risk-probability-unusable", 11, "scenario[0].step[0].probability"),
        ("risk-reason-missing", 9, "scenario[0].step[0].reason"),
        ("risk-words-missing", 15, "scenario[1].happens"),
        ("risk-severity-unusable", 16, "scenario[1].severity"),
        ("risk-steps-missing", 14, "scenario[1].step"),
    ]
    assert read(text.encode())[0] == ()


def test_a_misspelt_key_is_asked_back() -> None:
    (one,) = [each for each in _findings(GOOD.replace("reason = ", "reson = ", 1)) if "unknown" in each.code]

    assert one.mend == "did you mean severity_reason?"
    assert one.line == 4
    assert _findings('"\\u202Ex" = 1\n' + GOOD)[0].path == "\\u202ex"
    assert _findings("x = 1\n" + GOOD)[0].mend == "known here: scenario"


def test_one_bracket_is_no_list() -> None:
    step = GOOD.replace("[[scenario.step]]", "[scenario.step]", 1).split("[[scenario.step]]", maxsplit=1)[0]

    assert found("# mine\n[scenario]\n") == [("risk-wrong-form", 2, "scenario")]
    assert found(step) == [("risk-wrong-form", 6, "scenario[0].step")]
    assert found("scenario = 1") == [("risk-wrong-form", 1, "scenario")]


def test_a_scenario_on_one_line_has_that_line() -> None:
    assert found('\nscenario = [{happens = "x", severity = 1, severity_reason = "y"}]\n') == [
        ("risk-steps-missing", 2, "scenario[0].step")
    ]


@pytest.mark.parametrize("text", ["", "# nothing yet\n", "scenario = []\n"])
def test_no_scenario_is_no_level(text: str) -> None:
    assert found(text) == [("risk-scenario-missing", 1, "")]


def test_a_chain_without_end_is_refused() -> None:
    step = '[[scenario.step]]\nhappens = "x"\nprobability = 1\nreason = "y"\n'
    head = '[[scenario]]\nhappens = "x"\nseverity = 1\nseverity_reason = "y"\n'

    assert found(head + step * 20) == []
    assert found(head + step * 21) == [("risk-steps-too-many", 5, "scenario[0].step")]


@pytest.mark.parametrize(
    ("text", "line"),
    [
        (GOOD + "severity = = 2", 15),
        (GOOD.replace("severity = 3", "severity = 3\nseverity = 4"), 4),
        ("x = " + "[" * 50_000, 1),
        ("\n\nx = " + "9" * 5_000, 3),
        ("x = 'a\x00b'", 1),
    ],
)
def test_what_is_no_toml_is_told_with_its_line(text: str, line: int) -> None:
    assert found(text) == [("risk-not-toml", line, "")]


def test_a_file_that_is_no_list_of_scenarios_is_not_read() -> None:
    scenarios, (one,) = read(b"#" * (LARGEST + 1))

    assert (scenarios, one.code, one.line) == ((), "risk-file-too-large", None)


def test_bytes_of_another_encoding_never_break_it() -> None:
    (one,), findings = read(GOOD.encode().replace(b"stove", b"st\xf6ve"))

    assert one.happens.startswith("The st\ufffdve")
    assert findings == ()


@pytest.mark.parametrize(
    ("value", "expected"),
    [
        (1, "1"),
        ("1", "1"),
        ("0.02", "1/50"),
        ("2e-5", "1/50000"),
        ("2 %", "1/50"),
        ("0.1%", "1/1000"),
        ("1/50", "1/50"),
        (" 1 in 50 ", "1/50"),
        ("7/7", "1"),
    ],
)
def test_a_probability_is_read_as_it_is_written(value: object, expected: str) -> None:
    assert probability(value) == Fraction(expected)


@pytest.mark.parametrize(
    "value",
    [
        *(0, 2, -1, True, None, [], {}, 1.0),
        *("", "0", "0 %", "101 %", "3/2", "1/0", "0/5", "-1/2", "0,5", "1/1 000", "1/1,000", "1e9", "1."),
        *("nan", "inf", "1e-999999999", "\u0661/\u0662", "1/" + "9" * 30, "half", "50"),
    ],
)
def test_what_is_no_probability_is_none(value: object) -> None:
    assert probability(value) is None


@pytest.mark.property
@given(st.fractions(min_value=0, max_value=1, max_denominator=10**9))
def test_a_ratio_comes_back_as_it_went(drawn: Fraction) -> None:
    assert probability(str(drawn)) == (drawn or None)


@pytest.mark.property
@given(hostile_texts())
def test_whatever_is_written_is_read_or_told(text: str) -> None:
    """A fault is a finding with a file and a mend; what is read keeps no sign that could steer a terminal."""
    data = text.encode("utf-8", "surrogatepass")
    quoted = GOOD.encode().replace(b"Own estimate.", data)
    for raw in (data, quoted, GOOD.encode() + data):
        scenarios, findings = read(raw)

        assert scenarios or findings
        assert all(one.file and one.mend for one in findings)
        assert not any(
            sign in step.reason for one in scenarios for step in one.steps for sign in "\x1b\u202e\n"
        )


@pytest.mark.property
@given(st.binary(max_size=400))
def test_no_bytes_break_it(data: bytes) -> None:
    scenarios, findings = read(data)

    assert bool(scenarios) != any(one.severity == "must mend" for one in findings)
