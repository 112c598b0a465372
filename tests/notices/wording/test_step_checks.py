"""Steps that can be followed one at a time; what a language's signs do not tell is let pass."""

import pytest

from audiences.findings import Finding
from notices.wording.step_checks import begins_otherwise, several_instructions, too_many_steps
from tests.readings import reading


def _said(found: Finding) -> str:
    return f"{found.file}:{found.line}: [{found.code}] {found.path}: {found.message}"


def _steps(text: str, language: str = "en") -> str:
    return f"language: {language}\nnow:\n  steps:\n    all:\n      - '{text.replace(chr(39), 2 * chr(39))}'\n"


def test_seven_steps_are_enough() -> None:
    seven = "now: {steps: {all: [Stop" + ", Stop" * 6 + "]}}\n"
    eight = "now:\n  steps:\n    symptomatic: [Stop" + ", Stop" * 7 + "]\n"

    assert list(too_many_steps(reading(seven))) == []
    assert [_said(one) for one in too_many_steps(reading(eight))] == [
        "campaign.yaml:5: [steps-many] now.steps.symptomatic: there are 8 steps; nobody keeps so many in mind"
    ]


def test_the_steps_of_a_remedy_are_counted_too() -> None:
    text = "remedies:\n  repair:\n    kind: repair\n    unridden:\n      steps: [Turn" + ", Turn" * 7 + "]\n"

    assert [(one.line, one.path) for one in too_many_steps(reading(text))] == [
        (7, "remedies.repair.unridden.steps")
    ]


@pytest.mark.parametrize(
    ("language", "text", "count"),
    [
        ("en", "Lock it, and tell everyone who uses it.", 2),
        ("en", "Put out every flame, go away from the stove, and keep others away.", 3),
        ("en", "Close the valve and then unscrew it.", 2),
        ("en", "Stop riding and do not push it.", 2),
        ("en", "If it hisses, close the valve, then call us.", 2),
        ("de", "Schließen Sie das Rad ab, und sagen Sie es allen.", 2),
        ("de", "Drehen Sie den Lenker und prüfen Sie ihn.", 2),
    ],
)
def test_several_instructions_in_one_sentence_are_named(language: str, text: str, count: int) -> None:
    (found,) = several_instructions(reading(_steps(text, language)))

    assert _said(found).startswith(
        f"campaign.yaml:7: [step-several-instructions] now.steps.all[0]: this sentence asks for {count} things: "
    )


@pytest.mark.parametrize(
    ("language", "text"),
    [
        ("en", "Do not lend, sell or give it away."),
        ("en", "Tell us that you have stopped, and where the bicycle is."),
        ("en", "Put in the new link and the two lock nuts."),
        ("en", "Look at the lock and check valve."),
        ("en", "If gas still escapes, call the fire service."),
        ("en", "Lock it. Tell everyone who uses it."),
        ("en", "The stove cools, and call us."),  # no instruction at all; another finding says so
        ("de", "Schieben Sie das Rad nicht, wenn ein Kind im Kasten ist."),
        ("de", "Das Rad steht, und fragen Sie uns."),
        ("fr", "Fermez la valve et dévissez-la."),  # not told by signs
    ],
)
def test_one_instruction_a_sentence_is_let_pass(language: str, text: str) -> None:
    assert list(several_instructions(reading(_steps(text, language)))) == []


@pytest.mark.parametrize(
    ("language", "text", "word"),
    [
        ("en", "The stove must be cold.", "The"),
        ("en", "You should stop.", "You"),
        ("de", "Das Rad muss stehen.", "Das"),
        ("fr", "Vous devez arrêter.", "Vous"),
    ],
)
def test_a_step_that_begins_with_no_instruction_is_named(language: str, text: str, word: str) -> None:
    (found,) = begins_otherwise(reading(_steps(text, language)))

    assert _said(found) == (
        f"campaign.yaml:7: [step-not-imperative] now.steps.all[0]: this step begins with “{word}”, not with what to do"
    )


@pytest.mark.parametrize(
    ("language", "text"),
    [
        ("en", "Stop riding. The front wheel can turn."),
        ("en", "If it knocks, call us."),
        ("it", "La chiuda con un lucchetto."),
        ("pl", "To koniec."),
    ],
)
def test_a_step_that_may_be_an_instruction_is_let_pass(language: str, text: str) -> None:
    assert list(begins_otherwise(reading(_steps(text, language)))) == []


def test_only_steps_are_held_to_begin_with_the_verb() -> None:
    found = reading("hazard: {what: The valve can leak.}\nbefore_remedy: The valve is hot.\n")

    assert list(begins_otherwise(found)) == []
