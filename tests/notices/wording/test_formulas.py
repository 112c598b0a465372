"""Formulas against worked examples: hand counts of our own sentences unless a published source is named."""

import pytest

from notices.wording.formulas import ANY, FORMULAS, Counts, together

LAMP_EN = Counts(
    words=15,
    sentences=3,
    syllables=21,
    letters=59,
    three_syllables=1,
    hard_words=1,
    long_words=1,
    unknown_words=1,
)
LAMP_DE = Counts(
    words=13, sentences=2, syllables=20, letters=62, three_syllables=2, one_syllable=8, long_words=3
)
LAMP_PL = Counts(words=6, sentences=2, syllables=15, four_syllables=1)
ROUND = Counts(words=100, sentences=5, syllables=150, letters=500, long_words=25, hard_words=10)
# Of a hundred words: 20 of three syllables, 30 long, 50 of one syllable; 12 words a sentence.
SHARES = Counts(words=300, sentences=25, three_syllables=60, long_words=90, one_syllable=150)


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
        # "This sentence, taken as a reading passage unto itself, is being used to prove a point."
        ("en", "Flesch", Counts(words=16, sentences=1, syllables=23), 68.9825),  # printed as 68.98
        ("en", "Flesch", ROUND, 59.635),
        ("en", "Flesch-Kincaid", ROUND, 9.91),
        ("en", "Fog", LAMP_EN, 4.6667),
        ("en", "Fog", ROUND, 12.0),
        ("en", "SMOG", LAMP_EN, 6.4274),
        ("en", "SMOG", Counts(words=300, sentences=30, three_syllables=30), 8.8418),
        ("en", "SMOG", Counts(words=300, sentences=30, three_syllables=12), 6.7422),
        ("en", "Coleman-Liau", LAMP_EN, 1.408),
        # Coleman and Liau 1975: 537 letters and 4.20 sentences a hundred words.
        ("en", "Coleman-Liau", Counts(words=1000, sentences=42, letters=5370), 14.532),
        ("en", "ARI", LAMP_EN, -0.404),
        ("en", "ARI", Counts(words=100, sentences=5, letters=450), 9.765),
        ("en", "Dale-Chall", LAMP_EN, 4.9372),  # one word of fifteen is not on the list
        ("en", "Dale-Chall", Counts(words=100, sentences=5, unknown_words=10), 6.2075),
        ("en", "Dale-Chall", Counts(words=100, sentences=5, unknown_words=4), 5.2601),
        ("en", "Dale-Chall, common variant", Counts(words=100, sentences=5, unknown_words=10), 6.2075),
        ("en", "Dale-Chall, common variant", Counts(words=100, sentences=5, unknown_words=4), 1.6236),
        ("en", "New Dale-Chall", Counts(words=100, sentences=5, unknown_words=10), 40.7),
        ("de", "Amstad", LAMP_DE, 83.5),
        ("de", "Amstad", Counts(words=100, sentences=8, syllables=180), 62.2),
        ("de", "Wiener 1", LAMP_DE, 4.1695),
        ("de", "Wiener 2", LAMP_DE, 4.5705),
        ("de", "Wiener 3", LAMP_DE, 4.6823),
        ("de", "Wiener 4", LAMP_DE, 4.2549),
        ("de", "Wiener 1", SHARES, 7.2574),
        ("de", "Wiener 2", SHARES, 7.3724),
        ("de", "Wiener 3", SHARES, 7.0976),
        ("de", "Wiener 4", SHARES, 6.9822),
        ("es", "Fernández Huerta", Counts(words=11, sentences=2, syllables=21), 86.6845),
        ("es", "Fernández Huerta", Counts(words=100, sentences=5, syllables=200), 66.44),
        ("es", "Szigriszt", Counts(words=11, sentences=2, syllables=21), 82.3986),
        ("es", "Szigriszt", Counts(words=100, sentences=5, syllables=200), 62.235),
        ("it", "Gulpease", Counts(words=10, sentences=2, letters=43), 100.0),  # 106 before it is cut
        ("it", "Gulpease", ROUND, 54.0),
        ("it", "Flesch-Vacca", Counts(words=100, sentences=5, syllables=190), 77.0),
        ("fr", "Kandel-Moles", Counts(words=11, sentences=2, syllables=14), 107.7448),
        ("fr", "Kandel-Moles", Counts(words=11, sentences=2, syllables=17), 87.6721),  # with every mute e
        ("fr", "Kandel-Moles", ROUND, 76.3),
        ("nl", "Douma", Counts(words=11, sentences=2, syllables=15), 96.725),
        ("nl", "Brouwer", Counts(words=11, sentences=2, syllables=15), 93.0909),
        ("nl", "Douma", ROUND, 72.74),
        ("nl", "Brouwer", ROUND, 55.0),
        ("pt", "Martins", Counts(words=10, sentences=2, syllables=18), 91.48),
        ("pt", "Martins", Counts(words=100, sentences=5, syllables=200), 59.335),
        ("pl", "Fog, Polish", LAMP_PL, 7.8667),
        ("pl", "Fog, Polish", Counts(words=150, sentences=10, four_syllables=15), 10.0),
        ("pl", "Pisarek, linear", LAMP_PL, 7.5556),
        ("pl", "Pisarek, linear", Counts(words=150, sentences=10, four_syllables=15), 9.3333),
        ("pl", "Pisarek, non-linear", LAMP_PL, 8.4673),
        ("pl", "Pisarek, non-linear", Counts(words=150, sentences=10, four_syllables=15), 9.0139),
        ("cs", "Bendová", Counts(words=7, sentences=2, syllables=21), 14.443),
        (
            "ar",
            "OSMAN",
            Counts(words=20, sentences=2, syllables=60, over_five=3, over_four_syllables=1, faseeh=2),
            110.8437,
        ),
    ],
)
def test_a_formula_gives_its_worked_example(language: str, name: str, counts: Counts, value: float) -> None:
    assert FORMULAS[language][name].reckon(counts) == pytest.approx(value, abs=5e-4)


def test_the_formulas_for_any_language_give_their_worked_examples() -> None:
    lix, rix = ANY["LIX"].reckon, ANY["RIX"].reckon

    assert (lix(LAMP_EN), rix(LAMP_EN)) == pytest.approx((11.6667, 0.3333), abs=1e-4)
    assert (lix(LAMP_DE), rix(LAMP_DE)) == pytest.approx((29.5769, 1.5), abs=1e-4)
    assert (lix(ROUND), rix(ROUND)) == (45.0, 5.0)


def test_every_formula_names_its_source_and_every_dispute_says_so() -> None:
    every = [formula for some in (*FORMULAS.values(), ANY) for formula in some.values()]

    assert all(formula.source for formula in every)
    assert "disputed" in FORMULAS["fr"]["Kandel-Moles"].unsure
    assert "disputed" in FORMULAS["en"]["Dale-Chall"].unsure


@pytest.mark.parametrize(("words", "sentences"), [(0, 1), (1, 0)])
def test_counts_of_no_text_are_refused(words: int, sentences: int) -> None:
    with pytest.raises(ValueError, match="at least one word and one sentence"):
        Counts(words=words, sentences=sentences)


def test_the_counts_of_several_texts_are_their_sums() -> None:
    some = Counts(words=5, sentences=1, syllables=7, unknown_words=2)

    assert together([some, some]) == Counts(words=10, sentences=2, syllables=14, unknown_words=4)


def test_what_one_text_does_not_count_is_not_counted_of_all() -> None:
    found = together([Counts(words=5, sentences=1, unknown_words=2), Counts(words=5, sentences=1)])

    assert found == Counts(words=10, sentences=2)
    assert together([]) is None
