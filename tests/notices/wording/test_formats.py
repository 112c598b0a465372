"""Days, months, hours, lists and places as readers write them."""

from datetime import date

import pytest
from babel.localedata import locale_identifiers

from notices.campaign.models import Hours, Weekday
from notices.wording import formats

MARCH = date(2026, 3, 3)
WEEK: tuple[Weekday, ...] = ("mon", "tue", "wed", "thu", "fri", "sat")


@pytest.mark.parametrize(
    ("tag", "long", "short"),
    [
        ("en", "3 March 2026", "3 March"),
        ("en-US", "March 3, 2026", "March 3"),
        ("de", "3. März 2026", "3. März"),
        ("ar", "3 مارس 2026", "3 مارس"),
        ("pl", "3 marca 2026", "3 marca"),
        ("fr", "3 mars 2026", "3 mars"),
        ("es", "3 de marzo de 2026", "3 de marzo"),
        ("it", "3 marzo 2026", "3 marzo"),
        ("nl", "3 maart 2026", "3 maart"),
    ],
)
def test_a_day_has_its_month_in_words_and_latin_digits(tag: str, long: str, short: str) -> None:
    """Values from Unicode CLDR, gregorian calendar, long date and MMMMd."""
    assert formats.long_date(MARCH, tag) == long
    assert formats.day_month(MARCH, tag) == short


@pytest.mark.parametrize(
    ("tag", "within", "across"),
    [
        ("en", "May to December 2025", "November 2025 to February 2026"),
        ("de", "Mai bis Dezember 2025", "November 2025 bis Februar 2026"),
        ("ar", "من مايو إلى ديسمبر 2025", "من نوفمبر 2025 إلى فبراير 2026"),
        ("fr", "entre mai et décembre 2025", "entre novembre 2025 et février 2026"),
        ("es", "de mayo a diciembre de 2025", "de noviembre de 2025 a febrero de 2026"),
        ("it", "tra maggio e dicembre 2025", "tra novembre 2025 e febbraio 2026"),
        ("nl", "mei tot en met december 2025", "november 2025 tot en met februari 2026"),
        ("pl", "od maja do grudnia 2025", "od listopada 2025 do lutego 2026"),
        ("pt", "maio de 2025 \u2013 dezembro de 2025", "novembro de 2025 \u2013 fevereiro de 2026"),
    ],
)
def test_months_of_one_year_name_it_once(tag: str, within: str, across: str) -> None:
    assert formats.month_span("2025-05", "2025-12", tag) == within
    assert formats.month_span("2025-11", "2026-02", tag) == across


@pytest.mark.parametrize(("tag", "expected"), [("de", "Mai 2025"), ("pl", "maj 2025")])
def test_one_month_is_no_span(tag: str, expected: str) -> None:
    assert formats.month_span("2025-05", "2025-05", tag) == expected


@pytest.mark.parametrize(
    ("tag", "first", "eleventh"),
    [("fr", "1er avril", "11 avril"), ("it", "1º aprile", "11 aprile"), ("es", "1 de abril", "11 de abril")],
)
def test_the_first_of_a_month_is_an_ordinal_where_one_says_so(tag: str, first: str, eleventh: str) -> None:
    """French and Italian count the first of a month apart (common practice, no source)."""
    assert formats.day_month(date(2026, 4, 1), tag) == first
    assert formats.long_date(date(2026, 4, 1), tag).startswith(first)
    assert formats.day_month(date(2026, 4, 11), tag) == eleventh


@pytest.mark.parametrize(
    ("tag", "expected"),
    [
        ("en", "Monday to Saturday, 8 am to 6 pm"),
        ("de", "Montag bis Samstag, 8 bis 18 Uhr"),
        ("de-AT", "Montag bis Samstag, 8 bis 18 Uhr"),
        ("ar", "من الاثنين إلى السبت، من الساعة 8 صباحًا إلى الساعة 6 مساءً"),
        ("fr", "du lundi au samedi, de 8\u00a0h à 18\u00a0h"),
        ("es", "de lunes a sábado, de 8 a 18 h"),
        ("it", "da lunedì a sabato, dalle 8 alle 18"),
        ("nl", "maandag tot en met zaterdag, 8 tot 18 uur"),
        ("pl", "od poniedziałku do soboty, od 8:00 do 18:00"),
        ("pt", "segunda-feira \u2013 sábado, 08:00 \u2013 18:00"),
    ],
)
def test_hours_read_as_one_says_them(tag: str, expected: str) -> None:
    assert formats.hours(Hours(days=WEEK, from_="08:00", to="18:00"), tag) == expected


@pytest.mark.parametrize(
    ("days", "expected"),
    [
        (("sun", "mon", "tue", "wed", "fri"), "Monday to Wednesday, Friday and Sunday, 8:30 am to 12 pm"),
        (("tue", "mon"), "Monday and Tuesday, 8:30 am to 12 pm"),
        (("sat",), "Saturday, 8:30 am to 12 pm"),
    ],
)
def test_a_gap_in_the_week_is_told(days: tuple[Weekday, ...], expected: str) -> None:
    assert formats.hours(Hours(days=days, from_="08:30", to="12:00"), "en") == expected


@pytest.mark.parametrize(
    ("tag", "expected"),
    [
        ("fr", "lundi et samedi, de 9\u00a0h\u00a030 à 12\u00a0h"),
        ("pl", "poniedziałek i sobota, od 9:30 do 12:00"),
    ],
)
def test_two_days_are_no_span_and_half_an_hour_is_told(tag: str, expected: str) -> None:
    assert formats.hours(Hours(days=("mon", "sat"), from_="09:30", to="12:00"), tag) == expected


def test_arabic_says_the_part_of_the_day_with_minutes_too() -> None:
    assert formats.hours(Hours(days=("sat",), from_="09:30", to="12:00"), "ar") == (
        "السبت، من الساعة 9:30 صباحًا إلى الساعة 12 ظهرًا"
    )


@pytest.mark.parametrize(
    ("tag", "expected"),
    [("en", "A, B and C"), ("de", "A, B und C"), ("ar", "A وB وC"), ("en-US", "A, B, and C")],
)
def test_a_list_ends_with_the_languages_and(tag: str, expected: str) -> None:
    """Values from Unicode CLDR, listPatterns, standard."""
    assert formats.listing(["A", "B", "C"], tag) == expected
    assert formats.listing([], tag) == ""


def test_a_label_ends_with_the_colon_of_its_language() -> None:
    """French sets a no-break space before a colon (common practice, no source)."""
    assert [formats.colon(tag) for tag in ("fr-BE", "de", "en")] == ["\u00a0:", ":", ":"]


def test_a_country_has_its_name_in_the_readers_language() -> None:
    assert formats.country_name("IE", "de") == "Irland"
    assert formats.country_name("us", "ar") == "الولايات المتحدة"
    assert formats.country_name("QQ", "en") == "QQ"


def test_the_language_asked_before_leaves_no_trace() -> None:
    """Babel keeps what it has looked up; whatever was asked before, German months and days stay German."""
    opening = Hours(days=WEEK, from_="08:00", to="18:00")
    for identifier in sorted(locale_identifiers(), reverse=True):
        formats.hours(opening, identifier)
        formats.month_span("2025-05", "2025-12", identifier)

    assert formats.hours(opening, "de") == "Montag bis Samstag, 8 bis 18 Uhr"
    assert formats.month_span("2025-05", "2025-12", "de") == "Mai bis Dezember 2025"
    assert formats.hours(opening, "pt") == "segunda-feira \u2013 sábado, 08:00 \u2013 18:00"
    assert formats.month_span("2025-05", "2025-12", "pt") == "maio de 2025 \u2013 dezembro de 2025"


def test_an_isolate_can_neither_be_left_nor_turned_round() -> None:
    """UAX #9: LRI and FSI end with PDI; a PDI or an override inside would end them early."""
    assert formats.isolate("QM\u2069-2534\u202e") == "\u2066QM-2534\u2069"
    assert formats.isolate_name("منى\u2067") == "\u2068منى\u2069"
