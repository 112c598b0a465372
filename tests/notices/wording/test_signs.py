"""A word is the same word however it was typed."""

import unicodedata

import pytest

from notices.wording import signs


@pytest.mark.parametrize(
    ("typed", "own", "plain"),
    [
        ("VOLUNTARY", "en", "voluntary"),
        ("\uff56\uff4f\uff4c\uff55\uff4e\uff54\uff41\uff52\uff59", "en", "voluntary"),
        ("vol\u00adun\u200btary\ufeff", "en", "voluntary"),
        ("volun-\n  tary recall", "en", "voluntary recall"),
        ("volun\u00ad tary", "en", "voluntary"),
        ("no\u00a0accidents", "en", "no accidents"),
        ("précaution", "fr", "precaution"),
        (unicodedata.normalize("NFD", "précaution"), "fr", "precaution"),
        ("Unfälle", "de", "unfaelle"),
        (unicodedata.normalize("NFD", "Unfälle"), "de", "unfaelle"),
        ("Unfaelle", "de", "unfaelle"),
        ("MASSNAHME Maßnahme", "de", "massnahme massnahme"),
        ("på øen", "da", "paa oeen"),
        ("łódź", "pl", "lodz"),
        ("اِحْتِيَاطِيّ", "ar", "احتياطي"),
        ("طـــوعي", "ar", "طوعي"),
        ("إجراء أي حالةٍ", "ar", "اجراء اي حاله"),
        ("\u0660 حوادث", "ar", "0 حوادث"),
        ("d\u2019office", "fr", "d'office"),
    ],
)
def test_a_text_is_compared_by_what_a_reader_sees(typed: str, own: str, plain: str) -> None:
    assert signs.folded(signs.joined(typed), own) == plain


def test_a_dash_between_words_joins_nothing() -> None:
    assert signs.joined("stop - now") == "stop - now"


def test_hyphens_inside_words_can_be_taken_out() -> None:
    assert signs.without_hyphens("volun-tary, 3-4 - b") == "voluntary, 3-4 - b"


def test_what_was_found_is_quoted_as_it_was_typed() -> None:
    text = signs.joined("Keine Un\u00adfälle, straße")
    plain = signs.folded(text, "de")
    start = plain.index("unfaelle")

    assert plain == "keine unfaelle, strasse"
    assert signs.between(text, "de", start, start + len("unfaelle")) == "Unfälle"
    assert signs.between(text, "de", len(plain) - 7, len(plain)) == "straße"
