"""What no notice says, and what only looks like it, for the tests of the tables of expressions."""

import re
from collections.abc import Callable, Iterator
from functools import cache

from hypothesis import strategies as st

from notices.assembly import expressions
from notices.wording.expression_tables import Form, Hit, Words, hits, read_words

_CHOICE = re.compile(r"\{([^{}]*)\}")
_NARROW = {code: code + 0xFEE0 for code in range(0x21, 0x7F)}  # Unicode block FF00: full-width forms

# Sentences of ours that a notice may well say, each near to a wording that it must not.
INNOCENT = {
    "en": (
        "Beware of an involuntary release of the lever.",
        "Take precautions: wear gloves and keep children away.",
        "This is not just a precaution.",
        "Stop using it so that no accidents happen.",
        "Two links have broken. One rider broke a wrist.",
        "One stove caught fire. Nobody was hurt.",
        "Call us at once if someone was hurt.",
        "Keep a broken part, in any case.",
        "The rear link is not affected.",
        "We do not know yet how long such a link lasts.",
        "In this case, call us.",
        "Minors must not use it.",
    ),
    "de": (
        "Der Hebel kann sich unfreiwillig lösen.",
        "Treffen Sie Vorsichtsmaßnahmen und tragen Sie Handschuhe.",
        "Rufen Sie die freiwillige Feuerwehr.",
        "Fahren Sie vorsichtig mit dem Bus.",
        "Der Rückruf ist nicht freiwillig.",
        "Benutzen Sie es nicht, damit keine Unfälle passieren.",
        "Zwei Gelenke sind gebrochen. Eine Fahrerin hat sich verletzt.",
        "Rufen Sie sofort an, wenn jemand verletzt wurde.",
        "In diesem Fall rufen Sie uns an.",
        "Ein Kind im Kasten kann sterben.",
        "Der Bruch kommt nicht selten ohne Vorzeichen.",
    ),
}


@cache
def table(tag: str) -> Words:
    """Read the shipped table of a language."""
    return read_words(expressions()[tag])


@cache
def tags() -> tuple[str, ...]:
    """Return the languages that have a table."""
    return tuple(sorted(expressions().keys() - {"rules"}))


def found(text: str, tag: str) -> tuple[Hit, ...]:
    """Return what the shipped table of a language finds in a text."""
    return hits(text, table(tag))


@st.composite
def planted(draw: st.DrawFn, tag: str) -> tuple[Form, str]:
    """Draw any inflected form of any expression of a language, disguised as typing and mail disguise words."""
    form = draw(st.sampled_from(table(tag).forms))
    said = _spoken(form.expression, lambda options: draw(st.sampled_from(options)))
    return form, draw(st.sampled_from(list(disguises(said))))


def _spoken(expression: str, pick: Callable[[list[str]], str]) -> str:
    chosen = _CHOICE.sub(lambda match: pick(match[1].split("|")), expression)
    chosen = re.sub(r" \.\. ", lambda _match: pick([" ", " so ", " so la ", " so la do "]), chosen)
    return re.sub("~", lambda _match: pick(["", "en", "s"]), chosen)


def disguises(said: str) -> Iterator[str]:
    """Yield a wording as it stands, and in each way in which it looks the same to a reader or nearly so."""
    middle = max(len(said) // 2, 1)
    yield said
    yield said.upper()
    yield said.capitalize()
    yield said.translate(_NARROW)
    yield said.replace(" ", "\N{NO-BREAK SPACE}")
    yield said.replace(" ", "\n    ")
    yield "\N{ZERO WIDTH SPACE}".join(said[:middle]) + said[middle:]
    if said[middle - 1].isalpha() and said[middle : middle + 1].isalpha():
        yield f"{said[:middle]}\N{SOFT HYPHEN}{said[middle:]}"
        yield f"{said[:middle]}-\n  {said[middle:]}"
