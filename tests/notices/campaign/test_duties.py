"""Which duties stand in the tables, and what the lead types of the firm's own."""

from datetime import date

import pytest

from notices.campaign.checks import check
from notices.campaign.duties import cites_law, market_of
from notices.campaign.duty_table import DUTIES
from notices.campaign.loading import load
from tests.stove import without

BASE = without("duties")
OWN = """
duties:
  days: {knowledge: 2026-01-10}
  own:
    insurer: {to: our insurer, what: report the claim, within_days: 7}
    lender:
      to: the bank
      what: tell of a material loss
      within_days: 5
      counted_from: report
"""


# Regulation (EU) 2023/988, article 36(2)(a); 16 CFR 1115.27(a).
def test_the_headline_is_the_laws() -> None:
    assert (market_of("FR"), market_of("US"), market_of("GB")) == (
        ("EU", "Product safety recall"),
        ("US", "Safety recall"),
        ("GB", "Product safety recall"),
    )


def test_every_duty_says_how_its_source_is_known() -> None:
    assert {duty.mark for duty in DUTIES} <= {"read", "second-hand", "from memory"}
    assert all(duty.source and duty.what and duty.to for duty in DUTIES)


def test_every_duty_has_a_key_of_its_own_that_can_be_typed() -> None:
    assert len({duty.key for duty in DUTIES}) == len(DUTIES)
    assert all(duty.key.replace("-", "").isalnum() and duty.key.isascii() for duty in DUTIES)


def found(text: str) -> list[tuple[str, str, int | None]]:
    loaded = load(text)
    findings = [*loaded.findings, *(check(loaded.campaign, loaded.lines, {}) if loaded.campaign else ())]
    return [(one.code, one.path, one.line) for one in findings if one.path.startswith("duties")]


def line(text: str, piece: str) -> int:
    return text[: text.index(piece)].count("\n") + 1


def test_a_duty_that_counts_from_a_day_nobody_wrote_is_named_with_its_line() -> None:
    text = BASE + OWN

    assert found(text) == [
        ("duty-day-missing", "duties.own.lender.counted_from", line(text, "      counted_from: report"))
    ]


def test_once_the_day_is_written_nothing_is_said() -> None:
    assert found(BASE + OWN.replace("2026-01-10}", "2026-01-10, report: 2026-01-14}")) == []


def test_what_is_no_number_of_days_and_no_such_day_is_named_with_its_line() -> None:
    text = BASE + OWN.replace("within_days: 5", "within_days: soon").replace(
        "{knowledge: 2026-01-10}", "{birthday: 2026-01-10}"
    )

    assert [(path, at) for _, path, at in found(text)] == [
        ("duties.days.birthday", line(text, "  days: {birth")),
        ("duties.own.lender.within_days", line(text, "      within_days: soon")),
    ]


def test_the_days_that_are_typed_are_those_that_count() -> None:
    campaign = load(BASE + OWN).campaign

    assert campaign is not None
    assert campaign.duties is not None
    assert campaign.duties.days.typed() == {"knowledge": date(2026, 1, 10)}
    assert all(duty.source and duty.what for duty in DUTIES)


@pytest.mark.parametrize(
    ("source", "law"),
    [
        ("Regulation (EU) 2023/988, article 36(2)(a)", True),
        ("16 CFR 1115.27(m)", True),
        ("Australian Consumer Law, section 128", True),
        ("Fair Trading Act 1986, section 31A(3)", True),
        ("common practice, no source", False),
        ("ITU-T E.164", False),
        ("WCAG 2.2, success criterion 3.1.5", False),
        ("", False),
    ],
)
def test_a_law_is_told_from_a_standard_and_from_custom(source: str, *, law: bool) -> None:
    assert cites_law(source) is law
