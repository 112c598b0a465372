"""The signs of a text as a reader takes them, so that a word is found however it was typed.

Full-width and ligature forms (Unicode NFKC), capitals, accents, soft hyphens, signs without width, a word broken at the
end of a line, Arabic vowel signs, tatweel and the forms of alef make no other word; nor does ue for ü in German.
"""

import re
import unicodedata
from functools import cache

_BREAK = re.compile(r"(?<=[^\W\d_])[-\N{HYPHEN}\N{SOFT HYPHEN}]\s+(?=[^\W\d_])")
_JOINT = re.compile(r"(?<=[^\W\d_])[-\N{HYPHEN}](?=[^\W\d_])")
# What no decomposition takes apart, and letters that keyboards and readers take for each other.
_LIKE = {
    "æ": "ae",
    "œ": "oe",
    "ø": "o",
    "ł": "l",
    "đ": "d",
    "\N{LATIN SMALL LETTER DOTLESS I}": "i",
    "\N{ARABIC LETTER ALEF WASLA}": "\N{ARABIC LETTER ALEF}",
    "\N{ARABIC LETTER ALEF MAKSURA}": "\N{ARABIC LETTER YEH}",
    "\N{ARABIC LETTER TEH MARBUTA}": "\N{ARABIC LETTER HEH}",
    "\N{ARABIC TATWEEL}": "",
    "\N{HYPHEN}": "-",
    "\N{RIGHT SINGLE QUOTATION MARK}": "'",
    "\N{LEFT SINGLE QUOTATION MARK}": "'",
    "\N{MODIFIER LETTER APOSTROPHE}": "'",
}
_GERMAN = {"ä": "ae", "ö": "oe", "ü": "ue"}
_DANISH = {"æ": "ae", "ø": "oe", "å": "aa"}
_WRITTEN_OUT = {"de": _GERMAN, "da": _DANISH, "nb": _DANISH, "nn": _DANISH, "no": _DANISH}
_UNSEEN = frozenset({"Cf", "Mn"})


class _Signs(dict[int, str]):
    """What each sign is folded to in one language, worked out when it is first met."""

    def __init__(self, own: str) -> None:
        super().__init__()
        self._own = _WRITTEN_OUT.get(own, {})

    def __missing__(self, code: int) -> str:
        sign = chr(code).casefold()
        folded = self._own.get(sign) or "".join(
            _LIKE.get(part, part)
            for part in unicodedata.normalize("NFKD", sign)
            if unicodedata.category(part) not in _UNSEEN
        )
        digit = unicodedata.digit(chr(code), None)
        self[code] = folded if digit is None else str(digit)
        return self[code]


_signs = cache(_Signs)


def joined(text: str) -> str:
    """Return the text in its plain form (NFKC), with every word whole that was broken at the end of a line."""
    return _BREAK.sub("", unicodedata.normalize("NFKC", text))


def without_hyphens(text: str) -> str:
    """Return the text without the hyphens inside its words."""
    return _JOINT.sub("", text)


def folded(text: str, own: str) -> str:
    """Return what a *joined* text in the language *own* is compared by."""
    return text.translate(_signs(own))


def between(text: str, own: str, start: int, end: int) -> str:
    """Return the piece of a *joined* text that became ``folded(text, own)[start:end]``, unseen signs left out."""
    signs = _signs(own)
    at, kept = 0, []
    for sign in text:
        width = len(signs[ord(sign)])
        if at < end and at + max(width, 1) > start and unicodedata.category(sign) != "Cf":
            kept.append(sign)
        at += width
    return "".join(kept)
