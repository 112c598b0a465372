"""One name for one part: in the list, in the steps, in every translation."""

import pytest

from audiences.findings import Finding
from notices.wording.part_names import alike, missing_from_steps, named_otherwise
from tests.readings import reading

PARTS = """\
parts: {EV-12: valve, EO-3: sealing ring}
remedies:
  new-valve:
    kind: repair
    unridden:
      promise: We replace the valve.
      parts: {EV-12: 1, EO-3: 2}
      steps:
        - Unscrew the old valve.
        - Put the new sealing rings in.
"""
GERMAN_NAMES = """
msgctxt "parts.EV-12"
msgid "valve"
msgstr "Ventil"

msgctxt "parts.EO-3"
msgid "sealing ring"
msgstr "Dichtring"
"""


def _spoken(context: str, source: str, german: str) -> str:
    return f'\nmsgctxt "{context}"\nmsgid "{source}"\nmsgstr "{german}"\n'


def _said(found: Finding) -> str:
    return f"{found.file}:{found.line}: [{found.code}] {found.path}: {found.message}"


def test_two_parts_of_one_name_cannot_be_told_apart() -> None:
    text = PARTS.replace("EO-3: sealing ring", "EO-3: Valve")

    assert [_said(one) for one in alike(reading(text))] == [
        (
            "campaign.yaml:3: [parts-named-alike] parts.EO-3:"
            " two parts are called Valve; who fits them cannot tell which is meant"
        )
    ]
    assert list(alike(reading(PARTS))) == []


def test_steps_that_never_call_a_fitted_part_by_its_name_are_named() -> None:
    text = PARTS.replace("Unscrew the old valve.", "Unscrew the old tap.")

    assert [_said(one) for one in missing_from_steps(reading(text))] == [
        (
            "campaign.yaml:11: [part-not-in-steps] remedies.new-valve.unridden.steps[0]:"
            " no step speaks of the valve (EV-12), which is fitted here"
        )
    ]


def test_steps_that_call_each_part_by_its_name_are_let_pass() -> None:
    fewer = PARTS.replace("parts: {EV-12: 1, EO-3: 2}", "parts: {EV-12: 1}").replace("sealing rings", "seals")
    none = PARTS.replace("      parts: {EV-12: 1, EO-3: 2}\n", "")

    assert list(missing_from_steps(reading(PARTS))) == []
    assert list(missing_from_steps(reading(fewer))) == []
    assert list(missing_from_steps(reading(none))) == []
    assert list(missing_from_steps(reading("parts: {EV-12: valve}\n"))) == []


def test_steps_are_looked_at_in_each_language_that_has_them() -> None:
    steps = _spoken(
        "remedies.new-valve.unridden.steps", "Unscrew the old valve.", "Schrauben Sie den Hahn ab."
    )
    found = reading(PARTS, de=GERMAN_NAMES + steps, nl=GERMAN_NAMES, ar=GERMAN_NAMES + steps)

    assert [_said(one) for one in missing_from_steps(found)] == [
        (
            "translations/de.po:13: [part-not-in-steps] remedies.new-valve.unridden.steps[0]:"
            " no step speaks of the Ventil (EV-12), which is fitted here"
        ),
        (
            "translations/de.po:13: [part-not-in-steps] remedies.new-valve.unridden.steps[0]:"
            " no step speaks of the Dichtring (EO-3), which is fitted here"
        ),
    ]


@pytest.mark.parametrize(
    ("german", "found"),
    [
        ("Wir ersetzen das Ventil.", 0),
        ("Wir ersetzen die Ventile.", 0),
        ("Wir ersetzen den Hahn.", 1),
        ("Wir ersetzen das Ventildingsbums.", 1),
    ],
)
def test_a_translation_calls_a_part_by_its_translated_name(german: str, found: int) -> None:
    promise = _spoken("remedies.new-valve.unridden.promise", "We replace the valve.", german)
    said = [_said(one) for one in named_otherwise(reading(PARTS, de=GERMAN_NAMES + promise))]

    assert (
        said
        == [
            (
                "translations/de.po:13: [part-named-otherwise] remedies.new-valve.unridden.promise:"
                " the source speaks of the valve; here it is not called Ventil"
            )
        ]
        * found
    )


def test_a_part_whose_name_is_not_translated_is_not_looked_for() -> None:
    promise = _spoken(
        "remedies.new-valve.unridden.promise", "We replace the valve.", "Wir ersetzen den Hahn."
    )

    assert list(named_otherwise(reading(PARTS, de=promise))) == []


def test_a_source_whose_words_change_inside_tells_nothing() -> None:
    german = GERMAN_NAMES.replace('msgid "valve"', 'msgid "صمام"')
    text = "language: ar\n" + PARTS.replace("EV-12: valve", "EV-12: صمام").replace("[en,", "[ar,")

    assert list(named_otherwise(reading(text, de=german))) == []


@pytest.mark.parametrize(
    ("name", "text", "named"),
    [
        ("link", "Take the links out.", True),
        ("link", "Bicycles of line D.", False),
        ("dado", "Sviti i dadi.", True),
        ("jig", "Use the jig.", True),
        ("pin", "Use the pen.", False),
        ("nakrętka", "Proszę wziąć pięć nakrętek.", True),
        ("V1", "Take V1 out.", True),
    ],
)
def test_a_name_is_known_by_its_beginning(name: str, text: str, *, named: bool) -> None:
    fitted = f"parts: {{A: {name}}}\nremedies:\n  r: {{kind: repair, all: {{parts: {{A: 1}}, steps: ['{text}']}}}}\n"

    assert (list(missing_from_steps(reading(fitted))) == []) is named
