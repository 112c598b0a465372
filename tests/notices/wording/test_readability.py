"""Which scores a text gets, how firm they are, and what they are held against."""

import pytest

from notices.wording.formulas import Counts
from notices.wording.readability import AIMS, BANDS, band, scores

ROUND = Counts(words=100, sentences=5, syllables=150, letters=500, long_words=25)


@pytest.mark.parametrize(("words", "indicative"), [(30, True), (99, True), (100, False)])
def test_a_short_text_is_only_indicative(words: int, *, indicative: bool) -> None:
    found = scores("nl-BE", Counts(words=words, sentences=5, syllables=150))

    assert [score.name for score in found] == ["Douma", "Brouwer", "LIX", "RIX"]
    assert {score.indicative for score in found} == {indicative}


def test_a_formula_made_for_thirty_sentences_is_indicative_below_them() -> None:
    few = {score.name: score.indicative for score in scores("en-GB", ROUND)}
    many = {score.name: score.indicative for score in scores("en", Counts(words=300, sentences=30))}

    assert few["SMOG"]
    assert not few["Flesch"]
    assert not many["SMOG"]


def test_nothing_is_said_of_fewer_than_thirty_words() -> None:
    assert scores("en", Counts(words=29, sentences=3)) == ()


def test_arabic_has_its_counts_and_no_score_until_somebody_counts_its_syllables() -> None:
    written = Counts(words=200, sentences=20, over_five=31)
    read_aloud = Counts(words=200, sentences=20, syllables=500, over_five=31, over_four_syllables=9, faseeh=4)

    assert scores("ar", written) == ()
    assert [score.name for score in scores("ar", read_aloud)] == ["OSMAN"]


def test_formulas_that_ask_for_a_list_of_words_say_nothing_without_it() -> None:
    names = [score.name for score in scores("en", ROUND)]

    assert names == ["Flesch", "Flesch-Kincaid", "Fog", "SMOG", "Coleman-Liau", "ARI", "LIX", "RIX"]


def test_swedish_and_danish_have_the_formulas_for_any_language() -> None:
    assert [score.name for score in scores("sv", ROUND)] == ["LIX", "RIX"]
    assert [score.name for score in scores("da", ROUND)] == ["LIX", "RIX"]


def test_a_language_without_formulas_of_its_own_is_held_to_no_aim() -> None:
    assert [(score.name, score.aim) for score in scores("fi", ROUND)] == [("LIX", None), ("RIX", None)]


@pytest.mark.parametrize(
    ("name", "value", "words"),
    [
        ("Flesch", 29.9, "very hard, graduate"),
        ("Flesch", 60.0, "standard, school year 8 and 9"),
        ("Flesch", 120.0, "very easy, school year 5"),
        ("Wiener 1", 3.2, "school year 4"),
        ("Wiener 1", 12.9, "school year 12"),
        ("Wiener 1", 13.0, "very hard"),
        ("LIX", 30.0, "easy"),
        ("LIX", 61.0, "very hard"),
        ("RIX", 0.1, "US grade 1"),
        ("RIX", 6.2, "US grade 12"),
        ("RIX", 7.2, "college"),
        ("Szigriszt", 55.0, "normal"),
        ("Gulpease", 59.9, "hard after lower secondary school"),
        ("Douma", 90.0, "very easy"),
        ("Fog, Polish", 9.9, "plain"),
        ("Martins", 50.0, "easy"),
        ("Kandel-Moles", 50.0, ""),  # no bands were found in print
    ],
)
def test_a_score_falls_into_its_published_band(name: str, value: float, words: str) -> None:
    assert band(name, value) == words


def test_every_aim_and_every_band_belongs_to_a_formula_of_the_language() -> None:
    rich = Counts(words=100, sentences=30, unknown_words=1, over_four_syllables=1, faseeh=1)
    known = {tag: {score.name for score in scores(tag, rich)} for tag in AIMS}

    assert all({aim.formula for aim in aims} <= known[tag] for tag, aims in AIMS.items())
    assert BANDS.keys() <= set().union(*known.values())


def test_an_aim_is_met_from_its_limit_on() -> None:
    flesch, grade = AIMS["en"]

    assert (flesch.met(65), flesch.met(64.9), str(flesch)) == (True, False, "65 or more")
    assert (grade.met(7), grade.met(7.1), str(grade)) == (True, False, "7 or less")
