"""The sentences and words of a text, and what the formulas count of them; the time it takes grows with the length.

What is read off and not sounded out is one short word of one syllable: a number, a code, an address, a placeholder
(house rule; Flesch 1948 leaves figures out of the syllables too). The groups of a telephone number are one word.
"""

import re
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from notices.wording.formulas import Counts, together
from notices.wording.splitting import family, pieces
from notices.wording.syllables import COUNTERS, syllables

_MARKS = re.compile(r"[\u0610-\u061a\u0640\u064b-\u065f\u0670\u200b-\u200f\u202a-\u202e\u2066-\u2069\u00ad]")
_WHOLE = re.compile(r"[^\W\d_]+(?:[-\u2011'\u2019][^\W\d_]+)*")
_ELIDED = re.compile(r"[^\W\d_]+(?:[-\u2011][^\W\d_]+)*")
_ARTICLES_ELIDED = {"fr", "it"}  # l'appareil, dell'apparecchio: the article is a word
_ONE_IN_FRENCH = re.compile(r"(aujourd|quelqu|presqu|prud)['\u2019]", re.IGNORECASE)
_LETTERS = re.compile(r"[^\W\d_](?:\.[^\W\d_])+")  # e.g
_ADDRESS = re.compile(r"[^\W_]\.[^\W\d_]{2}")
_AROUND = "\"'“”„\u2018\u2019\u201a«»\u2039\u203a()[]{}<>.,;:!?…¿¡؟،؛\u06d4*•\u2013—-"
_ENDS_A_NUMBER = ",.;:!?…؟،؛)"
_LONG = 6  # letters; a long word has more
_LONG_ARABIC = 5
_THREE = 3
_ENDINGS = ("ed", "es", "ing")


@dataclass(frozen=True, slots=True)
class Sentence:
    """One sentence as it stands and its words; *read* are the plain ones, without numbers, codes and addresses."""

    text: str
    words: tuple[str, ...]
    read: tuple[str, ...]


@lru_cache(maxsize=4096)
def sentences(text: str, language: str) -> tuple[Sentence, ...]:
    """Return the sentences of *text*; a piece without a word is none, a last one without a full stop is one."""
    own = family(language)
    found = []
    for piece in pieces(unicodedata.normalize("NFC", text), own):
        words = tuple(_words(piece, own))
        if words:
            read = tuple(word for word, plain in words if plain)
            found.append(Sentence(piece, tuple(word for word, _ in words), read))
    return tuple(found)


def _words(piece: str, own: str) -> Iterator[tuple[str, bool]]:
    """Yield each word, and whether it is a plain one."""
    number_open = False
    for chunk in _MARKS.sub("", piece).split():
        core = chunk.strip(_AROUND)
        if core.isalpha():  # most are, and need no closer look
            number_open = False
            yield core, True
            continue
        if not any(map(str.isalnum, core)):
            number_open &= not core
            continue
        number = not any(map(str.isalpha, core))
        if _figure(core) or chunk.startswith("%("):
            if not (number and number_open):
                yield core, False
        else:
            yield from ((word, True) for word in _plain(core, own))
        number_open = number and chunk[-1] not in _ENDS_A_NUMBER


def _figure(core: str) -> bool:
    return (
        any(map(str.isdigit, core))
        or any(sign in core for sign in ("@", "·", "%(", "://", "_"))
        or _ADDRESS.search(core) is not None
    )


def _plain(core: str, own: str) -> list[str]:
    if _LETTERS.fullmatch(core):
        return [core]
    if own not in _ARTICLES_ELIDED:
        return _WHOLE.findall(core)
    return _ELIDED.findall(_ONE_IN_FRENCH.sub(r"\1", core))


@lru_cache(maxsize=4096)
def counted(text: str, language: str) -> Counts | None:
    """Return what was counted in *text*; None where it holds no word."""
    own = family(language)
    return together(_of(one, own) for one in sentences(text, language))


def _of(one: Sentence, own: str) -> Counts:
    other = len(one.words) - len(one.read)
    beats = [syllables(word, own) for word in one.read] if own in COUNTERS else []
    pairs = zip(one.read, beats, strict=bool(beats))
    lengths = [sum(map(str.isalpha, word)) for word in one.read]
    return Counts(
        words=len(one.words),
        sentences=1,
        syllables=sum(beats) + other if own in COUNTERS else 0,
        letters=sum(lengths) + other,
        one_syllable=beats.count(1) + other,
        three_syllables=sum(beat >= _THREE for beat in beats),
        four_syllables=sum(beat > _THREE for beat in beats),
        long_words=sum(length > _LONG for length in lengths),
        hard_words=sum(_hard(word, beat, first=not at) for at, (word, beat) in enumerate(pairs)),
        over_five=sum(length > _LONG_ARABIC for length in lengths) if own == "ar" else None,
    )


def _hard(word: str, beats: int, *, first: bool) -> bool:
    """Say whether Gunning has it as hard: three syllables, no name, and not three only through -ed, -es or -ing."""
    if beats < _THREE or (word[0].isupper() and not first):
        return False
    ending = next((one for one in _ENDINGS if word.lower().endswith(one)), "")
    return not (ending and beats == _THREE and syllables(word[: -len(ending)], "en") < _THREE)
