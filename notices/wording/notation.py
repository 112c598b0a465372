"""The small notation in which the tables of expressions are written, and its way into a regular expression.

``~`` stands for any letters or none (``discount~``: discounts, discounted), ``{a|b|}`` for one of these, here a, b or
nothing, `` .. `` for up to three words of the same sentence, and a space for white space or a hyphen. All else stands
for itself, as `signs.folded` has it. An expression begins and ends where words do.
"""

import re
from collections.abc import Iterator, Sequence

from notices.wording import signs

_PIECES = re.compile(r" \.\. |[{|}~]|\s+|[^{|}~\s]+")
_FIRST = re.compile(r"\{([^{}]*)\}")
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


def heads(expression: str) -> Iterator[str]:
    """Yield an expression once for each choice that it begins with, so that the first sign of each is known."""
    first = _FIRST.match(expression)
    if first is None:
        yield expression
    else:
        yield from (f"{one}{expression[first.end() :]}" for one in first[1].split("|"))


def any_of(expressions: Sequence[str], own: str, before: str = "") -> re.Pattern[str]:
    """Return what finds any of the *expressions*; `place_of` a match tells which.

    *before* is what may stand before each without being a word of its own, as the Arabic article. Expressions are
    grouped by their first sign, so that one look at a text's sign passes over all others; within a group the first of
    the list that fits is found.
    """
    groups: dict[str, list[str]] = {}
    for place, expression in enumerate(expressions):
        for turn, head in enumerate(heads(expression)):
            found = pattern(head, own)
            sign = found[:1] if found[:1].isalnum() else ""
            # An empty group behind its words marks them: before them it would hide their first sign from the search.
            groups.setdefault(sign, []).append(f"{found[len(sign) :]}(?P<e{place}_{turn}>)")
    choice = "|".join(f"{sign}(?:{'|'.join(group)})" for sign, group in groups.items())
    return re.compile(f"{_BEGIN}{pattern(before, own)}(?:{choice}){_END}")


def place_of(match: re.Match[str]) -> int:
    """Return the place, from 0, of the expression that was found."""
    return int(str(match.lastgroup)[1:].partition("_")[0])
