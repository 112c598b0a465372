"""Who does it: passives without an actor, in English and German."""

import pytest

from notices.wording.voice import without_actor
from tests.readings import reading


@pytest.mark.parametrize(
    ("language", "text", "words"),
    [
        ("en", "The ball joints are replaced too.", "are replaced"),
        ("en", "The part will be sent to you.", "be sent"),
        ("en", "It must not be carefully cleaned, but dry.", "be cleaned"),
        ("en", "The valve is also being checked.", "being checked"),
        ("de", "Auch die Kugelgelenke werden ersetzt.", "werden ersetzt"),
        ("de", "Das Teil wird Ihnen zugeschickt.", "wird zugeschickt"),
        ("de", "Das Rad wird abgeholt, und Sie warten.", "wird abgeholt"),
        ("de", "Die Muttern werden neu montiert.", "werden montiert"),
    ],
)
def test_a_promise_that_names_nobody_is_found(language: str, text: str, words: str) -> None:
    (found,) = without_actor(reading(f"language: {language}\nbefore_remedy: '{text}'\n"))

    assert (found.code, found.line) == ("passive-without-actor", 4)
    assert found.message == f"nobody is named who does it: “{words}”"


@pytest.mark.parametrize(
    ("language", "text"),
    [
        ("en", "A mechanic replaces the ball joints."),
        ("en", "The joints are replaced by a mechanic."),
        ("en", "Until your bicycle is repaired, we pay."),
        ("en", "Your bicycle is affected."),
        ("en", "It is red, and we need it."),
        ("de", "Wir werden das Rad reparieren."),
        ("de", "Es wird von einem Mechaniker geprüft."),
        ("de", "Wir werden zu Ihnen gehen."),
        ("de", "Sie werden"),
        ("de", "Ein Mechaniker kommt."),
        ("fr", "La pièce est remplacée."),  # not told by signs
    ],
)
def test_who_acts_is_named_or_not_looked_for(language: str, text: str) -> None:
    assert list(without_actor(reading(f"language: {language}\nbefore_remedy: '{text}'\n"))) == []


def test_what_happens_to_people_is_no_instruction() -> None:
    found = reading("hazard: {who: You can be killed., what: The code is stamped low.}\n")

    assert list(without_actor(found)) == []
