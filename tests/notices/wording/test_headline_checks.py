"""The headline of a recall notice in the EU: Regulation (EU) 2023/988, article 36(2)(a), its English and German text.

"Product safety recall" and "Produktsicherheitsrückruf" are the words of the Regulation's own texts; no other language's
was read.
"""

from dataclasses import replace

import pytest

from audiences.findings import Finding, Severity
from notices.assembly import laws
from notices.wording.headline_checks import headlines
from tests.readings import reading

REMEDIES = "remedies: {r: {kind: refund, all: {promise: The full price.}}}\n"


def entry(tag: str, words: str) -> dict[str, str]:
    return {tag: f'\nmsgctxt "markets.EU.headline"\nmsgid "Product safety recall"\nmsgstr "{words}"\n'}


def market(more: str = "", headline: str = "Product safety recall", countries: str = "DE, FR") -> str:
    return f"markets:\n  EU: {{countries: [{countries}], headline: {headline}{more}}}\n"


def found(text: str, translations: dict[str, str] | None = None) -> list[Finding]:
    return list(headlines(replace(reading(text, **(translations or {})), laws=laws())))


@pytest.mark.parametrize("words", ["Product safety recall", "PRODUCT SAFETY RECALL"])
def test_the_laws_words_pass_in_english(words: str) -> None:
    assert found(REMEDIES + market(headline=words)) == []


def test_the_laws_words_pass_in_german() -> None:
    assert found(REMEDIES + market(), entry("de", "Produktsicherheitsrückruf")) == []


@pytest.mark.parametrize("words", ["Safety recall", "Product safety recall notice", "Important"])
def test_other_english_words_must_be_mended(words: str) -> None:
    (one,) = found(REMEDIES + market(headline=words))

    assert (one.code, one.severity, one.line) == ("headline-words", Severity.MUST_MEND, 5)
    assert one.mend == "write: Product safety recall"


def test_other_german_words_must_be_mended_in_the_translation() -> None:
    (one,) = found(REMEDIES + market(), entry("de", "Produktrückruf"))

    assert (one.code, one.severity) == ("headline-words", Severity.MUST_MEND)
    assert (one.file, one.line) == ("translations/de.po", 5)


@pytest.mark.parametrize(
    ("tag", "words"), [("fr", "Rappel de produit pour des raisons de sécurité"), ("fi", "Tuotteen palautus")]
)
def test_any_other_language_waits_for_a_person_whatever_its_words(tag: str, words: str) -> None:
    (one,) = found(REMEDIES + market(), entry(tag, words))

    assert (one.code, one.severity, one.line) == ("headline-not-verified", Severity.CONSIDER, 5)
    assert ("we know of" in one.message) is (tag == "fr")
    assert one.source.endswith("(to be confirmed)")


def test_once_a_person_has_read_it_in_the_law_nothing_is_said() -> None:
    read = market(more=", headline_read_by: {fr: Ines Hall}")

    assert found(REMEDIES + read, entry("fr", "Rappel")) == []
    assert len(found(REMEDIES + read, entry("it", "Richiamo"))) == 1


def test_a_language_that_is_official_nowhere_in_the_eu_has_no_legal_headline() -> None:
    assert found(REMEDIES + market(), entry("ar", "استدعاء")) == []


def test_the_wording_of_a_region_is_held_to_the_law_of_its_own_country_alone() -> None:
    assert found(REMEDIES + market(), entry("en-US", "Safety recall")) == []
    assert len(found(REMEDIES + market(countries="AT"), entry("de-AT", "Rückruf"))) == 1


def test_a_stop_warning_bears_a_headline_of_its_own() -> None:
    assert found(market(headline="Anything")) == []


def test_no_market_outside_the_eu_is_held_to_its_words() -> None:
    assert found(REMEDIES + market(headline="Safety recall", countries="US")) == []
