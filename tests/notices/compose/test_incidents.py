"""The same campaign for two markets: the US is told the numbers, the EU never reads of a zero."""

import pytest

from audiences.verdicts import Verdict
from notices.campaign.incidents import Incidents
from notices.campaign.models import Campaign
from tests.composing import catalogue, composed, demo, filled, key

LANGUAGES = ("en", "de", "ar")
NONE = {"en": "none reported", "de": "keine gemeldet", "ar": "لم يُبلَّغ"}
UNHURT = Incidents(day=demo(1).incidents.day, all=2, damage=0, injuries=0, deaths=0)  # type: ignore[union-attr] # the demo has them


def with_numbers(incidents: Incidents | None, tag: str = "en") -> Campaign:
    return demo(1, tag).model_copy(update={"incidents": incidents})


@pytest.mark.parametrize("tag", LANGUAGES)
def test_with_nobody_hurt_the_us_reads_none_reported_and_the_eu_does_not(tag: str) -> None:
    """16 CFR 1115.27(m), and Regulation (EU) 2023/988, article 36(2)(c): an EU text never shows a zero count."""
    of = with_numbers(UNHURT, tag)
    us, eu = (filled(of, key(market=market, language=tag)) for market in ("US", "EU"))

    assert us.text.count(NONE[tag]) == us.html.count(NONE[tag]) == 3
    assert NONE[tag] not in eu.text + eu.html


def test_the_numbers_stand_after_what_we_know() -> None:
    text = filled(demo(1), key(market="US")).text
    _, _, known = text.partition("What we know, ")
    known, _, _ = known.partition("You no longer have it?")

    assert known.split("even if there is nothing new.")[1].strip().splitlines()[:8] == [
        "Reported to us by 26 February 2026",
        "",
        "- Failures and accidents: 2",
        "- People injured: 1",
        "- People killed: none reported",
        "- Ages of those injured or killed: 34",
        "- The authority was told on: 27 February 2026",
        "",
    ]


def test_where_nothing_was_damaged_or_told_no_line_says_so() -> None:
    text = filled(with_numbers(UNHURT.model_copy(update={"damage": None})), key(market="US")).text

    assert "Damage to property" not in text
    assert "Ages of" not in text
    assert "The authority" not in text


def test_all_ages_and_days_are_named_in_order() -> None:
    day = UNHURT.day
    many = Incidents(
        day=day, all=3, injuries=2, deaths=1, ages=(41, 7, 34), received=(day.replace(day=27), day)
    )
    text = filled(with_numbers(many), key(market="US")).text

    assert "7, 34" in text
    assert text.index("26 February 2026 and") < text.index("27 February 2026")


@pytest.mark.parametrize("market", ["EU", "GB"])
@pytest.mark.parametrize("kind", ["stop", "first", "remind", "correct"])
def test_no_other_markets_notice_changes_by_the_numbers(market: str, kind: str) -> None:
    variant = key(kind=kind, market=market)

    assert composed(demo(1), variant).fingerprint == composed(with_numbers(None), variant).fingerprint


@pytest.mark.parametrize(
    "variant",
    [key(kind="stop", market="US"), key(verdict=Verdict.CLEARED, market="US"), key(market="XX")],
    ids=["warning", "cleared", "no market"],
)
def test_a_warning_and_a_cleared_owners_notice_tell_no_numbers(variant: object) -> None:
    assert "Reported to us" not in filled(demo(1), variant).text  # type: ignore[arg-type] # a key, by its parameter


@pytest.mark.parametrize("tag", ["en", "de", "ar", "fr", "es", "it", "nl", "pl"])
def test_every_language_has_its_words_for_the_numbers(tag: str) -> None:
    said = catalogue(tag)
    sentences = (
        "People killed: none reported",
        "People injured: none reported",
        "Reported to us by %(until)s",
    )

    assert all(said.gettext(one) for one in sentences)
    assert tag == "en" or not any(said.gettext(one) == one for one in sentences)
