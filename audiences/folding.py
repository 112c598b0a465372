"""A marking as a key for comparison, and the same marking with its last signs hidden."""

import unicodedata
from functools import lru_cache

_DROPPED_CATEGORIES = frozenset({"Cc", "Cf", "Pd", "Zl", "Zp", "Zs"})
_DROPPED_SIGNS = frozenset(".·•−ー،,_'’`´")  # noqa: RUF001 - signs typed for a hyphen, dot or space
_ASCII_DROP = {
    number: None
    for number in range(128)
    if chr(number) in _DROPPED_SIGNS or unicodedata.category(chr(number)) in _DROPPED_CATEGORIES
}
_UNSEEN = frozenset({"Cc", "Cf"})
_FEWEST_HIDDEN = 2


def fold(text: str) -> str:
    """Return *text* for comparison only: NFKC, upper case, plain digits; no spaces, hyphens, dots, controls.

    Lone surrogates become U+FFFD, so that a lost sign never makes a code readable.
    """
    if text.isascii():
        return text.upper().translate(_ASCII_DROP)
    folded = _fold_once(text)
    while folded != (again := _fold_once(folded)):
        folded = again
    return folded


def _fold_once(text: str) -> str:
    return unicodedata.normalize("NFKC", "".join(map(_fold_sign, text))).upper()


@lru_cache(maxsize=4096)
def _fold_sign(sign: str) -> str:
    category = unicodedata.category(sign)
    if category in _DROPPED_CATEGORIES or sign in _DROPPED_SIGNS:
        return ""
    if category == "Nd":  # an Arabic keyboard writes its own digits
        return str(unicodedata.decimal(sign))
    return _fold_lost(sign)


def _fold_lost(sign: str) -> str:
    return "\N{REPLACEMENT CHARACTER}" if unicodedata.category(sign) == "Cs" else sign


def mask(code: str, hidden: int) -> str:
    """Return *code* with its last *hidden* signs as ``·``; only 2 where it has fewer than twice as many.

    Spaces, hyphens and dots stand and do not count; controls are dropped.
    """
    shown = [_fold_lost(sign) for sign in code if unicodedata.category(sign) not in _UNSEEN]
    left = _hidden_signs(sum(len(fold(sign)) for sign in shown), hidden)
    for place in range(len(shown) - 1, -1, -1):
        signs = len(fold(shown[place]))
        if left > 0 and signs:
            shown[place] = "·" * signs
            left -= signs
    return "".join(shown)


def last_signs(code: str, hidden: int) -> str:
    """Return, folded, the signs that `mask` hides; "" where nothing is hidden, which proves nothing."""
    key = fold(code)
    signs = _hidden_signs(len(key), hidden)
    return key[-signs:] if signs else ""


def _hidden_signs(length: int, hidden: int) -> int:
    signs = hidden if length >= 2 * hidden else _FEWEST_HIDDEN
    return max(0, min(signs, hidden, length))
