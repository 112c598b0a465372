"""What a translation must state as its source does: codes, numbers, units, telephone numbers, addresses, no tags."""

import pytest

from notices.campaign.looking import Where
from notices.wording.facts import differences

WHERE = Where(file="translations/de.po", line=7, path="now.steps.all")


def _codes(source: str, text: str) -> list[str]:
    return [finding.code for finding in differences(source, text, WHERE)]


@pytest.mark.parametrize(
    ("source", "text"),
    [
        ("Tighten it to 4.5 N·m.", "Mit 4,5 Nm anziehen."),
        ("It costs 1,000 points.", "Es kostet 1.000 Punkte."),
        ("It costs 1,000 points.", "Cela coûte 1 000 points."),
        ("It costs 1,000 points.", "To kosztuje 1000 punktów."),
        ("Wait 15 minutes.", "انتظر \u0661\u0665 دقيقة."),
        ("Tighten it to 5 Nm.", "شدّه بعزم 5 نيوتن متر."),
        ("Ring before 5 p.m.", "Rufen Sie bis 17 Uhr an."),
        ("Look for QM-2534-B.", "ابحث عن \u2066QM-2534-B\u2069."),
        ("Ring +44 1632 960961.", "Rufen Sie (+44) 1632-960961 an."),
        ("Write to help@quillmoor.example.", "Schreiben Sie an help@quillmoor.example, bitte."),
        ("See https://quillmoor.example/a.", "Siehe https://quillmoor.example/a"),
        ("Two bolts hold it.", "2 Schrauben halten es."),
        ("Tell us by %(next_word)s.", "Melden Sie sich bis %(next_word)s."),
        ("If x < 3 & y > 2.", "Wenn x < 3 & y > 2."),
    ],
)
def test_what_is_stated_in_the_way_of_another_language_is_the_same(source: str, text: str) -> None:
    assert _codes(source, text) == []


@pytest.mark.parametrize(
    ("source", "text", "expected"),
    [
        ("Look for QM-2534-B.", "Suchen Sie QM-2543-B.", ["translation-code", "translation-code-added"]),
        ("Ring +44 1632 960961.", "Rufen Sie an.", ["translation-code"]),
        ("Ring us.", "Rufen Sie +44 1632 960961 an.", ["translation-code-added"]),
        ("See the page.", "Siehe https://elsewhere.example.", ["translation-code-added"]),
        ("Tighten it to 5 Nm.", "Anziehen.", ["translation-number", "translation-unit"]),
        ("Tighten it to 5 Nm.", "Mit 6 Nm anziehen.", ["translation-number"]),
        ("Tighten it to 4.5 Nm.", "Mit 45 Nm anziehen.", ["translation-number"]),
        ("Tighten it to 5 Nm.", "Mit 5 Kilo anziehen.", ["translation-unit"]),
        ("Ring before 5 p.m.", "Rufen Sie bis 18 Uhr an.", ["translation-number"]),
        ("Ring at 5.", "Rufen Sie um 17 Uhr an.", ["translation-number"]),
        ("Stop.", "<b>Halt.</b>", ["translation-tag"]),
        ("Stop.", "Halt&nbsp;jetzt {{ x }}", ["translation-tag"]),
    ],
)
def test_what_was_lost_or_added_on_the_way_is_told(source: str, text: str, expected: list[str]) -> None:
    assert _codes(source, text) == expected


def test_a_fact_is_named_with_the_line_of_its_entry() -> None:
    found = [str(finding).splitlines()[0] for finding in differences("Take 5 mm off.", "Weg.", WHERE)]

    assert found == [
        (
            "translations/de.po:7: must mend [translation-number] now.steps.all: "
            "the translation lacks the number 5, which the source text holds"
        ),
        (
            "translations/de.po:7: consider [translation-unit] now.steps.all: "
            "the translation lacks the unit mm after its number"
        ),
    ]


def test_each_kind_of_difference_has_the_line() -> None:
    found = list(differences("Look for QM-1.", "<i>Siehe</i> QM-2.", WHERE))

    assert [(one.code, one.line) for one in found] == [
        ("translation-code", 7),
        ("translation-code-added", 7),
        ("translation-tag", 7),
    ]
