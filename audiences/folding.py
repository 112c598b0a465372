"""A marking as a key for comparison, and the same marking with its last signs hidden."""

import unicodedata
from collections.abc import Iterator, Mapping

_DROPPED = (
    (0x00, 0x20),  # controls and the space
    (0x7F, 0xA0),  # controls and the no-break space
    (0xAD, 0xAD),  # soft hyphen
    (0x58A, 0x58A),  # hyphens of other scripts
    (0x5BE, 0x5BE),
    (0x61C, 0x61C),  # Arabic letter mark
    (0x1680, 0x1680),
    (0x1806, 0x1806),
    (0x180E, 0x180E),
    (0x2000, 0x2015),  # spaces, joiners, direction marks, dashes
    (0x2028, 0x202F),  # line ends, embeddings and overrides
    (0x205F, 0x206F),  # invisible signs and isolates
    (0x2E3A, 0x2E3B),
    (0x3000, 0x3000),
    (0x301C, 0x301C),
    (0xFE58, 0xFE58),
    (0xFE63, 0xFE63),
    (0xFEFF, 0xFEFF),
)
"""Spaces, dashes, controls and marks of direction: first and last of each row of code points (Unicode 15)."""

_DROPPED_SIGNS = "-.·•−ー،,_'’`´"  # noqa: RUF001 - signs typed for a hyphen, dot or space

# The zeros of keyboards that write digits of their own: Arabic, Persian, N'Ko, the scripts of India, Thai, Lao,
# Tibetan, Burmese, Khmer, Mongolian.
_ZEROS = (
    *(0x660, 0x6F0, 0x7C0, 0x966, 0x9E6, 0xA66, 0xAE6, 0xB66, 0xBE6, 0xC66, 0xCE6, 0xD66),
    *(0xE50, 0xED0, 0xF20, 0x1040, 0x17E0, 0x1810),
)
_FULL_WIDTH = (0xFF01, 0xFF5E)  # the forms of ! to ~
_SURROGATES = (0xD800, 0xDFFF)
_UNSEEN = frozenset({"Cc", "Cf"})
_FEWEST_HIDDEN = 2


def _rows() -> Iterator[tuple[int, str | None]]:
    """Yield what becomes of each sign that is folded; any other stands as it is."""
    for small in "abcdefghijklmnopqrstuvwxyz":
        yield ord(small), small.upper()
    for zero in _ZEROS:
        yield from ((zero + digit, str(digit)) for digit in range(10))
    for lost in range(_SURROGATES[0], _SURROGATES[1] + 1):
        yield lost, "\N{REPLACEMENT CHARACTER}"
    for first, last in _DROPPED:
        yield from ((sign, None) for sign in range(first, last + 1))
    yield from ((ord(sign), None) for sign in _DROPPED_SIGNS)


def _table() -> Mapping[int, str | None]:
    table = dict(_rows())
    first, last = _FULL_WIDTH
    plain = ((sign, sign - first + ord("!")) for sign in range(first, last + 1))
    return {**table, **{wide: table.get(narrow, chr(narrow)) for wide, narrow in plain}}


_TABLE = _table()


def fold(text: str) -> str:
    """Return *text* for comparison only: ASCII capitals, plain digits, no full width, spaces, dashes, dots, controls.

    Any other sign stands as it is, so that no layout reads it. Lone surrogates become U+FFFD.
    """
    return text.translate(_TABLE)


def fold_name(name: str) -> str:
    """Return a person's or firm's name for comparison: as `fold`, and capitals of every script (NFKC)."""
    return fold(unicodedata.normalize("NFKC", name).upper())


def mask(code: str, hidden: int) -> str:
    """Return *code* with its last *hidden* signs as ``·``; only 2 where it has fewer than twice as many.

    Spaces, hyphens and dots stand and do not count; controls are dropped.
    """
    shown = [
        "\N{REPLACEMENT CHARACTER}" if unicodedata.category(sign) == "Cs" else sign
        for sign in code
        if unicodedata.category(sign) not in _UNSEEN
    ]
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
