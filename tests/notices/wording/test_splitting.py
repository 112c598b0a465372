"""Where a sentence ends, in the languages of the notices; hostile texts stand in test_counting.py."""

import pytest

from notices.wording.splitting import pieces


@pytest.mark.parametrize(
    ("language", "text"),
    [
        ("en", "Use e.g. a spanner."),
        ("en", "Call Ms. Lee at 5 p.m. today."),
        ("en", "It was built in the U.S. for us."),
        ("en", "See No. 5 and fig. 2."),
        ("en", "Tighten to 16 N·m, 3.5 turns, by 12.30."),
        ("en", "The code is QM-2534-B···· as we know it."),
        ("en", "Open https://aldmere.example/a.b?c=1.5 or aldmere.example/steering-link."),
        ("en", "We write by %(next_word)s, or call +44 808 157 0172."),
        ("en", "Wait… then stop."),
        ("en", "“Stop!” he said."),
        ("en", "1. Stop."),
        ("de", "Nehmen Sie z. B. den Schlüssel."),
        ("de", "Fragen Sie Dr. Meier bzw. Frau Kern."),
        ("de", "Wir schreiben am 3. März 2026."),
        ("de", "Wir kommen am 1. Tag."),
        ("de", "Das ist d. h. nur am 2. und 3. wahr."),
        ("pl", "Proszę np. zadzwonić 3. marca."),
        ("cs", "Voláme 3. března."),
        ("es", "Use p. ej. agua."),
        ("es", "¿Dónde está?"),
        ("fr", "Voir p. 5, art. 36."),
        ("ar", "قد تنكسر الوصلة، دون أي علامة."),
    ],
)
def test_a_full_stop_inside_ends_no_sentence(language: str, text: str) -> None:
    assert list(pieces(text, language)) == [text]


@pytest.mark.parametrize(
    ("language", "first", "second"),
    [
        ("en", "They are of line B.", "Bicycles of line C are not."),
        ("en", "See No.", "Never mind."),
        ("en", "Bring nuts, bolts etc.", "Then stop."),
        ("en", "Come before 5 p.m.", "Then we close."),
        ("en", "It was built in the U.S.", "We sold it."),
        ("en", "stop now.", "we come to you."),
        ("en", "We stop…", "Then we go."),
        ("en", "Stop now!", "do not ride."),
        ("en", "Stop.", "Stop!"),
        ("en", "It has 3.", "Take two."),
        ("en", "(Call us.)", "We come."),
        ("en", "Is it you?", "Then call"),
        ("de", "Drehen Sie bis 16.", "Dann hören Sie auf."),
        ("fr", "Il y en a 3.", "mars"),
        ("de", "Fahren Sie nicht usw.", "Danach rufen Sie an."),
        ("es", "¡Pare!", "¿Dónde está?"),
        ("ar", "هل تجدون الرمز؟", "أخبرونا."),
        ("ja", "止めてください。", "電話してください。"),
    ],
)
def test_a_sentence_ends_where_the_next_begins(language: str, first: str, second: str) -> None:
    assert [piece.strip() for piece in pieces(f"{first} {second}", language)] == [first, second]


@pytest.mark.parametrize("text", ["", "   ", "\n"])
def test_a_text_without_signs_has_no_sentence(text: str) -> None:
    assert list(pieces(text, "en")) == []


def test_a_full_stop_with_nothing_before_it_ends_a_piece() -> None:
    assert list(pieces(". Stop.", "en")) == [".", "Stop."]
