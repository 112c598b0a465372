"""Formulas against worked examples: hand counts of our own sentences unless a published source is named."""

import pytest

from notices.wording.readability import ANY, FORMULAS, Counts, scores

LAMP_EN = Counts(words=15, sentences=3, syllables=21, letters=59, three_syllables=1, long_words=1)
LAMP_DE = Counts(
    words=13, sentences=2, syllables=20, letters=62, three_syllables=2, one_syllable=8, long_words=3
)
LAMP_PL = Counts(words=6, sentences=2, syllables=15, four_syllables=1)
ROUND = Counts(words=100, sentences=5, syllables=150, letters=500, long_words=25)


@pytest.mark.parametrize(
    ("language", "name", "counts", "value"),
    [
        ("en", "Flesch", LAMP_EN, 83.32),
        ("en", "Flesch-Kincaid", LAMP_EN, 2.88),
        # "The cat sat on the mat.": the common worked example of both formulas.
        ("en", "Flesch", Counts(words=6, sentences=1, syllables=6), 116.145),
        ("en", "Flesch-Kincaid", Counts(words=6, sentences=1, syllables=6), -1.45),
        # "The Australian platypus is seemingly a hybrid of a mammal and reptilian creature."
        ("en", "Flesch", Counts(words=13, sentences=1, syllables=24), 37.455),
        ("en", "Flesch", ROUND, 59.635),
        ("en", "Flesch-Kincaid", ROUND, 9.91),
        ("de", "Amstad", LAMP_DE, 83.5),
        ("de", "Wiener 1", LAMP_DE, 4.1695),
        ("es", "Fernández Huerta", Counts(words=11, sentences=2, syllables=21), 86.6845),
        ("es", "Szigriszt", Counts(words=11, sentences=2, syllables=21), 82.3986),
        ("es", "Szigriszt", Counts(words=100, sentences=5, syllables=200), 62.235),
        ("it", "Gulpease", Counts(words=10, sentences=2, letters=43), 100.0),  # 106 before it is cut
        ("it", "Gulpease", ROUND, 54.0),
        ("it", "Flesch-Vacca", Counts(words=100, sentences=5, syllables=190), 77.0),
        ("fr", "Kandel-Moles", Counts(words=11, sentences=2, syllables=17), 87.67),
        ("fr", "Kandel-Moles", ROUND, 76.3),
        ("nl", "Douma", Counts(words=11, sentences=2, syllables=15), 96.725),
        ("nl", "Brouwer", Counts(words=11, sentences=2, syllables=15), 93.0909),
        ("nl", "Douma", ROUND, 72.74),
        ("nl", "Brouwer", ROUND, 55.0),
        ("pt", "Martins", Counts(words=10, sentences=2, syllables=18), 91.48),
        ("pl", "Fog, Polish", LAMP_PL, 7.8667),
        ("pl", "Pisarek, linear", LAMP_PL, 7.5556),
        ("pl", "Pisarek, non-linear", LAMP_PL, 8.4673),
        ("cs", "Bendová", Counts(words=7, sentences=2, syllables=21), 14.443),
    ],
)
def test_a_formula_gives_its_worked_example(language: str, name: str, counts: Counts, value: float) -> None:
    assert FORMULAS[language][name].reckon(counts) == pytest.approx(value, abs=5e-3)


def test_the_formulas_for_any_language_give_their_worked_examples() -> None:
    lix, rix = ANY["LIX"].reckon, ANY["RIX"].reckon

    assert (lix(LAMP_EN), rix(LAMP_EN)) == pytest.approx((11.6667, 0.3333), abs=1e-4)
    assert (lix(LAMP_DE), rix(LAMP_DE)) == pytest.approx((29.5769, 1.5), abs=1e-4)
    assert (lix(ROUND), rix(ROUND)) == (45.0, 5.0)


@pytest.mark.parametrize(("words", "count", "indicative"), [(30, 4, True), (99, 4, True), (100, 4, False)])
def test_a_short_text_is_only_indicative(words: int, count: int, *, indicative: bool) -> None:
    found = scores("en-GB", Counts(words=words, sentences=5, syllables=150))

    assert len(found) == count
    assert {score.indicative for score in found} == {indicative}


def test_nothing_is_said_of_fewer_than_thirty_words_or_of_arabic() -> None:
    assert scores("en", Counts(words=29, sentences=3)) == ()
    assert scores("ar", Counts(words=200, sentences=20)) == ()


def test_swedish_and_danish_have_the_formulas_for_any_language() -> None:
    assert [score.name for score in scores("sv", ROUND)] == ["LIX", "RIX"]
    assert [score.name for score in scores("da", ROUND)] == ["LIX", "RIX"]


@pytest.mark.parametrize(("words", "sentences"), [(0, 1), (1, 0)])
def test_counts_of_no_text_are_refused(words: int, sentences: int) -> None:
    with pytest.raises(ValueError, match="at least one word and one sentence"):
        Counts(words=words, sentences=sentences)
