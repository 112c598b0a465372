"""Whether a part bears one name: told apart from the others, named in the steps that fit it, the same in translation.

Words are compared by their beginnings, so that an ending passes: link, links; nakrętka, nakrętek. Where a language
changes words at their beginning or inside, as Arabic does, nothing is told.
"""

from collections.abc import Iterator
from functools import lru_cache
from itertools import pairwise

from audiences.findings import Finding, Severity
from notices.wording.counting import sentences
from notices.wording.passages import Passage, Reading
from notices.wording.splitting import family

_BY_BEGINNING = {"cs", "da", "de", "en", "es", "fr", "it", "nl", "pl", "pt", "sv"}
_CUSTOM = "common practice, no source"
_SEGMENTS = ("all", "unridden", "ridden_no_symptoms", "symptomatic")
_LINKING = 3  # letters; a shorter word of a name, as de in écrou de sécurité, names nothing
_ENDING = 3  # letters that an ending may add
# How many of its last letters an ending may change, by the length of a word: dado, dadi; link, links, but not line.
_CHANGES = ((6, 2), (5, 1), (0, 0))
_VOWELS = "aeiouyàèéìòù"


def alike(reading: Reading) -> Iterator[Finding]:
    """Name each part that bears the same name as another."""
    for tag in reading.languages:
        names = sorted(_names(reading, tag).values(), key=lambda one: (one.text.casefold(), one.line or 0))
        for first, second in pairwise(names):
            if first.text.casefold() == second.text.casefold():
                yield _finding(
                    "parts-named-alike",
                    second,
                    f"two parts are called {second.text}; who fits them cannot tell which is meant",
                    "give each a name of its own, as it is called in the steps",
                )


def missing_from_steps(reading: Reading) -> Iterator[Finding]:
    """Name each list of steps that fits a part and never calls it by its name."""
    for key, remedy in (reading.campaign.remedies or {}).items():
        for segment in _SEGMENTS:
            doing = getattr(remedy, segment)
            if doing and doing.steps and doing.parts:
                yield from _unnamed(reading, f"remedies.{key}.{segment}.steps", tuple(doing.parts))


def _unnamed(reading: Reading, path: str, numbers: tuple[str, ...]) -> Iterator[Finding]:
    for tag in _told(reading):
        steps = [one for one in reading.passages(tag) if one.path.startswith(f"{path}[")]
        words = frozenset(word for one in steps for word in _words(one))
        for number, name in _names(reading, tag).items():
            if steps and number in numbers and not _is_named(name, words):
                yield _finding(
                    "part-not-in-steps",
                    steps[0],
                    f"no step speaks of the {name.text} ({number}), which is fitted here",
                    "call a part by one name, in its list and in the steps",
                )


def named_otherwise(reading: Reading) -> Iterator[Finding]:
    """Name each translation of a text about a part that does not call it by the part's translated name."""
    source = reading.campaign.language
    if family(source) not in _BY_BEGINNING:
        return
    names = _names(reading, source)
    about = {
        one.path: [number for number, name in names.items() if _is_named(name, _words(one), every=True)]
        for one in reading.passages(source)
        if not one.path.startswith("parts.")
    }
    for tag in _told(reading):
        spoken = _names(reading, tag) if tag != source else {}
        for passage in reading.passages(tag) if spoken else ():
            for number in about.get(passage.path, ()):
                if number in spoken and not _is_named(spoken[number], _words(passage)):
                    yield _finding(
                        "part-named-otherwise",
                        passage,
                        f"the source speaks of the {names[number].text}; here it is not called {spoken[number].text}",
                        "use the part's own name, as under parts",
                    )


def _told(reading: Reading) -> Iterator[str]:
    return (tag for tag in reading.languages if family(tag) in _BY_BEGINNING)


def _names(reading: Reading, tag: str) -> dict[str, Passage]:
    """Return the name of each part by its number."""
    return {
        one.path.removeprefix("parts."): one for one in reading.passages(tag) if one.path.startswith("parts.")
    }


def _words(passage: Passage) -> frozenset[str]:
    return _folded(passage.text, passage.language)


@lru_cache(maxsize=4096)
def _folded(text: str, language: str) -> frozenset[str]:
    return frozenset(word.casefold() for one in sentences(text, language) for word in one.words)


def _is_named(name: Passage, words: frozenset[str], *, every: bool = False) -> bool:
    """Say whether one of the name's words stands there, or all of them, whatever their endings."""
    of_name = [word for word in _words(name) if len(word) >= _LINKING] or list(_words(name))
    found = (_among(word, words) for word in of_name)
    return all(found) if every else any(found)


def _among(word: str, words: frozenset[str]) -> bool:
    if word in words:
        return True
    changed = next(less for length, less in _CHANGES if len(word) >= length) or int(word[-1] in _VOWELS)
    stem = word[: len(word) - changed]
    return any(other.startswith(stem) and len(other) <= len(word) + _ENDING for other in words)


def _finding(code: str, passage: Passage, message: str, mend: str) -> Finding:
    return Finding(
        code=code, **passage.where, message=message, mend=mend, severity=Severity.CONSIDER, source=_CUSTOM
    )
