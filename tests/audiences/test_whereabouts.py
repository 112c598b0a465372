"""Which language and which time zone a country tells of, and how surely."""

import pytest

from audiences.columns import guess, read_rows
from audiences.findings import Finding
from audiences.tables import read_csv
from audiences.whereabouts import language_of, several_languages, several_time_zones, time_zone


@pytest.mark.parametrize(
    ("country", "language"), [("DE", "de"), ("IE", "en"), ("EG", "ar"), ("BE", "nl"), ("PL", "pl")]
)
def test_a_country_reads_what_cldr_holds_likely(country: str, language: str) -> None:
    """Values from Unicode CLDR, likely subtags of und_DE and so on, as Babel carries them."""
    assert language_of(country) == language


@pytest.mark.parametrize("country", ["QQ", "", "\x00"])
def test_of_an_unknown_country_nothing_is_guessed(country: str) -> None:
    assert language_of(country) is None
    assert time_zone(country) is None
    assert not several_languages(country)
    assert not several_time_zones(country)


@pytest.mark.parametrize(
    ("country", "several"),
    # official languages: Belgian constitution, art. 4; Swiss Federal Constitution, art. 70 (from memory)
    [("BE", True), ("CH", True), ("FI", True), ("CA", True), ("DE", False), ("IE", False), ("ES", False)],
)
def test_a_country_of_several_languages_tells_none_for_sure(country: str, several: bool) -> None:  # noqa: FBT001 - a table of answers
    assert several_languages(country) is several


@pytest.mark.parametrize(
    ("country", "zone"),
    # IANA time zone database, zone.tab; Büsingen keeps Berlin's clock, the Canary Islands not Madrid's
    [
        ("GB", "Europe/London"),
        ("DE", "Europe/Berlin"),
        ("EG", "Africa/Cairo"),
        ("ES", None),
        ("US", None),
        ("PT", None),
    ],
)
def test_a_country_of_one_clock_has_a_time_zone(country: str, zone: str | None) -> None:
    assert time_zone(country) == zone
    assert several_time_zones(country) is (zone is None)


def said(*rows: str) -> list[Finding]:
    """Return what is found in a list with these rows."""
    text = "\n".join(["name,street,town,country,language,phone", *rows])
    table = read_csv(text.encode(), "sales.csv")
    _, findings = read_rows(table, guess(table.headings), default_country=None)
    return list(findings)


def test_what_a_country_does_not_tell_is_said_once_a_list() -> None:
    found = said(
        "Anna Berg,Quai 1,Gent,BE,,",
        "Ben Berg,Quai 1,Gent,BE,fr,",
        "Cem Berg,Quai 1,Bern,CH,,",
        "Dee Berg,Quai 1,Reno,US,,(510) 748-8230",
        "Eva Berg,Quai 1,Reno,US,,",
    )

    assert [str(one).split("\n", maxsplit=1)[0] for one in found] == [
        (
            "sales.csv:2: consider [language-of-several] 2 rows (BE, CH), this one first, give no language, and the"
            " country has several; the likeliest is taken"
        ),
        (
            "sales.csv:5: consider [time-zone-of-several] this row (US) gives a telephone number and no time zone, and"
            " the country has several"
        ),
    ]


def test_a_number_that_no_plan_gives_out_is_pointed_out_and_used() -> None:
    (doubtful,) = said("Anna Berg,Quai 1,London,GB,,+12001230101")

    assert str(doubtful).startswith("sales.csv:2: consider [phone-not-in-plan] phone: ")
