"""What is no remedy: Regulation (EU) 2023/988, article 37 and recitals 88, 91, 92; the rest is custom of the trade."""

from dataclasses import replace

import pytest

from audiences.findings import Finding, Severity
from notices.assembly import laws
from notices.campaign.loading import load
from notices.wording import remedy_rules
from notices.wording.passages import Reading
from tests.readings import reading
from tests.stove import WHOLE, changed

EU = "markets: {EU: {countries: [IE], headline: Product safety recall}}\n"
GB = "markets: {GB: {countries: [GB], headline: Product safety recall}}\n"
CHOICE = "remedies:\n  fix: {kind: repair, all: {promise: We mend it.}}\n  back: {kind: refund, all: {promise: '%s'}}\n"
CHECKS = (
    remedy_rules.single_remedy,
    remedy_rules.owner_repair,
    remedy_rules.said,
    remedy_rules.unlicensed,
)


def found(text: str, language: str = "en", **translations: str) -> list[Finding]:
    read = replace(reading(f"language: {language}\n{text}", **translations), laws=laws())
    return [one for check in CHECKS for one in check(read)]


def codes(text: str, language: str = "en", **translations: str) -> list[str]:
    return [one.code for one in found(text, language, **translations)]


def test_the_starting_folders_remedies_are_remedies() -> None:
    loaded = load(WHOLE)
    assert loaded.campaign is not None
    read = Reading(campaign=loaded.campaign, lines=loaded.lines, laws=laws())

    assert [one for check in CHECKS for one in check(read)] == []


def test_one_remedy_without_a_reason_must_be_mended_in_the_eu() -> None:
    """Article 37(2): a choice between at least two of three, unless the others are impossible or out of proportion."""
    (one,) = found("remedies:\n  back: {kind: refund, all: {promise: The full price.}}\n" + EU)

    assert (one.code, one.severity, one.line) == ("single-remedy", Severity.MUST_MEND, 4)
    assert one.source == "Regulation (EU) 2023/988, article 37(2)"


def test_a_reason_is_enough_and_no_other_law_asks() -> None:
    alone = "remedies:\n  back: {kind: refund, all: {promise: The full price.}}\n"

    assert codes(f"{alone}single_remedy_reason: No part is made any more.\n{EU}") == []
    assert codes(alone + GB) == []


def test_two_refunds_are_no_choice_and_one_segment_without_a_choice_is_named() -> None:
    one = "remedies:\n  a: {kind: refund, all: {promise: Money.}}\n  b: {kind: %s, %s: {promise: Other.}}\n"

    assert codes(one % ("refund", "all") + EU) == ["single-remedy"]
    (named,) = found(one % ("replace", "unridden") + EU)
    assert named.message.endswith("refund: ridden_no_symptoms, symptomatic")


OWNER = (
    "remedies:\n"
    "  fix:\n"
    "    kind: repair\n"
    "    all:\n"
    "      promise: A mechanic comes.\n"
    "      by: [mechanic, owner]\n"
    "%s"
    "      steps: ['%s']\n"
    "  back: {kind: refund, all: {promise: The full price.}}\n"
)


def test_an_owners_repair_without_free_parts_must_be_mended() -> None:
    """Article 37(3): necessary instructions, free replacement parts or software updates."""
    (one,) = found(OWNER % ("", "Turn it.") + EU)

    assert (one.code, one.severity, one.line) == ("owner-without-parts", Severity.MUST_MEND, 9)
    assert codes(OWNER % ("      parts: {A: 1}\n", "Turn it.") + EU) == []


@pytest.mark.parametrize(
    "torque", ["16 N·m", "16 Nm", "16 N m", "12 ft-lb", "140 inch-pounds", "12 foot pounds", "140 in-lbs"]
)
def test_a_torque_needs_a_tool_that_measures_it(torque: str) -> None:
    step = OWNER % ("      parts: {A: 1}\n      tools: [%s]\n", f"Tighten it to {torque}.")
    (one,) = found(step % "spanner" + EU)

    assert (one.code, one.severity, one.line) == ("torque-without-tool", Severity.CONSIDER, 12)
    assert codes(step % "torque wrench" + EU) == []


def test_a_torque_in_the_cautions_of_a_translation_needs_its_tool_there() -> None:
    text = OWNER % ("      parts: {A: 1}\n", "Turn it.") + EU + "cautions: [Tighten it well.]\n"
    german = '\nmsgctxt "cautions"\nmsgid "Tighten it well."\nmsgstr "Ziehen Sie auf 16 Nm an."\n'
    (one,) = found(text, de=german)

    assert (one.code, one.file, one.line) == ("torque-without-tool", "translations/de.po", 5)


@pytest.mark.parametrize(
    ("language", "words"),
    [
        ("en", "Send it back; you pay the postage."),
        ("en", "Return it at your own expense."),
        ("de", "Sie tragen die Versandkosten."),
        ("de", "Die Rückgabe geht auf Ihre Kosten."),
        ("fr", "Le retour est à vos frais."),
        ("es", "El envío va a su cargo."),
        ("it", "La spedizione è a suo carico."),
        ("nl", "De retourzending is voor uw rekening."),
        ("pl", "Wysyłka na Państwa koszt."),
        ("ar", "الشحن على حسابكم."),
    ],
)
@pytest.mark.parametrize("place", ["free", "no_longer"])
def test_a_cost_on_the_owner_must_be_mended_wherever_it_stands(language: str, words: str, place: str) -> None:
    """Article 37(1) and (5): cost-free; the consumer bears no cost of shipping or return."""
    found_ = found(CHOICE % "-" + f"{place}: '{words}'\n" + EU, language)
    (one,) = [each for each in found_ if each.code == "owner-pays"]

    assert (one.severity, one.line) == (Severity.MUST_MEND, 7)


@pytest.mark.parametrize(
    ("language", "words"),
    [
        ("en", "You pay nothing for parts, work, transport or post."),
        ("en", "We pay the postage. It is not at your expense."),
        ("de", "Sie zahlen nichts. Wir tragen die Versandkosten."),
        ("sv", "Du betalar frakten."),  # no table of its words
    ],
)
def test_what_the_firm_pays_is_no_cost_on_the_owner(language: str, words: str) -> None:
    assert codes(CHOICE % "-" + f"free: '{words}'\n" + EU, language) == []


@pytest.mark.parametrize(
    ("language", "words"),
    [
        ("en", "You get 60 % of the price."),
        ("en", "The price minus a fee."),
        ("de", "Wir zahlen den Zeitwert."),
        ("fr", "Un remboursement partiel."),
        ("es", "Una parte del precio."),
        ("it", "Un rimborso parziale."),
        ("nl", "Een deel van de prijs."),
        ("pl", "Zwrot pomniejszony o koszty."),
        ("ar", "نرد جزء من الثمن."),
    ],
)
def test_a_refund_below_the_price_must_be_mended(language: str, words: str) -> None:
    (one,) = found(CHOICE % words + EU, language)

    assert (one.code, one.severity, one.line) == ("refund-below-price", Severity.MUST_MEND, 6)


@pytest.mark.parametrize(
    ("code", "place", "language", "words"),
    [
        ("claim-by-day", "free", "en", "Ask for it by 31 May."),
        ("claim-by-day", "free", "de", "Melden Sie sich bis zum 31. Mai."),
        ("claim-by-day", "free", "fr", "Répondez avant le 31 mai."),
        ("proof-of-purchase-asked", "free", "en", "Free with the original receipt."),
        ("proof-of-purchase-asked", "free", "de", "Legen Sie den Kaufbeleg bei."),
        ("proof-of-purchase-asked", "free", "it", "Serve lo scontrino."),
        ("owner-must-repair", "before_remedy", "en", "You must replace the valve."),
        ("owner-must-repair", "no_longer", "de", "Sie müssen das Ventil selbst austauschen."),
        ("disposal-loses-rights", "no_longer", "en", "Throw it away."),
        ("disposal-loses-rights", "no_longer", "de", "Entsorgen Sie den Kocher."),
        ("brought-while-stopped", "no_longer", "en", "Bring it to our shop."),
        ("brought-while-stopped", "free", "de", "Bringen Sie das Rad in die Werkstatt."),
        ("brought-while-stopped", "free", "fr", "Ramenez-le au magasin."),
    ],
)
def test_what_recitals_and_custom_advise_against_is_to_be_considered(
    code: str, place: str, language: str, words: str
) -> None:
    (one,) = found(CHOICE % "-" + f"{place}: '{words}'\n" + EU, language)

    assert (one.code, one.severity, one.line) == (code, Severity.CONSIDER, 7)


@pytest.mark.parametrize(
    "words",
    [
        "You need no receipt.",
        "We will tell you the day within 3 working days of your answer.",
        "Do not ride it to us.",
        "We will bring you another kit.",
        "Never throw it away.",
    ],
)
def test_what_only_looks_like_it_is_let_pass(words: str) -> None:
    assert codes(CHOICE % "-" + f"free: '{words}'\n" + EU) == []


def test_what_may_be_used_may_be_brought() -> None:
    level = "now: {level: {affected: 1, symptomatic: 1, unknown: 1}}\n"

    assert codes(CHOICE % "-" + "free: Bring it to our shop.\n" + level + EU) == []


def test_no_warning_is_held_back_by_its_words_on_cost() -> None:
    (one,) = found("before_remedy: Return it at your expense.\n" + EU)

    assert (one.code, one.severity) == ("owner-pays", Severity.CONSIDER)


@pytest.mark.parametrize(
    ("language", "hazard", "words"),
    [
        ("en", "The lithium battery can burn.", "Post it back to us."),
        ("de", "Die Kartusche kann platzen.", "Schicken Sie den Kocher an uns."),
    ],
)
def test_what_the_post_does_not_take_is_not_sent_back_by_post(language: str, hazard: str, words: str) -> None:
    text = CHOICE % "-" + f"hazard: {{what: '{hazard}'}}\nfree: '{words}'\n"
    (one,) = found(text + EU, language)

    assert (one.code, one.severity, one.line) == ("dangerous-by-post", Severity.CONSIDER, 8)
    assert codes(CHOICE % "-" + f"free: '{words}'\n" + EU, language) == []


@pytest.mark.parametrize(
    ("language", "hazard", "who"),
    [
        ("en", "The valve can leak gas.", "A qualified gas fitter does it."),
        ("de", "Die Leitung steht unter Netzspannung.", "Ein Elektriker macht es."),
    ],
)
def test_work_on_gas_and_mains_names_who_may_do_it(language: str, hazard: str, who: str) -> None:
    text = CHOICE % "-" + f"hazard: {{what: '{hazard}'}}\n"
    (one,) = found(text + EU, language)

    assert (one.code, one.severity, one.line) == ("licensed-work-unsaid", Severity.CONSIDER, 7)
    assert codes(f"{text}cautions: ['{who}']\n{EU}", language) == []
    assert codes(f"hazard: {{what: '{hazard}'}}\n" + EU, language) == []


def test_the_stove_with_a_cost_in_its_own_promise_is_found_where_it_stands() -> None:
    text = changed(("The full price you paid. We fetch the stove.", "The full price minus the shipping."))
    loaded = load(text)
    assert loaded.campaign is not None
    (one,) = remedy_rules.said(Reading(campaign=loaded.campaign, lines=loaded.lines, laws=laws()))

    assert (one.code, one.path) == ("refund-below-price", "remedies.refund.all.promise")
