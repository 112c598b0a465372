"""What a notice must not say is found at its place, by the law of its markets."""

from dataclasses import replace
from pathlib import Path

import pytest

from audiences.findings import Finding, Severity
from notices.assembly import expressions
from notices.campaign.overruling import may_be_overruled
from notices.wording import expression_checks
from notices.wording.passages import Reading
from notices.work import revisions
from tests.composing import FOLDER
from tests.expressions import a_reading
from tests.folders import a_desk
from tests.stove import WHOLE, changed

_WHO = "You and everyone near the stove can be killed or badly burnt."


def _forbidden(reading: Reading) -> list[Finding]:
    return list(expression_checks.forbidden(reading))


def _saying(who: str) -> str:
    return changed((_WHO, who))


def test_a_forbidden_expression_is_found_at_its_passage() -> None:
    text = _saying("You can voluntarily bring it back.")
    (finding,) = _forbidden(a_reading(text))

    assert finding.code == "expression-forbidden"
    assert (finding.file, finding.path) == ("campaign.yaml", "hazard.who")
    assert finding.line == text[: text.index("  who:")].count("\n") + 1
    assert finding.severity is Severity.MUST_MEND
    assert (
        finding.message == '"voluntarily" makes stopping, or the recall itself, sound like a matter of choice'
    )
    assert finding.source == "Regulation (EU) 2023/988, article 36(2)(c)"


@pytest.mark.parametrize(
    ("words", "markets", "severity", "source"),
    [
        ("This is voluntary.", "IE", Severity.MUST_MEND, "article 36(2)(c)"),
        ("This is precautionary.", "DE, US", Severity.MUST_MEND, "article 36(2)(c)"),
        ("This is discretionary.", "DE", Severity.MUST_MEND, "article 36(2)(c)"),
        ("In rare situations it burns.", "DE", Severity.MUST_MEND, "article 36(2)(c)"),
        ("In specific situations it burns.", "DE", Severity.MUST_MEND, "article 36(2)(c)"),
        ("There are no reported accidents.", "DE", Severity.MUST_MEND, "article 36(2)(c)"),
        ("No accidents are reported.", "DE", Severity.MUST_MEND, "article 36(2)(c)"),
        ("There were 0 accidents.", "DE", Severity.CONSIDER, "a synonym, to be confirmed"),
        ("So far nothing has happened.", "DE", Severity.CONSIDER, "a synonym, to be confirmed"),
        ("'Accidents: none'", "DE", Severity.CONSIDER, "a synonym, to be confirmed"),
        ("In rare cases it burns.", "DE", Severity.CONSIDER, "a synonym, to be confirmed"),
        ("This is voluntary.", "GB", Severity.CONSIDER, "common practice, no source"),
        ("This is a voluntary recall.", "AU", Severity.CONSIDER, "second-hand"),
        ("Out of an abundance of caution.", "US", Severity.CONSIDER, "FDA"),
        ("It is not a safety defect.", "US", Severity.CONSIDER, "577.8"),
    ],
)
def test_the_law_of_the_market_decides(words: str, markets: str, severity: Severity, source: str) -> None:
    (finding,) = _forbidden(a_reading(_saying(words), markets=markets))

    assert finding.severity is severity
    assert source in finding.source


def test_no_accidents_may_be_said_only_where_the_law_asks_for_it() -> None:
    """16 CFR 1115.27(m) asks for it; Regulation (EU) 2023/988, article 36(2)(c) forbids it."""
    text = _saying("There are no reported accidents.")

    assert _forbidden(a_reading(text, markets="US")) == []
    assert [one.severity for one in _forbidden(a_reading(text, markets="US, IE"))] == [Severity.MUST_MEND]
    assert [one.severity for one in _forbidden(a_reading(text, markets="US, GB"))] == [Severity.CONSIDER]


def test_a_stop_warning_is_only_asked_to_consider_it() -> None:
    """Article 36 binds recalls; the same checks are good practice for a warning (from memory)."""
    (finding,) = _forbidden(a_reading(_saying("This is voluntary."), warning=True))

    assert finding.severity is Severity.CONSIDER
    assert finding.source.endswith("a stop warning is not bound by it")


def test_before_markets_are_named_the_firms_own_country_counts() -> None:
    small = "issuer: {name: Fellbrook, country: IE}\nproduct: {name: Emberling}\nhazard: {what: It is voluntary.}\n"
    nowhere = a_reading(small.replace(", country: IE", ""))

    assert expression_checks.law_areas(a_reading(small)) == {"EU"}
    assert expression_checks.law_areas(nowhere) == frozenset()
    assert [one.severity for one in _forbidden(nowhere)] == [Severity.CONSIDER]


def test_whoever_is_not_affected_may_be_told_that_it_is_no_defect() -> None:
    text = changed(("does not have the faulty valve. Compare", "has no safety defect. Compare"))

    assert _forbidden(a_reading(text, markets="US")) == []
    assert _forbidden(a_reading(_saying("It has no safety defect."), markets="US")) != []


def test_a_long_wording_is_quoted_in_part() -> None:
    assert expression_checks.quoted("x" * 61) == f'"{"x" * 60}…"'
    assert expression_checks.quoted("x" * 60) == f'"{"x" * 60}"'


def test_a_language_without_a_table_is_passed_over() -> None:
    spoken = {("hazard.who", _WHO): "Esto es voluntary."}

    assert _forbidden(a_reading(translations={"xx": spoken})) == []


def test_a_translation_is_read_in_its_own_language() -> None:
    spoken = {("hazard.who", _WHO): "Der Tausch ist freiwillig."}
    (finding,) = _forbidden(a_reading(translations={"de": spoken}))

    assert (finding.file, finding.path) == ("translations/de.po", "hazard.who")
    assert finding.message.startswith('"freiwillig" makes')


def test_a_draft_is_read_for_what_it_must_not_say(tmp_path: Path) -> None:
    with a_desk(tmp_path / "campaign", revision=1) as desk:
        assert [str(one) for one in revisions.draft(desk.world).findings if "expression" in one.code] == []
        desk.edit("also on a bicycle that feels normal", "in very rare situations", "campaign.yaml")
        found = [one for one in revisions.draft(desk.world).findings if one.code == "expression-forbidden"]

    line = (FOLDER / "campaign-1.yaml").read_text("utf-8").partition("  without_sign:")[0].count("\n") + 1
    assert [(one.path, one.line) for one in found] == [("hazard.without_sign", line)]


def test_words_that_were_not_read_in_the_law_are_only_to_be_considered() -> None:
    tables = {"rules": expressions()["rules"], "xx": FOREIGN}
    reading = replace(
        a_reading(translations={"xx": {("hazard.who", _WHO): "To je samovolny."}}), expressions=tables
    )
    (finding,) = _forbidden(reading)

    assert finding.severity is Severity.CONSIDER
    assert finding.source.endswith("; its words in this language are to be confirmed")


FOREIGN = """
language = "xx"
known = "from memory"
[voluntary]
like = ["samovoln~"]
"""


def test_nothing_is_sold_in_a_notice() -> None:
    text = changed(
        ("The full price you paid. We fetch the stove.", "The full price you paid."),
        (_WHO, "Buy our new model."),
    )
    (finding,) = expression_checks.selling(a_reading(text, markets="US, IE"))

    assert finding.code == "selling-text"
    assert (finding.path, finding.severity) == ("hazard.who", Severity.MUST_MEND)
    assert finding.line == text[: text.index("  who:")].count("\n") + 1
    assert finding.message == '"Buy our" sells, and no notice of a danger may'
    assert "7.49(c)(2)" in finding.source
    assert "article 36(2)(c)" in finding.source


@pytest.mark.parametrize(
    ("language", "words"),
    [
        ("en", "Save 20 % off with our discount code."),
        ("en", "Our current offers are in the shop."),
        ("de", "Nutzen Sie unsere tollen Angebote."),
        ("de", "Sie erhalten einen Einkaufsgutschein."),
        ("fr", "Profitez de nos offres."),
        ("es", "Compre ahora nuestro nuevo modelo."),
        ("it", "Approfitti dello sconto."),
        ("nl", "Bekijk onze nieuwste aanbiedingen."),
        ("pl", "Skorzystaj z rabatu na nowy model."),
        ("ar", "اشتروا الآن طرازنا الجديد."),
    ],
)
def test_selling_must_be_mended_in_every_language_and_market(language: str, words: str) -> None:
    spoken = {language: {("hazard.who", _WHO): words}} if language != "en" else {}
    text = _saying(words) if language == "en" else WHOLE
    found = [
        list(
            expression_checks.selling(a_reading(text, markets=markets, translations=spoken, warning=warning))
        )
        for markets, warning in (("US", False), ("IE", False), ("JP", False), ("IE", True))
    ]

    assert all(found)
    assert {one.severity for each in found for one in each} == {Severity.MUST_MEND}


@pytest.mark.parametrize(
    ("old", "new", "path"),
    [
        (
            "The full price you paid. We fetch the stove.",
            "The full price and a voucher.",
            "remedies.refund.all.promise",
        ),
        (
            "Until then we lend you another stove: call us.",
            "Until then you get a discount.",
            "meanwhile.text",
        ),
        ("You pay nothing for parts, work, transport or post.", "You get a voucher.", "free"),
    ],
)
def test_what_is_given_with_the_remedy_is_only_to_be_considered(old: str, new: str, path: str) -> None:
    """Recital 91 of Regulation (EU) 2023/988 encourages it; 16 CFR 1115.27(n)(1) has it named."""
    (finding,) = expression_checks.selling(a_reading(changed((old, new))))

    assert (finding.path, finding.severity) == (path, Severity.CONSIDER)
    assert "recital 91" in finding.source


@pytest.mark.parametrize(
    ("language", "words", "shown"),
    [
        ("de", "Du darfst den Kocher nicht benutzen.", "Du"),
        ("de", "Wir schicken Ihnen und euch ein Ventil.", "euch"),
        ("fr", "N'allume pas ton réchaud.", "ton"),
        ("es", "No uséis vuestra cocina.", "vuestra"),
        ("it", "Non usare il tuo fornello.", "tuo"),
        ("nl", "Gebruik je brander niet.", "je"),
        ("pl", "Twój palnik jest wadliwy.", "Twój"),
    ],
)
def test_a_reader_is_not_spoken_to_as_a_friend(language: str, words: str, shown: str) -> None:
    reading = a_reading(translations={language: {("hazard.who", _WHO): words}})
    (finding,) = expression_checks.familiar(reading)

    assert finding.code == "address-familiar"
    assert (finding.file, finding.path, finding.line) == (f"translations/{language}.po", "hazard.who", None)
    assert finding.severity is Severity.CONSIDER
    assert finding.message.startswith(f'"{shown}" ')


@pytest.mark.parametrize(
    ("language", "words"),
    [
        ("de", "Benutzen Sie Ihren Kocher nicht. Der Dutt ist dünn."),
        ("fr", "N'allumez pas votre réchaud. Le tuyau fuit."),
        ("es", "No use su hornillo."),
        ("it", "Non usi il Suo fornello, è dello stato attuale."),
        ("nl", "Gebruik uw brander niet. U krijgt een nieuwe."),
        ("pl", "Ci z Państwa, którzy go mają, niech go nie używają."),
        ("en", "You must not use it."),
    ],
)
def test_a_polite_sentence_is_let_pass(language: str, words: str) -> None:
    reading = a_reading(translations={language: {("hazard.who", _WHO): words}})

    assert list(expression_checks.familiar(reading)) == []


def test_a_false_alarm_may_be_overruled_and_a_mere_consideration_need_not() -> None:
    (selling,) = expression_checks.selling(a_reading(_saying("We voucher for it.")))
    (forbidden,) = _forbidden(a_reading(_saying("This is voluntary.")))
    (synonym,) = _forbidden(a_reading(_saying("In rare cases it burns.")))

    assert [may_be_overruled(one) for one in (selling, forbidden, synonym)] == [True, True, False]
