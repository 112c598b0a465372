"""What is counted in a text; each number was counted by hand."""

import time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from notices.wording.counting import counted, sentences
from notices.wording.formulas import FORMULAS, Counts
from notices.wording.splitting import pieces


def _words(text: str, language: str = "en") -> list[str]:
    return [word for one in sentences(text, language) for word in one.words]


@pytest.mark.parametrize(
    ("language", "text", "words"),
    [
        ("en", "Don't re-use it; repair/refund — free!", "Don't re-use it repair refund free"),
        ("en", "Code QM-2534-B····, K3.", "Code QM-2534-B···· K3"),
        ("en", "By %(next_word)s, e.g. now.", "By %(next_word)s e.g now"),
        ("en", "Write to safety@aldmere.example.", "Write to safety@aldmere.example"),
        ("en", "Tighten to 16 N·m.", "Tighten to 16 N·m"),
        ("en", "In weeks 40, 41 and 42.", "In weeks 40 41 and 42"),
        ("fr", "L\u2019appareil d'aujourd'hui", "L appareil d aujourdhui"),
        ("it", "L'etichetta dell'apparecchio è qui", "L etichetta dell apparecchio è qui"),
        ("nl", "Foto's zo'n keer", "Foto's zo'n keer"),
        ("ar", "هَلْ تَجِدُونَ الرَّمْز؟", "هل تجدون الرمز"),
        ("es", "¿Dónde está?", "Dónde está"),
        ("de", "u\u0308ber", "über"),
    ],
)
def test_words_are_told_from_signs(language: str, text: str, words: str) -> None:
    assert _words(text, language) == words.split()


def test_the_groups_of_a_telephone_number_are_one_word() -> None:
    assert _words("Call 0808 157 0172, or +49 (0)30 \u2013 2312 5172 now.") == [
        "Call",
        "0808",
        "or",
        "+49",
        "now",
    ]


def test_numbers_codes_addresses_and_placeholders_are_read_as_short_words() -> None:
    found = counted("See aldmere.example/steering-link, code QM-2534-B0172, by %(next_word)s.", "en")

    assert found == Counts(
        words=6, sentences=1, syllables=6, letters=12, one_syllable=6, three_syllables=0, four_syllables=0
    )


@pytest.mark.parametrize(
    ("language", "text", "name", "value"),
    [
        (
            "en",
            "Stop using the lamp. Unplug it from the wall. Do not open the battery cover.",
            "Flesch",
            83.32,
        ),
        ("en", "Stop using the lamp. Unplug it from the wall. Do not open the battery cover.", "Fog", 4.6667),
        ("en", "Stop using the lamp. Unplug it from the wall. Do not open the battery cover.", "ARI", -0.404),
        (
            "de",
            "Benutzen Sie die Lampe nicht mehr. Ziehen Sie den Stecker aus der Steckdose.",
            "Amstad",
            83.5,
        ),
        (
            "de",
            "Benutzen Sie die Lampe nicht mehr. Ziehen Sie den Stecker aus der Steckdose.",
            "Wiener 1",
            4.1695,
        ),
        ("es", "Deje de usar la lámpara. Desconecte el enchufe de la pared.", "Szigriszt", 82.3986),
        ("fr", "Ne touchez plus la lampe. Retirez la fiche de la prise.", "Kandel-Moles", 107.7448),
        ("nl", "Gebruik de lamp niet meer. Haal de stekker uit het stopcontact.", "Douma", 96.725),
        ("pt", "Pare de usar a lâmpada. Tire a ficha da tomada.", "Martins", 91.48),
        ("pl", "Nie używaj lampy. To poważne niebezpieczeństwo.", "Fog, Polish", 7.8667),
        ("cs", "Lampu dále nepoužívejte. Vytáhněte zástrčku ze zásuvky.", "Bendová", 14.443),
    ],
)
def test_a_counted_text_gives_its_worked_example(language: str, text: str, name: str, value: float) -> None:
    found = counted(text, language)

    assert found is not None
    assert FORMULAS[language][name].reckon(found) == pytest.approx(value, abs=5e-4)


def test_an_italian_text_has_its_letters() -> None:
    found = counted("Non usare più la lampada. Stacca la spina dalla presa.", "it")

    assert found is not None
    assert (found.words, found.sentences, found.letters) == (10, 2, 43)


def test_gunnings_hard_words_leave_out_names_and_mere_endings() -> None:
    hard = counted(
        "We examined the unexpected battery from Australia.", "en"
    )  # examined is hard, to carry is not
    easy = counted("We are carrying it.", "en")

    assert hard is not None
    assert easy is not None
    assert (hard.three_syllables, hard.hard_words) == (4, 3)
    assert (easy.three_syllables, easy.hard_words) == (1, 0)


def test_arabic_words_of_more_than_five_letters_are_counted_without_their_marks() -> None:
    found = counted("قَد تَنكَسِر الدراجات.", "ar")

    assert found is not None
    assert (found.words, found.over_five, found.syllables) == (3, 1, 0)


def test_swedish_has_long_words_and_no_syllables() -> None:
    found = counted("Sluta använda cykeln genast.", "sv")

    assert found == Counts(words=4, sentences=1, letters=24, long_words=1)


@pytest.mark.parametrize("text", ["", "...", "?! — ····", "1️⃣"[1:]])
def test_a_text_without_words_has_no_counts(text: str) -> None:
    assert counted(text, "en") is None


@given(st.text(max_size=300), st.sampled_from(["en", "de", "fr", "it", "pl", "ar", "ja", "xx-YY"]))
def test_any_text_is_counted(text: str, language: str) -> None:
    found = counted(text, language)

    assert found is None or found.words >= found.sentences >= 1


@given(st.text(max_size=300), st.sampled_from(["en", "de", "fr"]))
def test_no_sign_is_lost_between_two_sentences(text: str, language: str) -> None:
    assert "".join("".join(pieces(text, language)).split()) == "".join(text.split())


@pytest.mark.parametrize(
    "unit",
    [
        "a.",
        "aaaaaaaaaa ",
        "z. B. ",
        "1. ",
        "                       1. a",
        "l'",
        "a-",
        "http://",
        "@",
        "…",
        "%(",
    ],
)
def test_a_hostile_text_takes_time_in_step_with_its_length(unit: str) -> None:
    begun = time.perf_counter()
    counted(unit * (200_000 // len(unit)), "de")

    assert time.perf_counter() - begun < 10
