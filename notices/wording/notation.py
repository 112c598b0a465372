"""The small notation in which the tables of expressions are written, and its way into a regular expression.

``~`` stands for any letters or none (``discount~``: discounts, discounted), ``{a|b|}`` for one of these, here a, b or
nothing, `` .. `` for up to three words of the same sentence, and a space for white space or a hyphen. All else stands
for itself, as `signs.folded` has it. An expression begins and ends where words do.
"""

import re
from collections.abc import Sequence

from notices.wording import signs

_PIECES = re.compile(r" \.\. |[{|}~]|\s+|[^{|}~\s]+")
_MEANS = {
    " .. ": r"\s+(?:[^\s.!?;:]+\s+){0,3}",
    "{": "(?:",
    "|": "|",
    "}": ")",
    "~": r"\w*",
}
_BEGIN = r"(?<![^\W_])"
_END = r"(?![^\W_])"


def pattern(expression: str, own: str) -> str:
    """Return the regular expression of one *expression* in the language *own*, over folded text."""
    return "".join(_meaning(piece, own) for piece in _PIECES.findall(expression))


def _meaning(piece: str, own: str) -> str:
    if piece in _MEANS:
        return _MEANS[piece]
    return r"[\s-]+" if piece.isspace() else re.escape(signs.folded(signs.joined(piece), own))


def any_of(expressions: Sequence[str], own: str, before: str = "") -> re.Pattern[str]:
    """Return what finds any of the *expressions*: ``lastindex`` is the place in the list, from 1.

    *before* is what may stand before each without being a word of its own, as the Arabic article. The first of the
    list that fits at a place is found there.
    """
    lead = pattern(before, own)
    choice = "|".join(f"({pattern(one, own)})" for one in expressions)
    return re.compile(f"{_BEGIN}{lead}(?:{choice}){_END}")
