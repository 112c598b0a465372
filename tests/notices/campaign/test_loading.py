"""A campaign file is read whole, or every fault in it is named with its line."""

import re
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from notices.campaign.loading import Loaded, is_aside, load
from tests.stove import WHOLE, changed

_NAMES = "issuer: {name: Fellbrook}\nproduct: {name: Emberling}\n"


def _said(text: str) -> list[str]:
    """Return each fault as it is printed."""
    return [str(finding) for finding in load(text).findings]


def _places(text: str) -> list[tuple[str, int | None, str]]:
    return [(finding.code, finding.line, finding.path) for finding in load(text).findings]


def test_two_names_are_enough() -> None:
    loaded = load(_NAMES)
    assert loaded.campaign is not None

    assert (loaded.campaign.issuer.name, loaded.campaign.product.name) == ("Fellbrook", "Emberling")


def test_the_line_of_every_key_is_known() -> None:
    assert load("issuer:\n  name: F\n  address: [A,\n    B]\nproduct:\n  name: E\n").lines == {
        "issuer": 1,
        "issuer.name": 2,
        "issuer.address": 3,
        "issuer.address[0]": 3,
        "issuer.address[1]": 4,
        "product": 5,
        "product.name": 6,
    }


def test_every_fault_of_the_file_is_said_at_once() -> None:
    text = changed(
        ("role: maker", "role: Hersteller"),
        ('"+442079460123"', "+442079460123"),
        ("free: false", "free: no"),
        ("from: 2025-03", "from: 2025-3"),
        ("cents: 7900", "cents: 79.00"),
        ("hidden: 4 ", "hidden: 0 "),
        ('["2514", "2533"]', "[0814, 2533]"),
        ("day: 2026-01-10", "day: 10.1.2026"),
        ("next_word: 2026-01-16", "next_word: 2026-02-30"),
        ("hazard:\n", "hasard:\n"),
    )

    found = [(code, text.split("\n")[line - 1].strip(), path) for code, line, path in _places(text) if line]

    assert [(code, path) for code, line, path in found] == [
        ("day-impossible", "next_word"),
        ("choice-unknown", "issuer.role"),
        ("true-false-form", "contacts[0].free"),
        ("text-form", "contacts[0].phone"),
        ("value-form", "product.sold.from"),
        ("number-form", "product.price.cents"),
        ("number-range", "code.hidden"),
        ("number-zero-first", "affected[0].week[0]"),
        ("key-unknown", "hasard"),
        ("day-form", "ledger[0].day"),
    ]
    wrong = (
        "2026-02-30",
        "Hersteller",
        "free: no",
        "+442079460123,",
        "2025-3",
        "79.00",
        "hidden: 0",
        "[0814",
        "hasard:",
        "10.1.2026",
    )
    assert all(piece in line for piece, (_, line, _) in zip(wrong, found, strict=True))


def test_a_key_with_nothing_after_it_is_left_out() -> None:
    loaded = load(_NAMES + "contacts:\nremedies:\naffected: ~\nfree: null\n")
    assert loaded.campaign is not None

    assert (loaded.campaign.contacts, loaded.campaign.remedies, loaded.campaign.free) == ((), None, None)


def test_a_needed_name_that_is_empty_is_missing_on_its_own_line() -> None:
    assert _places("product: {name: E}\nissuer:\n  role: maker\n  name:\n") == [
        ("key-missing", 4, "issuer.name")
    ]


def test_a_missing_part_is_missing() -> None:
    assert _places("# nothing yet\n") == [("key-missing", None, "issuer"), ("key-missing", None, "product")]


@pytest.mark.parametrize(
    ("text", "code", "line", "path"),
    [
        ("- a\n- b\n", "campaign-without-parts", 1, ""),
        ("just words\n", "campaign-without-parts", 1, ""),
        (_NAMES + "---\nname: second\n", "yaml-documents", 4, ""),
        (_NAMES + "share: &x Again\n", "yaml-anchor", 3, "share"),
        (_NAMES + "share: *x\n", "yaml-anchor", 3, "share"),
        (_NAMES + "ledger: [*x]\n", "yaml-anchor", 3, "ledger[0]"),
        (_NAMES + "share: !!str Again\n", "yaml-tag", 3, "share"),
        (_NAMES + "hours: !!python/object:os.system {}\n", "yaml-tag", 3, "hours"),
        (_NAMES + "share: a\nfree: b\nshare: c\n", "yaml-key-twice", 5, "share"),
        (_NAMES + "no: a\n1: b\n", "key-unknown", 3, "no"),
        (_NAMES + "1: b\n", "yaml-key-form", 3, ""),
        (_NAMES + "true: b\n", "yaml-key-form", 3, ""),
        (_NAMES + "? [a, b]\n: c\n", "yaml-key-form", 3, ""),
        (_NAMES + '"\\0": c\n', "yaml-key-form", 3, ""),
        (_NAMES + "parts: {204: link}\n", "yaml-key-form", 3, "parts"),
        (_NAMES + "cautions: [a, , b]\n", "yaml-syntax", 3, ""),
        (_NAMES + "cautions:\n  - a\n  -\n", "yaml-item-empty", 5, "cautions[1]"),
        (_NAMES + "next_word: 2026-02-30\n", "day-impossible", 3, "next_word"),
        (_NAMES + "reply: 0818\n", "number-zero-first", 3, "reply"),
        (_NAMES + "share: " + "[" * 40 + "]" * 40, "yaml-too-deep", 3, ""),
        (_NAMES + "share: a\x00b\nfree: c\x07d\n", "yaml-sign", 3, ""),
        (_NAMES + "share: a\ud800b\n", "yaml-sign", 3, ""),
        (_NAMES + 'share: "\\U00110000"\n', "yaml-escape", None, ""),
        ("#" * 2_000_001, "campaign-too-large", None, ""),
    ],
)
def test_what_is_more_than_plain_yaml_is_refused_with_its_line(
    text: str, code: str, line: int | None, path: str
) -> None:
    assert (code, line, path) in _places(text)


@pytest.mark.parametrize(
    ("text", "line", "message"),
    [
        ("share: Note: call us\n", 3, "a second colon"),
        ("share:\n\t- a\n", 4, "a tab stands"),
        ("share: [a, b\nfree: c\n", 3, "a bracket is opened"),
        ('free: x\nshare: "a\nname: b\n', 4, "a quotation mark is opened"),
        ("share: @firm\n", 3, "cannot begin with this sign"),
        ("share: %(day)s\n", 3, "cannot begin with this sign"),
        ('share: "C:\\q"\n', 3, "a backslash in double quotes"),
        ('share: "\\x1"\n', 3, "too few digits"),
        ("hours:\n    from: a\n  to: b\n", 5, "set in differently"),
        ("share: - a\n", 3, "a dash stands"),
        ("'share' a\n", 3, "a key stands here without a colon"),
        ("share: ]\n", 3, "closes what was never opened"),
        ("share: |x\n  a\n", 3, "cannot be read from this line on"),
    ],
)
def test_a_syntax_fault_names_its_line_in_plain_words(text: str, line: int, message: str) -> None:
    [finding] = load(_NAMES + text).findings

    assert (finding.code, finding.line, message in finding.message) == ("yaml-syntax", line, True)


def test_a_file_that_is_not_yaml_has_only_that_fault() -> None:
    assert [code for code, _, _ in _places("name: a: b\n")] == ["yaml-syntax"]


def test_a_sign_that_cannot_be_read_is_named_on_each_line() -> None:
    assert _places("a: \x00\r\nb: c\rd: \x1b\n") == [("yaml-sign", 1, ""), ("yaml-sign", 3, "")]


def test_a_byte_order_mark_and_windows_line_ends_are_read() -> None:
    loaded = load("\ufeff" + _NAMES.replace("\n", "\r\n") + "share: a\r\n")

    assert (loaded.findings, loaded.lines["share"]) == ((), 3)


# YAML 1.2.2, section 10.3.2: in the core schema yes, no, on and off are words.
@pytest.mark.parametrize("word", ["yes", "no", "on", "off", "Yes", "NO", "12:30:45", "1_000", "0b11"])
def test_what_yaml_1_2_calls_a_word_is_a_word(word: str) -> None:
    loaded = load(f"issuer: {{name: {word}}}\nproduct: {{name: E}}\n")
    assert loaded.campaign is not None

    assert loaded.campaign.issuer.name == word


def test_norway_is_a_country() -> None:
    loaded = load(_NAMES + "contacts: [{countries: [NO]}]\n")
    assert loaded.campaign is not None

    assert loaded.campaign.contacts[0].countries == ("NO",)


# The examples of YAML 1.2.2, section 10.3.2, each in the place of a text.
@pytest.mark.parametrize(
    ("signs", "read_as"),
    [
        ("true", "yes"),
        ("FALSE", "no"),
        ("-19", "a number"),
        ("0o7", "a number"),
        ("0x3A", "a number"),
        ("0.", "a number"),
        ("-0.0", "a number"),
        (".5", "a number"),
        ("+12e03", "a number"),
        (".inf", "a number"),
        ("-.Inf", "a number"),
        (".NAN", "a number"),
        ("2026-03-03", "a day"),
        ("+448081570172", "a number"),
    ],
)
def test_what_yaml_takes_for_something_else_needs_quotes(signs: str, read_as: str) -> None:
    assert _said(_NAMES + f"share: {signs}\n") == [
        (
            f"campaign.yaml:3: must mend [text-form] share: “share” takes a text, but {signs} "
            f"(YAML reads it as {read_as}) stands there\n    mend: put it in quotes"
        )
    ]


def test_a_week_without_quotes_is_told_to_take_them() -> None:
    assert _said(_NAMES + "affected:\n  - {rule: a, week: 0818}\n") == [
        (
            "campaign.yaml:4: must mend [number-zero-first] affected[0].week: 0818 needs quotes: YAML reads it as "
            'the number 818\n    mend: write "0818"'
        )
    ]


def test_a_number_nobody_means_stays_text() -> None:
    loaded = load(_NAMES + "share: " + "9" * 5000 + "\n")

    assert [finding.code for finding in loaded.findings] == ["text-too-long"]


def test_an_unknown_key_asks_whether_a_known_one_was_meant() -> None:
    assert _said(_NAMES + "now:\n  steps:\n    symptomatc: [Stop]\n") == [
        (
            "campaign.yaml:5: must mend [key-unknown] now.steps.symptomatc: the key “symptomatc” is not known here"
            "\n    mend: did you mean symptomatic?"
        )
    ]


def test_an_unknown_key_like_no_other_lists_those_that_are_known() -> None:
    assert _said(_NAMES + "hours: {days: [mon], from: '08:00', to: '09:00', zzz: 1}\n") == [
        (
            "campaign.yaml:3: must mend [key-unknown] hours.zzz: the key “zzz” is not known here"
            "\n    mend: take it out; known here: days, from, to"
        )
    ]


def test_the_programs_own_name_of_a_key_is_not_a_key() -> None:
    assert _places(_NAMES + "schema_: 1\n") == [("key-unknown", 3, "schema_")]


def test_a_text_is_folded_to_one_line() -> None:
    loaded = load(_NAMES + "subjects:\n  stop: |\n    Do not\n    use it\n")
    assert loaded.campaign is not None

    assert loaded.campaign.subjects.stop == "Do not use it"


def test_hostile_signs_do_not_reach_a_finding() -> None:
    [said] = _said(_NAMES + 'issuer2: "\\e[2J\\u202e\\n%(x)s{0}<b>"\n')

    assert re.search(r"[\x00-\x09\x0b-\x1f\u202e]", said) is None


@pytest.mark.parametrize(
    "text", ["{owner}", "%s %(day)s %d 100 %", "<b>&amp;</b>", "{{ 7*7 }}", "\u200eA\u200f"]
)
def test_delimiters_are_text(text: str) -> None:
    loaded = load(_NAMES + f"share: '{text}'\n")
    assert loaded.campaign is not None

    assert loaded.campaign.share == text


def test_the_example_of_the_demo_loads() -> None:
    folder = Path(__file__).parents[3] / "notices" / "demo" / "folder"
    files = sorted(folder.glob("campaign-*.yaml"))

    assert {file.name: load(file.read_text("utf-8")).findings for file in files} == {
        f"campaign-{number}.yaml": () for number in range(6)
    }


def test_a_whole_campaign_loads() -> None:
    assert load(WHOLE).findings == ()


def _sound(loaded: Loaded) -> bool:
    """Say whether there is a campaign or a finding, and both only where a stop warning does not use what is faulty."""
    if loaded.campaign is None:
        return bool(loaded.findings)
    aside = all(is_aside(finding.path) for finding in loaded.findings)
    return not loaded.findings or (loaded.campaign.remedies is None and aside)


@pytest.mark.property
@given(
    text=st.text(
        alphabet=st.characters() | st.sampled_from("\t\n :-[]{}&*!|>'\"%@`#,?~0\x00\ud800"), max_size=60
    )
)
def test_any_text_at_all_gives_a_campaign_or_findings(text: str) -> None:
    loaded = load(text)

    assert _sound(loaded)


@pytest.mark.property
@given(at=st.integers(0, len(WHOLE)), length=st.integers(0, 40), new=st.text(max_size=4))
def test_any_slip_in_a_sound_file_gives_a_campaign_or_findings_on_a_line(
    at: int, length: int, new: str
) -> None:
    loaded = load(WHOLE[:at] + new + WHOLE[at + length :])

    assert _sound(loaded)
    assert all(finding.line is None or finding.line >= 1 for finding in loaded.findings)


@pytest.mark.parametrize(
    ("text", "path"),
    [
        ("code: {hidden: four}", "code.hidden"),
        ("affected: 7", "affected"),
        ("parts: {A: 1}", "parts.A"),
    ],
)
def test_a_stop_warning_is_read_without_the_faulty_parts_that_it_does_not_use(text: str, path: str) -> None:
    names = "issuer: {name: F}\nproduct: {name: E}\n"
    loaded = load(f"{names}{text}\n")

    assert [(finding.path, finding.line) for finding in loaded.findings] == [(path, 3)]
    assert loaded.campaign is not None
    assert load(f"{names}{text}\nremedies: {{r: {{kind: refund}}}}\n").campaign is None


def test_a_faulty_price_holds_back_no_stop_warning_and_another_fault_does() -> None:
    priced = "issuer: {name: F}\nproduct: {name: E, price: {cents: much, currency: EUR}}\n"

    assert load(priced).campaign is not None
    assert load(priced + "hazard: {what: 7}\n").campaign is None
