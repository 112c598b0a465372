"""Sentences on their way into a notice: plain stretches, values still to come, and signs kept in their own direction.

A phrase is written twice: as HTML and as plain text, each a piece of the second template, whose delimiters are
``[[ ]]``. Every ``[`` that an author wrote is escaped, so that wording can never be taken for the template's syntax.
"""

import unicodedata
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from urllib.parse import quote

from markupsafe import Markup, escape

from notices.wording import placeholders
from notices.wording.formats import isolate
from notices.wording.placeholders import Placeholder

_URL_SIGNS = (
    "%/:=&?~#+!$,;'@()*[]"  # RFC 3986 reserved signs, and the per cent sign of what is encoded already
)
_OVERRIDES = frozenset("\u202a\u202b\u202c\u202d\u202e")
_SENTENCE_ENDS = frozenset(".!?…:;。؟۔")  # noqa: RUF001 - Urdu's full stop is meant
_IN_HTML = {ord("["): "&#91;", ord("\\"): "&#92;"}  # the MJML compiler doubles a backslash in an attribute
_PLAIN_BRACKET = '[[ "[" ]]'
NO_BREAK = "\u00a0"


@dataclass(frozen=True, slots=True)
class Isolated:
    """A code, number or address: left to right in a text of any direction; *href* where it can be followed."""

    text: str
    href: str = ""


Piece = str | Placeholder | Isolated


@dataclass(frozen=True, slots=True)
class Phrase:
    """Pieces in reading order."""

    pieces: tuple[Piece, ...]

    def html(self) -> Markup:
        """Return the phrase as a piece of the second template's HTML."""
        return Markup("").join(_html(piece) for piece in self.pieces)

    def attribute(self) -> Markup:
        """Return the phrase for an attribute or a title, where no tag may stand."""
        return Markup("").join(_attribute(piece) for piece in self.pieces)

    def text(self, *, rtl: bool) -> str:
        """Return the phrase as a piece of the second template's plain text."""
        return "".join(_text(piece, rtl=rtl) for piece in self.pieces)

    def ended(self) -> "Phrase":
        """Return the phrase with a full stop, where it ends with no sign that closes a sentence."""
        last = self.pieces[-1] if self.pieces else ""
        closed = isinstance(last, str) and last[-1:] in _SENTENCE_ENDS
        return self if closed else Phrase((*self.pieces, "."))


def literal(text: str) -> Phrase:
    """Return *text* as it is: what looks like a placeholder is text."""
    return Phrase((clean(text),))


def isolated(text: str, href: str = "") -> Phrase:
    """Return a code, number or address as one unbreakable stretch."""
    return Phrase((Isolated(clean(text), href),))


def wording(text: str, known: Collection[str]) -> Phrase:
    """Return an author's sentence; placeholders that are not *known* stay as they were written."""
    pieces = placeholders.split(clean(text))
    return Phrase(
        tuple(
            str(piece) if isinstance(piece, Placeholder) and piece.name not in known else piece
            for piece in pieces
        )
    )


def joined(phrases: Iterable[Phrase | None], between: str = " ") -> Phrase | None:
    """Return sentences one after the other; None where there is none."""
    pieces: list[Piece] = []
    for phrase in phrases:
        if phrase is not None:
            pieces += [between, *phrase.pieces] if pieces else phrase.pieces
    return Phrase(tuple(pieces)) if pieces else None


def filled(phrase: Phrase, values: Mapping[str, Phrase]) -> Phrase:
    """Put phrases in the places of placeholders; a name without a value stays a placeholder."""
    pieces: list[Piece] = []
    for piece in phrase.pieces:
        value = values.get(piece.name) if isinstance(piece, Placeholder) else None
        pieces += [piece] if value is None else value.pieces
    return Phrase(tuple(pieces))


def capital(text: str) -> str:
    """Return a text as it begins a line of its own; one that begins with a placeholder stays."""
    return text[:1].upper() + text[1:]


def clean(text: str) -> str:
    """Return *text* on one line, without controls, lone surrogates and overrides."""
    return text if text.isprintable() else "".join(map(_clean_sign, text))


def _clean_sign(sign: str) -> str:
    category = unicodedata.category(sign)
    if category in {"Cc", "Zl", "Zp"}:
        return " "
    if category == "Cs":
        return "\N{REPLACEMENT CHARACTER}"
    return "" if category == "Cn" or sign in _OVERRIDES else sign


def _html(piece: Piece) -> Markup:
    if isinstance(piece, Placeholder):
        return Markup("[[ {} ]]").format(piece.name)
    if isinstance(piece, str):
        return _escaped(piece)
    inner = Markup('<bdi dir="ltr">{}</bdi>').format(_escaped(piece.text.replace(" ", NO_BREAK)))
    return Markup('<a href="{}">{}</a>').format(_escaped(piece.href), inner) if piece.href else inner


def _attribute(piece: Piece) -> Markup:
    if isinstance(piece, Placeholder):
        return Markup("[[ plain.{} ]]").format(piece.name)
    return _escaped(piece if isinstance(piece, str) else piece.text)


def _escaped(text: str) -> Markup:
    return Markup(str(escape(text)).translate(_IN_HTML))  # noqa: S704 - escaped on this line


def _text(piece: Piece, *, rtl: bool) -> str:
    if isinstance(piece, Placeholder):
        return f"[[ {piece.name} ]]"
    if isinstance(piece, Isolated):
        unbroken = piece.text.replace(" ", NO_BREAK)
        return _bracketed(isolate(unbroken) if rtl else unbroken)
    return _bracketed(piece)


def _bracketed(text: str) -> str:
    return text.replace("[", _PLAIN_BRACKET)


@lru_cache(maxsize=256)  # most are the firm's own pages, the same for every owner
def web_address(text: str) -> str:
    """Return a link that a browser follows; only http and https ever come out, so that no script can."""
    address = clean(text).strip()
    if not address.lower().startswith(("https://", "http://")):
        address = "https://" + address
    return quote(address, safe=_URL_SIGNS)


@lru_cache(maxsize=256)
def typed_address(text: str) -> str:
    """Return an address as a person types it: without scheme and last slash."""
    bare = clean(text).strip()
    for scheme in ("https://", "http://"):
        if bare.lower().startswith(scheme):
            bare = bare[len(scheme) :]
    return bare.rstrip("/")
