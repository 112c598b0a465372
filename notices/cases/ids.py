"""The names of units, owners, postings and personal links: drawn, short enough to read out, checked."""

import unicodedata
from collections.abc import Callable

# Crockford's base 32 leaves out I, L, O and U, which are misread or offend.
SIGNS = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
_ALPHABET = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"
_REFERENCE = 7
_LONG = 26
_LINK = 10
_READ_AS = str.maketrans({"I": "1", "L": "1", "O": "0"})

Draw = Callable[[int], int]


def check_sign(body: str) -> str:
    """Return the ISO/IEC 7064 MOD 37,36 check sign of *body* (digits and capital letters)."""
    product = 36
    for sign in body:
        total = (product + _ALPHABET.index(sign)) % 36 or 36
        product = total * 2 % 37
    return _ALPHABET[(37 - product) % 36]


def is_reference(text: str) -> bool:
    """Say whether *text* is a unit's reference with a true check sign."""
    body = text[:_REFERENCE]
    return (
        len(text) == _REFERENCE + 1
        and all(sign in SIGNS for sign in body)
        and text[_REFERENCE:] == check_sign(body)
    )


def read_reference(text: str) -> str | None:
    """Read a reference as a person says or types it; None where it cannot be one.

    The check sign may be any letter, so that I, L and O are mended only among the first seven.
    """
    bare = _typed(text)
    candidate = bare[:_REFERENCE].translate(_READ_AS) + bare[_REFERENCE:]
    return candidate if is_reference(candidate) else None


def read_link(text: str) -> str:
    """Read the ten signs of a personal link as typed, misread letters mended (Crockford base 32)."""
    return _typed(text).translate(_READ_AS)


def unit_id(draw: Draw) -> str:
    """Draw a unit's id, which is also the reference to read out: seven signs and a check sign."""
    body = _signs(draw, _REFERENCE)
    return body + check_sign(body)


def long_id(draw: Draw) -> str:
    """Draw an id of 26 signs for an owner, a posting or a text."""
    return _signs(draw, _LONG)


def link_signs(number: int) -> str:
    """Spell the lowest fifty bits of *number* as the ten signs of a personal link."""
    return "".join(SIGNS[number >> 5 * place & 31] for place in reversed(range(_LINK)))


def _typed(text: str) -> str:
    """Keep the letters and digits of what a person typed, digits of any script as those of ours."""
    plain = (str(unicodedata.decimal(sign, sign)) for sign in unicodedata.normalize("NFKC", text))
    return "".join(sign for sign in plain if sign.isascii() and sign.isalnum()).upper()


def _signs(draw: Draw, count: int) -> str:
    number = draw(len(SIGNS) ** count)
    return "".join(SIGNS[number >> 5 * place & 31] for place in range(count))
