"""Text as it came from outside, made fit to be kept: one line, no control that could deceive a reader."""

import unicodedata

from audiences.guarding import bare

_NARROW = {
    number: number - 0xFEE0 for number in range(0xFF01, 0xFF5F)
}  # full-width ASCII, as some keyboards type it
_KEPT_CONTROLS = frozenset("\u200c\u200d")  # they join letters in Persian and Indic names


def one_line(text: str) -> str:
    """Return *text* on one line, composed (NFC), without controls, bidi controls, NUL, surrogates or noncharacters.

    The apostrophe that safe exports put before a sign that starts a formula goes, as `bare` says.
    """
    if not text.isprintable():
        text = "".join(map(_kept, text))
    text = bare(" ".join(text.split()))
    return text if text.isascii() else unicodedata.normalize("NFC", text)


def lines(text: str) -> tuple[str, ...]:
    """Return the lines of *text* from top to bottom, each cleaned by `one_line`, without empty ones."""
    if text.isprintable():
        return (cleaned,) if (cleaned := one_line(text)) else ()
    return tuple(filter(None, map(one_line, text.splitlines())))


def narrow(text: str) -> str:
    """Return *text* with full-width signs of ASCII as ASCII, decimal digits plain, and no format controls."""
    if text.isascii():
        return text
    return "".join(map(_narrow_sign, text.translate(_NARROW)))


def _kept(sign: str) -> str:
    category = unicodedata.category(sign)
    if category == "Cf":
        return sign if sign in _KEPT_CONTROLS else ""
    if category == "Cs" or _is_noncharacter(ord(sign)):
        return "\N{REPLACEMENT CHARACTER}"
    return " " if category in {"Cc", "Zl", "Zp", "Zs"} else sign


def _is_noncharacter(number: int) -> bool:
    """Tell the 66 code points that Unicode keeps out of interchange (The Unicode Standard, 23.7)."""
    return number & 0xFFFE == 0xFFFE or 0xFDD0 <= number <= 0xFDEF  # noqa: PLR2004 - the standard's range


def _narrow_sign(sign: str) -> str:
    if sign.isdecimal():
        return str(unicodedata.decimal(sign))
    return "" if unicodedata.category(sign) == "Cf" else sign
