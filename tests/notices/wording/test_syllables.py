"""Syllables by rule: the sums of the worked examples, and words of the trade that a rule could get wrong."""

import pytest

from notices.wording.syllables import COUNTERS, syllables


@pytest.mark.parametrize(
    ("language", "text", "count"),
    [
        ("en", "Stop using the lamp Unplug it from the wall Do not open the battery cover", 21),
        # Two sentences that explanations of Flesch's formula count: 24 and 23 syllables.
        ("en", "The Australian platypus is seemingly a hybrid of a mammal and reptilian creature", 24),
        ("en", "This sentence taken as a reading passage unto itself is being used to prove a point", 23),
        ("de", "Benutzen Sie die Lampe nicht mehr Ziehen Sie den Stecker aus der Steckdose", 20),
        ("es", "Deje de usar la lámpara Desconecte el enchufe de la pared", 21),
        ("it", "Non usare più la lampada Stacca la spina dalla presa", 18),
        ("fr", "Ne touchez plus la lampe Retirez la fiche de la prise", 14),
        ("nl", "Gebruik de lamp niet meer Haal de stekker uit het stopcontact", 15),
        ("pt", "Pare de usar a lâmpada Tire a ficha da tomada", 18),
        ("pl", "Nie używaj lampy To poważne niebezpieczeństwo", 15),
        ("cs", "Lampu dále nepoužívejte Vytáhněte zástrčku ze zásuvky", 21),
    ],
)
def test_a_worked_example_has_its_syllables(language: str, text: str, count: int) -> None:
    assert sum(syllables(word, language) for word in text.split()) == count


@pytest.mark.parametrize(
    ("language", "words"),
    [
        (
            "en",
            "the 1 free 1 bicycle 3 handlebar 3 safety 2 notice 2 killed 1 injured 2 tightened 2 needed 2",
        ),
        ("en", "makes 1 houses 2 bottles 2 buying 2 carrying 3 idea 3 create 2 creature 2 serious 3 lion 2"),
        ("en", "cautious 2 union 2 didn't 2 don't 1 quiet 2 people 2 business 2 movement 2 settlement 3"),
        ("en", "torque 1 guess 1 centre 2 special 2 reliable 4 video 3 store's 1 handled 2 pulled 1"),
        ("de", "bauen 2 neue 2 Idee 2 aber 2 Abend 2 beenden 3 beide 2 geeignet 3 beurteilen 4 Museum 3"),
        ("de", "Ferien 3 Yacht 1 Quelle 2 Lenkgestänge 4 Sicherungsmutter 5"),
        ("es", "usar 2 día 2 aéreo 4 energía 4 aparato 4 guía 2 que 1 muy 1 y 1 historia 3 construido 3"),
        ("it", "uso 2 mio 2 due 2 via 2 qui 1 qua 1 più 1 già 1 aiuola 3 bicicletta 4"),
        ("pt", "energia 4 água 2 história 3 não 1 ações 2 rio 2 quando 2 quente 2"),
        ("pl", "otwieraj 3 auto 2 nauka 3 europejski 4 linia 2 linii 2 partii 2"),
        ("cs", "vlk 1 prst 1 auto 2 nejlepší 3 naučit 3"),
        ("nl", "open 2 idee 2 ideeën 3 geëist 2 fietsen 2 nieuwe 2 museum 3 mooi 1 kwaliteit 3"),
        (
            "fr",
            "aujourd'hui 3 réalité 4 théâtre 2 langue 1 guidon 2 ouvrier 3 que 1 les 1 moment 2 tournent 1 payer 2",
        ),
    ],
)
def test_a_word_has_its_syllables(language: str, words: str) -> None:
    pairs = dict(zip(words.split()[::2], map(int, words.split()[1::2]), strict=True))

    assert {word: syllables(word, language) for word in pairs} == pairs


def test_a_word_has_at_least_one_syllable_in_any_language() -> None:
    assert {syllables("hmm", language) for language in (*COUNTERS, "sv", "ar")} == {1}
