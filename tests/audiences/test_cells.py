"""Countries, languages and days as lists hold them."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from audiences.cells import country, day, kind, language

HOSTILE = st.text(alphabet=st.characters(exclude_categories=()), max_size=60)


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("DE", "DE"),
        ("de", "DE"),
        ("DEU", "DE"),  # ISO 3166-1 alpha-3
        ("GBR", "GB"),
        ("IRL", "IE"),
        ("UK", "GB"),  # ISO 3166-1: exceptionally reserved for the United Kingdom
        ("D", "DE"),  # distinguishing sign of vehicles
        ("Germany", "DE"),
        ("Deutschland", "DE"),
        ("ألمانيا", "DE"),
        ("المانيا", "DE"),  # without the hamza, as many type it
        ("Großbritannien", "GB"),
        ("GROSSBRITANNIEN", "GB"),
        ("Österreich", "AT"),
        ("Niederlande", "NL"),
        ("Nederland", "NL"),
        ("Éire", "IE"),
        ("Polska", "PL"),
        ("U.S.A.", "US"),
        ("ＤＥ", "DE"),  # noqa: RUF001 - full width
        ("", None),
        ("Europe", None),
        ("EU", None),
        ("ZZ", None),
        ("XX", None),
        ("276", None),
        ("Narnia", None),
    ],
)
def test_a_country_is_read_by_code_or_name(text: str, code: str | None) -> None:
    assert country(text) == code


@pytest.mark.parametrize(
    ("text", "tag"),
    [
        ("de", "de"),
        ("DE", "de"),
        ("deu", "de"),  # ISO 639-3
        ("en_gb", "en-GB"),
        ("zh-hant-tw", "zh-Hant-TW"),  # RFC 5646, 2.1.1: how subtags are written
        ("sl-rozaj-biske-1994", "sl-rozaj-biske-1994"),
        ("Deutsch", "de"),
        ("German", "de"),
        ("العربية", "ar"),
        ("Arabisch", "ar"),
        ("français", "fr"),
        ("polski", "pl"),
        ("", None),
        ("qqq", None),
        ("yes-no", None),
        ("speaks none", None),
    ],
)
def test_a_language_is_read_by_tag_or_name(text: str, tag: str | None) -> None:
    assert language(text) == tag


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("2025-08-19", date(2025, 8, 19)),
        ("2025-8-9", date(2025, 8, 9)),
        ("2025-08-19T10:00:00Z", date(2025, 8, 19)),
        ("2025-08-19 00:00:00", date(2025, 8, 19)),
        ("20250819", date(2025, 8, 19)),  # ISO 8601 basic form
        ("19.08.2025", date(2025, 8, 19)),
        ("19. 8. 2025", date(2025, 8, 19)),
        ("19.08.25", date(2025, 8, 19)),
        ("19.08.2025 14:05", date(2025, 8, 19)),
        ("\u0661\u0669.\u0660\u0668.\u0662\u0660\u0662\u0665", date(2025, 8, 19)),
        ("2024-02-29", date(2024, 2, 29)),
        ("2025-02-29", None),
        ("31.04.2025", None),
        ("2025-13-01", None),
        ("00.00.0000", None),
        ("1900-01-00", None),
        ("0001-01-01", None),
        ("9999-12-31", None),
        ("08/09/2025", None),
        ("19.08.025", None),
        ("45888", None),
        ("soon", None),
        ("", None),
    ],
)
def test_a_day_is_read_or_is_none(text: str, expected: date | None) -> None:
    assert day(text) == expected


def test_person_and_firm_are_told_apart() -> None:
    assert [kind(text) for text in ("Firma", "COMPANY", "شركة", "privat", "Person", "shop?")] == [
        "firm",
        "firm",
        "firm",
        "person",
        "person",
        None,
    ]


@pytest.mark.property
@given(HOSTILE)
def test_no_text_breaks_a_cell(text: str) -> None:
    found = country(text)

    assert found is None or (len(found) == 2 and found.isupper())
    assert day(text) is None or kind(text) is None
    assert (language(text) or "en").isascii()


@pytest.mark.property
@given(st.dates(min_value=date(1950, 1, 1), max_value=date(2100, 12, 31)))
def test_every_written_day_is_read_back(written: date) -> None:
    assert day(written.isoformat()) == day(written.strftime("%d.%m.%Y")) == written
