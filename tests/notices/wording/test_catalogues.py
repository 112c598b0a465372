"""What we say to owners, looked up by its English text."""

import pytest

from notices.wording.catalogues import CatalogueError, missing, msgid, nearest, plural_header, read_catalogue
from notices.wording.placeholders import UnfilledError

HEAD = 'msgid ""\nmsgstr ""\n"Plural-Forms: {}\\n"\n\n'
GERMAN = HEAD.format(plural_header("de")) + (
    'msgid "Yes"\nmsgstr "Ja"\n\n'
    'msgid "By %(day)s, 100 %"\nmsgstr "Bis %(day)s, 100 %"\n\n'
    '#, fuzzy\nmsgid "No"\nmsgstr "Ja"\n\n'
    'msgid "Back"\nmsgstr ""\n\n'
    '#~ msgid "Gone"\n#~ msgstr "Weg"\n\n'
    'msgid "one sign"\nmsgid_plural "%(count)s signs"\nmsgstr[0] "ein Zeichen"\nmsgstr[1] "%(count)s Zeichen"\n'
)


def test_a_sentence_is_said_in_the_language_of_the_catalogue() -> None:
    catalogue = read_catalogue(GERMAN, "de-AT")

    assert catalogue.gettext("Yes") == "Ja"
    assert catalogue.gettext("By %(day)s, 100 %", day="9. März") == "Bis 9. März, 100 %"
    assert catalogue.gettext("By %(day)s, 100 %") == "Bis %(day)s, 100 %"
    assert catalogue.direction == "ltr"


def test_a_value_that_is_lacking_is_not_passed_over() -> None:
    with pytest.raises(UnfilledError):
        read_catalogue(GERMAN, "de").gettext("By %(day)s, 100 %", month="March")


@pytest.mark.parametrize("source", ["No", "Back", "Gone", "Never heard"])
def test_what_nobody_has_looked_at_is_said_in_english(source: str) -> None:
    assert read_catalogue(GERMAN, "de").gettext(source) == source


@pytest.mark.parametrize(("n", "expected"), [(1, "ein Zeichen"), (2, "2 Zeichen"), (0, "0 Zeichen")])
def test_a_counted_sentence_takes_the_form_of_its_number(n: int, expected: str) -> None:
    assert read_catalogue(GERMAN, "de").ngettext("one sign", "%(count)s signs", n) == expected


@pytest.mark.parametrize(("n", "expected"), [(1, "one mark"), (4, "4 marks")])
def test_a_counted_sentence_without_translation_is_said_in_english(n: int, expected: str) -> None:
    assert read_catalogue(GERMAN, "de").ngettext("one mark", "%(count)s marks", n) == expected


def test_what_is_missing_is_told_once_and_in_order() -> None:
    signs = ("one sign", "%(count)s signs")
    wanted: list[str | tuple[str, str]] = ["No", "Yes", "No", signs, "one sign", ("Yes", "Yeses")]

    assert missing(read_catalogue(GERMAN, "de"), wanted) == ("No", "one sign", "Yes")


@pytest.mark.parametrize(
    ("text", "tag", "message"),
    [
        (HEAD.format("nplurals=2; plural=(n != 1);"), "ar", "ar: Plural-Forms must be"),
        ('msgid "a"\nmsgstr "b"\n', "de", "de: Plural-Forms must be"),
        (HEAD.format(plural_header("de")) + "msgid a\n", "de", "de: line 5: "),
        (GERMAN.replace('msgstr[1] "%(count)s Zeichen"\n', ""), "de", "de: line 21: 2 forms are needed"),
        (GERMAN, "tlh", "no plural rule is known for tlh"),
    ],
)
def test_a_catalogue_that_could_speak_wrongly_is_refused(text: str, tag: str, message: str) -> None:
    with pytest.raises(CatalogueError) as refused:
        read_catalogue(text, tag)

    assert message in str(refused.value)


def test_a_marked_text_is_the_text() -> None:
    assert msgid("WARNING") == "WARNING"


@pytest.mark.parametrize(
    ("tag", "served"),
    [("de-AT", "German"), ("DE", "German"), ("en-us", "American"), ("en-GB", "English"), ("da", None)],
)
def test_a_region_is_served_by_its_language(tag: str, served: str | None) -> None:
    shipped = {"de/notices": "German", "en/notices": "English", "en-US/notices": "American", "da/bureau": "x"}

    assert nearest(shipped, tag, "notices") == served
