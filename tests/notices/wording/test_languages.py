"""Which language an owner is written to, and how it runs."""

import pytest
from babel import Locale
from babel.localedata import locale_identifiers

from notices.wording.languages import autonym, choices, choose, direction, locale_of

WRITTEN = ("en", "de", "ar", "he", "nb", "zh-Hant", "pt-BR")


@pytest.mark.parametrize(
    ("preferred", "expected"),
    [
        (("de-AT",), "de"),
        (("de_AT",), "de"),
        (("fr", "de"), "de"),
        (("fr-CH", "it"), "en"),
        (("iw",), "he"),
        (("iw-IL",), "he"),
        (("no",), "nb"),
        (("zh-TW",), "zh-Hant"),
        (("zh-CN",), "en"),
        (("pt",), "en"),
        (("de-x-a-b", "ar"), "de"),
        ((), "en"),
        (("",), "en"),
        (("-", "\x00", "%(x)s", "<b>"), "en"),
    ],
)
def test_an_owner_is_served_in_the_first_language_that_is_written(
    preferred: tuple[str, ...], expected: str
) -> None:
    assert choose(preferred, WRITTEN, default="en") == expected


def test_an_old_tag_among_the_written_serves_a_reader_of_the_new() -> None:
    assert choose(["he"], ["en", "iw"], default="en") == "iw"


@pytest.mark.parametrize(
    ("tag", "expected"),
    [("ar", "rtl"), ("ar-EG", "rtl"), ("iw", "rtl"), ("en", "ltr"), ("az-Arab", "rtl"), ("ar-Latn", "ltr")],
)
def test_a_text_runs_as_its_script_does(tag: str, expected: str) -> None:
    assert direction(tag) == expected


def test_every_language_of_cldr_runs_as_cldr_says() -> None:
    """Compare with Unicode CLDR, layout/orientation/characterOrder, in the copy that Babel carries."""
    different = {}
    for identifier in locale_identifiers():
        locale = Locale.parse(identifier)
        expected = "rtl" if locale.character_order == "right-to-left" else "ltr"
        if direction(identifier) != expected:
            different[identifier] = expected

    assert different == {}


@pytest.mark.parametrize(
    ("tag", "expected"),
    [("de", "Deutsch"), ("fr", "Français"), ("ar", "العربية"), ("xx-unheard", "xx-unheard"), ("", "")],
)
def test_a_language_is_called_as_its_readers_call_it(tag: str, expected: str) -> None:
    assert autonym(tag) == expected


@pytest.mark.parametrize(("tag", "expected"), [("de-AT", "de_AT"), ("en", "en_001"), ("zz-\x00", "en_001")])
def test_formats_come_from_the_nearest_locale(tag: str, expected: str) -> None:
    assert str(locale_of(tag)) == expected


@pytest.mark.parametrize(
    ("current", "first"),
    [("de", ("en", "English")), ("en-US", ("en-US", "English")), ("en", ("en", "English"))],
)
def test_a_reader_chooses_among_languages_not_regions(current: str, first: tuple[str, str]) -> None:
    written = ("en", "en-US", "de", "zh-Hans-CN", "zh-Hant", "es-419")

    assert choices(written, current) == [
        first,
        ("de", "Deutsch"),
        ("zh-Hans-CN", "中文 (简体)"),
        ("zh-Hant", "中文 (繁體)"),
        ("es-419", "Español"),
    ]
