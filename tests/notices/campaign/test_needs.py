"""What is not there is asked for by purpose: the stop warning asks for little, a stopped sale for nothing."""

import pytest

from notices.campaign.loading import load
from notices.campaign.needs import NEVER_OVERRULED_CODES, Purpose, lacking
from tests.stove import WHOLE, changed, without

_NAMES = "issuer: {name: F}\nproduct: {name: E}\n"
_STOP = _NAMES.replace("name: F", "name: F, web: firm.example") + (
    "hazard: {signal: WARNING, what: It leaks., who: You can be killed., without_sign: No smell.}\n"
    "now: {headline: Stop., steps: {all: [Stop.]}}\n"
    "contacts: [{countries: [GB], phone: '+442079460123'}]\n"
    "revision: {day: 2026-01-12}\n"
    "next_word: 2026-01-16\n"
    "subjects: {stop: Do not use it}\n"
    "warning_headline: Important safety warning\n"
    "before_remedy: We write by %(next_word)s.\n"
)


def _lacking(text: str, purpose: Purpose) -> list[tuple[str, int | None, str, str]]:
    loaded = load(text)
    assert loaded.campaign is not None, "\n".join(map(str, loaded.findings))
    found = lacking(loaded.campaign, purpose, loaded.lines)
    return [(finding.code, finding.line, finding.path, str(finding.severity)) for finding in found]


def test_a_sale_can_be_stopped_with_two_names() -> None:
    assert _lacking(_NAMES, "stop-sale") == []


def test_a_stop_warning_needs_no_remedy_no_code_and_no_price() -> None:
    assert _lacking(_STOP, "proofs") == []


def test_proofs_of_a_new_folder_say_everything_that_is_lacking() -> None:
    assert _lacking(_NAMES, "proofs") == [
        ("hazard-missing", None, "hazard.what", "must mend"),
        ("hazard-missing", None, "hazard.who", "must mend"),
        ("signal-missing", None, "hazard.signal", "must mend"),
        ("stop-missing", None, "now.headline", "must mend"),
        ("stop-missing", None, "now.steps.all", "must mend"),
        ("contact-missing", None, "contacts", "must mend"),
        ("next-word-missing", None, "next_word", "must mend"),
        ("revision-day-missing", None, "revision.day", "consider"),
        ("without-sign-missing", None, "hazard.without_sign", "consider"),
        ("web-address-missing", 1, "issuer.web", "consider"),
        ("subject-missing", None, "subjects.stop", "consider"),
        ("warning-headline-missing", None, "warning_headline", "consider"),
        ("before-remedy-missing", None, "before_remedy", "consider"),
    ]


def test_what_is_lacking_names_the_line_of_the_part_around_it() -> None:
    text = _STOP.replace("what: It leaks., ", "").replace(
        "steps: {all: [Stop.]}", "steps: {unknown: [Stop.]}"
    )

    assert _lacking(text, "proofs") == [
        ("hazard-missing", 3, "hazard.what", "must mend"),
        ("stop-missing", 4, "now.steps.all", "must mend"),
    ]


def test_an_e_mail_address_is_way_enough() -> None:
    text = _STOP.replace(
        "contacts: [{countries: [GB], phone: '+442079460123'}]\n", "contacts: [{countries: [GB]}]\n"
    )
    with_mail = text.replace("name: F,", "name: F, email: a@firm.example,")

    assert [_lacking(text, "proofs"), _lacking(with_mail, "proofs")] == [
        [("contact-missing", 5, "contacts", "must mend")],
        [],
    ]


def test_a_recall_needs_what_a_recall_promises() -> None:
    text = _STOP + "remedies: {back: {kind: refund, all: {by: [workshop]}}}\n"

    assert _lacking(text, "proofs") == [
        ("subject-missing", 8, "subjects.first", "must mend"),
        ("free-missing", None, "free", "must mend"),
        ("market-missing", None, "markets", "must mend"),
        ("use-question-missing", None, "use.question", "must mend"),
        ("answer-within-missing", None, "answer_within", "consider"),
        ("promise-missing", 11, "remedies.back.all.promise", "must mend"),
        ("remedy-label-missing", 11, "remedies.back.label", "must mend"),
    ]


def test_a_segment_that_no_remedy_serves_is_named() -> None:
    text = without("cautions").replace("    all: {promise: The full price you paid. We fetch the stove.}", "")
    text = text.replace("    symptomatic:\n      promise: ", "    all:\n      promise: ")
    one_only = WHOLE.replace("    all: {promise: The full", "    unridden: {promise: The full").replace(
        "    ridden_no_symptoms:\n      promise", "    symptomatic:\n      promise", 1
    )
    one_only = (
        one_only[: one_only.index('    symptomatic:\n      promise: "Smell')]
        + one_only[one_only.index("  refund:\n") :]
    )
    line = one_only[: one_only.index("\nremedies:")].count("\n") + 2

    assert _lacking(text, "proofs") == []
    assert _lacking(one_only, "proofs") == [("remedy-for-nobody", line, "remedies", "must mend")]


_CLEARING = {
    ("subject-missing", "subjects.cleared"),
    ("cleared-text-missing", "now.cleared"),
    ("near-text-missing", "now.near"),
}


def test_a_recall_that_clears_units_needs_the_words_for_it() -> None:
    text = (
        _STOP
        + "affected: [{rule: a, line: B}]\ncode: {}\nremedies: {back: {kind: refund, all: {promise: All.}}}\n"
    )
    found = _lacking(text, "proofs")

    assert {(code, path) for code, _, path, severity in found if severity == "must mend"} >= _CLEARING


def test_a_stop_warning_waits_for_no_words_about_cleared_units() -> None:
    found = _lacking(_STOP + "affected: [{rule: a, line: B}]\ncode: {}\n", "proofs")

    assert {(code, path) for code, _, path, _ in found} == {
        ("code-missing-text-missing", "now.code_missing"),
        ("other-code-text-missing", "now.other_code"),
        *_CLEARING,
    }
    assert {severity for *_, severity in found} == {"consider"}


def test_a_campaign_that_clears_nobody_needs_no_words_for_it() -> None:
    assert _lacking(_STOP + "affected: [{rule: a, line: B}]\notherwise: affected\n", "proofs") == []


def test_the_bulletin_needs_its_address_and_the_ledger() -> None:
    assert _lacking(_STOP, "bulletin") == [
        ("bulletin-address-missing", 1, "issuer.bulletin", "must mend"),
        ("ledger-missing", None, "ledger", "must mend"),
    ]


def test_the_answer_page_needs_its_buttons_and_questions() -> None:
    assert _lacking(_STOP, "serve") == [
        ("answers-address-missing", 1, "issuer.answers", "must mend"),
        ("button-missing", 4, "now.stopped_page_button", "must mend"),
        ("button-missing", 4, "now.in_use_button", "must mend"),
        ("use-question-missing", None, "use.question", "must mend"),
        ("use-answer-missing", None, "use.unridden.answer", "must mend"),
        ("use-answer-missing", None, "use.ridden_no_symptoms.answer", "must mend"),
        ("use-answer-missing", None, "use.symptomatic.answer", "must mend"),
        ("use-answer-missing", None, "use.unknown.answer", "must mend"),
    ]


def test_the_answer_page_of_a_recall_needs_the_confirmation() -> None:
    text = without("confirm")

    assert _lacking(text, "serve") == [("confirm-missing", None, "confirm.title", "must mend")]


@pytest.mark.parametrize(
    "part", ["free", "parts", "cautions", "confirm", "sale_stop", "product", "answer_within"]
)
def test_nothing_about_remedy_code_or_price_holds_back_a_stop_warning(part: str) -> None:
    text = without("remedies", text=WHOLE)
    text = (
        without(part, text=text)
        if part != "product"
        else changed(("  price: {cents: 7900", "  #"), text=text)
    )

    assert [need for need in _lacking(text, "proofs") if need[3] == "must mend"] == []


def test_what_can_never_be_overruled_is_a_missing_hazard_and_a_missing_stop() -> None:
    firm = [(code, path) for code, _, path, _ in _lacking(_NAMES, "proofs") if code in NEVER_OVERRULED_CODES]

    assert firm == [
        ("hazard-missing", "hazard.what"),
        ("hazard-missing", "hazard.who"),
        ("stop-missing", "now.headline"),
        ("stop-missing", "now.steps.all"),
    ]
