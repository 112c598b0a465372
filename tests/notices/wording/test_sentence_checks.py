"""Sentences, paragraphs and days in each language, with the place of what is found."""

import pytest

from audiences.findings import Finding, Severity
from notices.wording.sentence_checks import dates_in_figures, long_sentences, long_texts
from tests.readings import reading

LONG = " ".join(["The valve of the stove can leak gas that nobody smells"] * 4) + " now"  # 45 words

GERMAN = f"""
msgctxt "hazard.what"
msgid "The valve can leak."
msgstr "{" ".join(["Das Ventil kann undicht sein, und"] * 4)}."
"""


def _said(found: Finding) -> str:
    return f"{found.file}:{found.line}: [{found.code}] {found.message}"


def test_a_sentence_of_forty_five_words_is_named_with_its_line() -> None:
    (found,) = long_sentences(reading(f"hazard:\n  what: Stop now. {LONG}. Call us.\n"))

    assert (found.line, found.path, found.severity) == (4, "hazard.what", Severity.CONSIDER)
    assert _said(found) == (
        "campaign.yaml:4: [sentence-long] this sentence has 45 words: The valve of the stove can leak gas …"
    )


def test_a_long_sentence_is_found_in_its_translation() -> None:
    (found,) = long_sentences(reading("hazard:\n  what: The valve can leak.\n", de=GERMAN))

    assert _said(found) == (
        "translations/de.po:5: [sentence-long] this sentence has 24 words:"
        " Das Ventil kann undicht sein, und Das Ventil …"
    )


@pytest.mark.parametrize(("words", "count"), [(20, 0), (21, 1)])
def test_twenty_words_are_not_too_many(words: int, count: int) -> None:
    found = list(long_sentences(reading(f"hazard: {{what: {'gas ' * words}}}\n")))

    assert len(found) == count


@pytest.mark.parametrize(("sentences", "count"), [(5, 0), (6, 1)])
def test_a_paragraph_has_five_sentences_at_most(sentences: int, count: int) -> None:
    found = [_said(one) for one in long_texts(reading(f"hazard: {{what: {'Stop. ' * sentences}}}\n"))]

    assert found == ["campaign.yaml:3: [paragraph-long] this paragraph has 6 sentences"] * count


@pytest.mark.parametrize(
    ("text", "read_as"),
    [
        ("03/05/2026", "is 3 May to some readers, and 5 March to others"),
        ("5.3.26", "is 3 May to some readers, and 5 March to others"),
        ("5. 3. 2026", "is 3 May to some readers, and 5 March to others"),
        ("13-03-2026", "is a day in figures, which not every reader knows how to read"),
        ("03/03/2026", "is a day in figures, which not every reader knows how to read"),
        ("2026-03-05", "is a day in figures, which not every reader knows how to read"),
    ],
)
def test_a_day_in_figures_is_named(text: str, read_as: str) -> None:
    (found,) = dates_in_figures(reading(f"before_remedy: You hear by {text}.\n"))

    assert _said(found) == f"campaign.yaml:3: [date-in-figures] {text} {read_as}"


@pytest.mark.parametrize(
    "text",
    [
        "5 March 2026",
        "16.5.1",
        "40/41/2025",
        "1/2",
        "0808 157 0172",
        "fellbrook.example/1/2/2026",
        "EM-2025-33-14",
        "1.2.2026.4",
        "2026-13-40",
    ],
)
def test_what_is_no_day_in_figures_is_let_pass(text: str) -> None:
    assert list(dates_in_figures(reading(f"before_remedy: You find {text} there.\n"))) == []
