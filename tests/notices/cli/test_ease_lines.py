"""How easy the notice reads, as check prints it and as JSON."""

from notices.cli.ease_lines import as_json, lines
from notices.wording.ease import eases
from tests.readings import reading

EASY = "Stop now. The gas can burn. " * 10


def test_each_language_has_a_line_with_its_counts_score_aim_and_band() -> None:
    french = f'\nmsgctxt "hazard.what"\nmsgid "{EASY.strip()}"\nmsgstr "{"Le gaz peut prendre feu. " * 10}"\n'
    arabic = f'\nmsgctxt "hazard.what"\nmsgid "{EASY.strip()}"\nmsgstr "{"قد يشتعل الغاز الآن. " * 10}"\n'
    found = eases(reading(f"hazard: {{what: '{EASY}'}}\n", fr=french, ar=arabic))

    assert list(lines(found)) == [
        "How the notice reads, by published formulas; no score says that anybody understood it:",
        "  en  60 words  3.0 a sentence  Flesch 119.2        aim 65 or more  very easy, school year 5, indicative",
        "  fr  50 words  5.0 a sentence  Kandel-Moles 128.3  aim 65 or more  indicative, disputed",
        "  ar  40 words  4.0 a sentence  no score: counts only",
        "",
    ]


def test_a_text_of_fewer_than_thirty_words_has_no_score() -> None:
    found = eases(reading("hazard: {what: It leaks.}\n"))

    assert list(lines(found))[1:] == ["  en  2 words  2.0 a sentence  no score under 30 words", ""]


def test_a_language_without_an_aim_says_so() -> None:
    found = eases(reading(f"language: fi\nhazard: {{what: '{'Kaasu voi palaa. ' * 40}'}}\n"))

    assert list(lines(found))[1] == "  fi  120 words  3.0 a sentence  LIX 3.0  no aim  very easy, disputed"


def test_a_campaign_without_words_has_no_table() -> None:
    assert list(lines(())) == []


def test_json_holds_every_count_and_every_score_with_its_source() -> None:
    (found,) = eases(reading(f"hazard: {{what: '{EASY}'}}\n"))
    held = as_json(found)
    scores = held["scores"]

    assert {key: held[key] for key in ("language", "words", "sentences", "syllables", "letters")} == {
        "language": "en",
        "words": 60,
        "sentences": 20,
        "syllables": 60,
        "letters": 200,
    }
    assert isinstance(scores, list)
    assert scores[0] == {
        "formula": "Flesch",
        "value": 119.19,
        "indicative": True,
        "band": "very easy, school year 5",
        "aim": "65 or more",
        "met": True,
        "source": "Flesch 1948, J. Appl. Psych. 32(3)",
        "unsure": "",
    }
    assert scores[-1]["aim"] is None
    assert held["hardest"] == [
        {"file": "campaign.yaml", "path": "hazard.what", "words": 2, "text": "Stop now."},
        {"file": "campaign.yaml", "path": "hazard.what", "words": 4, "text": "The gas can burn."},
        {"file": "campaign.yaml", "path": "hazard.what", "words": 2, "text": "Stop now."},
    ]


def test_json_has_no_syllables_where_none_are_counted() -> None:
    (found,) = eases(reading("language: sv\nhazard: {what: Sluta genast.}\n"))

    assert as_json(found)["syllables"] is None
    assert as_json(found)["words_of_one_syllable"] is None
