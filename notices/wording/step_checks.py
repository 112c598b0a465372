"""Whether the steps can be followed one at a time: few, one instruction a sentence, each beginning with what to do."""

import re
from collections.abc import Iterator, Mapping

from audiences.findings import Finding, Severity
from notices.campaign.instructions import Steps
from notices.campaign.remedies import Remedy
from notices.wording.counting import sentences
from notices.wording.passages import Passage, Reading
from notices.wording.sentence_checks import shown
from notices.wording.splitting import family, words_of

MOST_STEPS = 7
_STEP = re.compile(r"(?:now\.steps\.\w+|remedies\.[\w-]+\.\w+\.steps)\[\d+\]")
_SEGMENTS = ("all", "unridden", "ridden_no_symptoms", "symptomatic")

# A first word that no instruction begins with: an article, or who is spoken of. What stands in no list is let pass.
_NO_INSTRUCTION: Mapping[str, frozenset[str]] = {
    language: words_of(words)
    for language, words in {
        "de": "der die das ein eine sie ihr ihre ihren wir es man dieser diese dieses jeder jede jedes",
        "en": "the a an you your it its we our this that these those there they he she i",
        "es": "el la los las un una usted ustedes su sus nosotros este esta ello",
        "fr": "le la les un une vous votre vos nous notre il elle on ce cet cette ces",
        "it": "il un uno una lei voi noi questo questa",  # la, lo and si can stand before the verb
        "nl": "de het een u uw wij we er deze dit dat men",
    }.items()
}
_VERBS = (
    "ask bring call check clean clear close compare contact cut disconnect do drain empty find fit fold get give go"
    " hand hold keep leave let lift lock look loosen lower make mark move open photograph pull push put read release"
    " remove return screw seal send set show shut slide stop store switch take tell throw tie tighten touch turn undo"
    " unplug unscrew use wait wash wear wipe write"
)
_AFTER_A_VERB = (
    "a all an any anyone apart at away back both down each every everyone everything for from her him in into it its"
    " me nobody off on onto others out over that the them these this those to up us with your"
)
_ENGLISH = re.compile(
    r"(?:[,;]\s+(?:and\s+|then\s+|and\s+then\s+)?|\band\s+(?:then\s+)?|\bthen\s+)"
    rf"(?:(?:do\s+not|don't)\s+[a-z]+|(?:{'|'.join(_VERBS.split())})\s+(?:{'|'.join(_AFTER_A_VERB.split())}))\b"
)
_GERMAN = re.compile(r"(?:[,;]|\bund\b)\s+(?:und\s+)?(?:dann\s+)?\w+(?:en|ern|eln)\s+Sie\b")
_CONDITION = re.compile(r"(?:if|when|before|after|until|once|as soon as|while)\b[^,]*,\s*", re.IGNORECASE)
_GERMAN_BEGINS = re.compile(r"\w+(?:en|ern|eln)\s+Sie\b")


def too_many_steps(reading: Reading) -> Iterator[Finding]:
    """Hold that no list of steps has more than seven."""
    lists = {f"now.steps.{name}": getattr(reading.campaign.now.steps, name) for name in Steps.model_fields}
    for key, remedy in (reading.campaign.remedies or {}).items():
        lists |= {f"remedies.{key}.{name}.steps": _steps(remedy, name) for name in _SEGMENTS}
    for path, steps in lists.items():
        if len(steps) > MOST_STEPS:
            yield Finding(
                code="steps-many",
                **reading.at(path),
                message=f"there are {len(steps)} steps; nobody keeps so many in mind",
                mend=f"keep to {MOST_STEPS}: leave out what comes later, or put together what is done in one go",
                severity=Severity.CONSIDER,
                source="common practice, no source",
            )


def _steps(remedy: Remedy, name: str) -> tuple[str, ...]:
    part = getattr(remedy, name)
    return part.steps if part else ()


def several_instructions(reading: Reading) -> Iterator[Finding]:
    """Name each sentence of a step, in English or German, that asks for more than one thing."""
    for passage in _step_passages(reading):
        for one in sentences(passage.text, passage.language):
            count = _instructions(one.text, family(passage.language))
            if count > 1:
                yield Finding(
                    code="step-several-instructions",
                    **passage.where,
                    message=f"this sentence asks for {count} things: {shown(one)}",
                    mend="make a sentence of each; who does the first may not read on to the last",
                    severity=Severity.CONSIDER,
                    source="US Federal Plain Language Guidelines 2011: one idea a sentence",
                )


def _instructions(text: str, language: str) -> int:
    """Return how many instructions a sentence holds as far as its language's signs tell; 0 where they do not."""
    if language == "en":
        main = _CONDITION.sub("", text, count=1) if _CONDITION.match(text) else text
        return 0 if _begins_otherwise(main, "en") else 1 + len(_ENGLISH.findall(main))
    if language == "de" and _GERMAN_BEGINS.match(text):
        return 1 + len(_GERMAN.findall(text))
    return 0


def begins_otherwise(reading: Reading) -> Iterator[Finding]:
    """Name each step whose first word cannot be what to do."""
    for passage in _step_passages(reading):
        if _begins_otherwise(passage.text, family(passage.language)):
            yield Finding(
                code="step-not-imperative",
                **passage.where,
                message=f"this step begins with “{_first_word(passage.text)}”, not with what to do",
                mend="begin with the verb, as: Turn the handlebar",
                severity=Severity.CONSIDER,
                source="US Federal Plain Language Guidelines 2011: use must and the imperative",
            )


def _begins_otherwise(text: str, language: str) -> bool:
    return _first_word(text).strip("\"'“„«").lower() in _NO_INSTRUCTION.get(language, frozenset())


def _first_word(text: str) -> str:
    return next(iter(text.split(maxsplit=1)), "")


def _step_passages(reading: Reading) -> Iterator[Passage]:
    return (passage for passage in reading.passages() if _STEP.fullmatch(passage.path))
