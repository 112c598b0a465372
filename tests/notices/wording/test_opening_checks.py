"""The first sixty words, and who is named in them."""

import pytest

from notices.wording.opening_checks import late_hazards, unnamed_persons
from tests.readings import reading


def _notice(hazard: int, who: int, *, remedies: str = "") -> str:
    return (
        f"now: {{headline: Stop now.}}\nhazard:\n  what: {'gas ' * hazard}\n  who: {'you ' * who}\n"
        f"warning_headline: Important safety warning\n"
        f"markets: {{EU: {{countries: [IE], headline: Product recall}}}}\n{remedies}"
    )


def test_hazard_action_and_persons_within_sixty_words_are_early_enough() -> None:
    assert list(late_hazards(reading(_notice(30, 24)))) == []  # 1 + 3 + 2 + 30 + 24


def test_what_ends_after_sixty_words_is_named_once() -> None:
    (at_who,) = late_hazards(reading(_notice(30, 25)))
    (at_what,) = late_hazards(reading(_notice(80, 25)))

    assert (at_who.code, at_who.line, at_who.path) == ("hazard-late", 6, "hazard.who")
    assert at_who.message == "an owner has read 61 words where this ends; many read no more than the first 60"
    assert (at_what.line, at_what.path) == (5, "hazard.what")


def test_a_recall_notice_is_counted_with_the_headline_of_its_market() -> None:
    back = "remedies: {back: {kind: refund, all: {promise: All.}}}\n"

    assert list(late_hazards(reading(_notice(30, 25, remedies=back)))) == []
    assert [one.line for one in late_hazards(reading(_notice(30, 26, remedies=back)))] == [6]


def test_a_translation_is_counted_by_itself() -> None:
    german = f'\nmsgctxt "hazard.what"\nmsgid "It leaks."\nmsgstr "{"Gas " * 60}."\n'
    (found,) = late_hazards(reading("hazard: {what: It leaks.}\n", de=german))

    assert (found.file, found.line) == ("translations/de.po", 5)


@pytest.mark.parametrize(
    ("language", "text", "code"),
    [
        ("en", "Severe burns.", "who-nobody"),
        ("en", "You can be killed.", "who-reader-alone"),
        ("de", "Sie können sterben.", "who-reader-alone"),
        ("fr", "Vous pouvez mourir.", "who-reader-alone"),
        ("es", "Quemaduras graves.", "who-nobody"),
    ],
)
def test_who_can_be_hurt_is_more_than_the_reader(language: str, text: str, code: str) -> None:
    (found,) = unnamed_persons(reading(f"language: {language}\nhazard: {{who: '{text}'}}\n"))

    assert (found.code, found.line) == (code, 4)


@pytest.mark.parametrize(
    ("language", "text"),
    [
        ("en", "You, a child in the box and people near you can be killed."),
        ("de", "Sie, Kinder im Kasten und Umstehende können sterben."),
        ("fr", "Vous, un enfant et les personnes proches pouvez mourir."),
        ("es", "Usted, un niño y las personas cercanas pueden morir."),
        ("it", "Lei, un bambino e le persone vicine potete morire."),
        ("nl", "U, een kind en mensen in de buurt kunnen overlijden."),
        ("pl", "Państwo, dziecko i osoby w pobliżu mogą zginąć."),
        ("ar", "قد تموتون."),  # not told by beginnings of words
    ],
)
def test_everyone_named_is_let_pass(language: str, text: str) -> None:
    assert list(unnamed_persons(reading(f"language: {language}\nhazard: {{who: '{text}'}}\n"))) == []
