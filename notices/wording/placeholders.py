"""Find and fill named placeholders, ``%(owner)s``; every other per cent sign is text.

Python's ``%`` is never applied to wording: a sentence with "100 %" in it would fail, one with ``%(x)d`` obey.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

_PLACEHOLDER = re.compile(r"%\(([a-z][a-z0-9_]{0,63})\)s")


@dataclass(frozen=True, kw_only=True, slots=True)
class Placeholder:
    """A place in a text that a value takes; it prints as it was written."""

    name: str

    def __str__(self) -> str:
        """Render as ``%(name)s``."""
        return f"%({self.name})s"


class UnfilledError(LookupError):
    """Raised where a text names a placeholder that nobody gave a value for: no reader may see one."""


@lru_cache(maxsize=1024)
def split(text: str) -> tuple[str | Placeholder, ...]:
    """Return the stretches of plain text and the placeholders of *text*, in order; joined they are *text*."""
    pieces: list[str | Placeholder] = []
    end = 0
    for match in _PLACEHOLDER.finditer(text):
        if match.start() > end:
            pieces.append(text[end : match.start()])
        pieces.append(Placeholder(name=match[1]))
        end = match.end()
    if end < len(text):
        pieces.append(text[end:])
    return tuple(pieces)


def names(text: str) -> tuple[str, ...]:
    """Return the names of the placeholders in *text*, each once, in the order of their first place."""
    return tuple(dict.fromkeys(_PLACEHOLDER.findall(text)))


def fill(text: str, values: Mapping[str, str]) -> str:
    """Put *values* in their places, never looking into them; raise UnfilledError where one is lacking."""
    lacking = [name for name in names(text) if name not in values]
    if lacking:
        raise UnfilledError(f"no value for {', '.join(lacking)}")
    return _PLACEHOLDER.sub(lambda match: values[match[1]], text)
