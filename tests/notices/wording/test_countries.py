"""Which language a country most likely reads."""

import pytest

from notices.wording.countries import language_of


@pytest.mark.parametrize(
    ("country", "language"), [("DE", "de"), ("IE", "en"), ("EG", "ar"), ("BE", "nl"), ("PL", "pl")]
)
def test_a_country_reads_what_cldr_holds_likely(country: str, language: str) -> None:
    """Values from Unicode CLDR, likely subtags of und_DE and so on, as Babel carries them."""
    assert language_of(country) == language


@pytest.mark.parametrize("country", ["QQ", "", "\x00"])
def test_of_an_unknown_country_nothing_is_guessed(country: str) -> None:
    assert language_of(country) is None
