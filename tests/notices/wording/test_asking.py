"""No notice asks for what fraud asks for; to say that one never does is innocent."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from audiences.findings import Severity
from notices.assembly import expressions
from notices.campaign.shape import texts
from notices.wording.asking import Asking, asked_for, data_asked, read_asking
from tests import catalogues
from tests.asking import ASKED, INNOCENT
from tests.composing import LANGUAGES, demo
from tests.expressions import a_reading, tags
from tests.stove import WHOLE, a_stove, changed

_WHO = "You and everyone near the stove can be killed or badly burnt."
_NAMES = {
    "en": ("IBAN", "passwords", "bank data", "credit card number"),
    "de": ("IBAN", "Passwörter", "Bankdaten"),
}
_REQUESTS = {
    "en": (
        "Please send us your {}.",
        "Type your {} here",
        "Do not forget your {}.",
        "We need your {} by Friday.",
    ),
    "de": ("Bitte senden Sie uns Ihre {}.", "Wir brauchen Ihre {}.", "Tragen Sie hier die {} ein."),
}
_DENIALS = {
    "en": (
        "We never ask for your {}.",
        "Do not send us your {}, please.",
        "Nobody of us asks for {} or a photo.",
    ),
    "de": ("Wir fragen nie nach Ihrer {}.", "Senden Sie uns bitte nicht Ihre {}.", "{} brauchen wir nicht."),
}


def _asking(tag: str) -> Asking:
    return read_asking(expressions()[tag.partition("-")[0]])


def test_every_language_with_a_table_has_its_pairs() -> None:
    assert set(ASKED) == set(INNOCENT) == set(tags())


@pytest.mark.parametrize("tag", tags())
def test_every_request_is_found(tag: str) -> None:
    assert [text for text in ASKED[tag] if not asked_for(text, _asking(tag))] == []


@pytest.mark.parametrize("tag", tags())
def test_no_denial_and_no_other_sentence_is_taken_for_a_request(tag: str) -> None:
    found = {text: asked_for(text, _asking(tag)) for text in INNOCENT[tag]}

    assert {text: words for text, words in found.items() if words} == {}


@pytest.mark.property
@pytest.mark.parametrize("tag", ["en", "de"])
@given(data=st.data())
def test_what_is_asked_for_is_found_among_denials_and_quoted(tag: str, data: st.DataObject) -> None:
    name = data.draw(st.sampled_from(_NAMES[tag]))
    request = data.draw(st.sampled_from(_REQUESTS[tag])).format(name)
    around = data.draw(st.lists(st.sampled_from(INNOCENT[tag]), min_size=2, max_size=2))

    assert asked_for(f"{around[0]} {request}", _asking(tag)) == (name,)
    assert asked_for(f"{request.rstrip('.')}. {around[1]}", _asking(tag)) == (name,)


@pytest.mark.property
@pytest.mark.parametrize("tag", ["en", "de"])
@given(data=st.data())
def test_whatever_is_denied_is_not_asked_for(tag: str, data: st.DataObject) -> None:
    name = data.draw(st.sampled_from(_NAMES[tag]))
    denial = data.draw(st.sampled_from(_DENIALS[tag])).format(name)

    assert asked_for(denial, _asking(tag)) == ()


def test_a_request_is_found_in_every_disguise() -> None:
    asked = "Please send us your pass\u00adword, your \uff29\uff22\uff21\uff2e and your bank-\n  data."

    assert asked_for(asked, _asking("en")) == ("password", "IBAN")
    assert asked_for("BITTE SENDEN SIE UNS IHRE PASSWOERTER", _asking("de")) == ("PASSWOERTER",)


@pytest.mark.parametrize("tag", LANGUAGES)
def test_no_sentence_of_ours_and_none_of_the_demo_asks_for_it(tag: str) -> None:
    ours = [text for entry in catalogues.held("notices", tag).entries for text in entry.translations]
    said = [text for revision in range(6) for _, text in texts(demo(revision, tag))]

    assert [text for text in (*ours, *said) if asked_for(text, _asking(tag))] == []


def test_the_stove_asks_for_nothing() -> None:
    assert [text for _, text in texts(a_stove()) if asked_for(text, _asking("en"))] == []


@pytest.mark.parametrize("warning", [False, True])
def test_a_request_must_be_mended_in_a_recall_and_in_a_warning(warning: bool) -> None:  # noqa: FBT001 - a column of the table
    text = changed((_WHO, "Send us your bank details."))
    (finding,) = data_asked(a_reading(text, warning=warning))

    assert finding.code == "data-asked"
    assert (finding.file, finding.path) == ("campaign.yaml", "hazard.who")
    assert finding.line == text[: text.index("  who:")].count("\n") + 1
    assert finding.severity is Severity.MUST_MEND
    assert re.match('"bank details" is asked for', finding.message)


def test_a_request_is_found_in_a_translation_and_a_language_without_a_table_passed_over() -> None:
    spoken = {tag: {("hazard.who", _WHO): "Senden Sie uns Ihre Bankdaten."} for tag in ("xx", "de")}
    (finding,) = data_asked(a_reading(WHOLE, translations=spoken))

    assert finding.file == "translations/de.po"
