"""Plain text in lines of at most 72 columns; an address, a code or a number is never broken (RFC 3676, section 4.2)."""

import re
import unicodedata
from functools import lru_cache

WIDTH = 72
_INDENT = re.compile(r" *(?:\d+\. |- |\*\*\* )?")
_WIDE = frozenset({"W", "F"})  # UAX #11: signs that take two columns


def columns(text: str) -> int:
    """Return how many columns a text takes on a screen of even width."""
    if text.isascii():
        return len(text)
    return sum(_width(sign) for sign in text)


def _width(sign: str) -> int:
    if unicodedata.combining(sign) or unicodedata.category(sign) in {"Cf", "Mn", "Me"}:
        return 0
    return 2 if unicodedata.east_asian_width(sign) in _WIDE else 1


def wrap(text: str) -> str:
    """Break each line at spaces, the lines of a list under its first word; at most one empty line together."""
    whole = "\n".join(map(_wrapped, text.split("\n")))
    while "\n\n\n" in whole:
        whole = whole.replace("\n\n\n", "\n\n")
    return whole.strip("\n") + "\n"


@lru_cache(maxsize=4096)  # most lines of a variant are the same for all its owners
def _wrapped(text: str) -> str:
    line = text.rstrip(" ")
    if columns(line) <= WIDTH:
        return line
    match = _INDENT.match(line)
    first = match[0] if match else ""
    hanging = " " * len(first)
    found, current, filled = [], first, columns(first)
    for word in line[len(first) :].split(" "):
        wide = columns(word)
        begun = current not in {first, hanging}
        if begun and filled + 1 + wide > WIDTH:
            found.append(current)
            current, filled = hanging + word, len(hanging) + wide
        else:
            current += f" {word}" if begun else word
            filled += wide + (1 if begun else 0)
    return "\n".join([*found, current])
