"""Second templates without loops, taken apart once and put together for each owner: what Jinja would write, quicker.

Pieces alternate: text of the variant, a value, text, a value … text. Whoever encodes a message can so encode the
variant's own text once for all its owners.
"""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from markupsafe import Markup, escape

from notices.compose.layouts import fill_html, fill_text

_LOOP = "[%"
_PLACE = re.compile(r"\[\[ (?:(plain)\.)?([a-z_]+) \]\]")
_BRACKET = '[[ "[" ]]'


@dataclass(frozen=True, slots=True)
class _Place:
    """Where a value goes; *plain* where it stands in an attribute or title, without markup."""

    name: str
    plain: bool


@lru_cache(maxsize=1024)
def _apart(source: str) -> tuple[tuple[str, ...], tuple[_Place, ...]]:
    """Return the texts of a second template and the places between them."""
    texts, places, end = [], [], 0
    for match in _PLACE.finditer(source):
        texts.append(source[end : match.start()].replace(_BRACKET, "["))
        places.append(_Place(match[2], plain=match[1] is not None))
        end = match.end()
    return (*texts, source[end:].replace(_BRACKET, "[")), tuple(places)


def html_pieces(
    source: str, values: Mapping[str, object], plain: Mapping[str, str], units: Sequence[str] = ()
) -> list[str]:
    """Return the pieces of a second template of HTML, values escaped that are no markup; KeyError where one lacks.

    *units* are the pieces of the block that takes the place of ``[[ units ]]``.
    """
    if _LOOP in source:
        return ["", fill_html(source, {**values, "plain": plain}), ""]
    texts, places = _apart(source)
    found = [texts[0]]
    for place, after in zip(places, texts[1:], strict=True):
        if place.name == "units":
            found += ["", *units, "", after]
            continue
        value = plain[place.name] if place.plain else values[place.name]
        found += [value if isinstance(value, Markup) else str(escape(value)), after]
    return found


def text_of(source: str, values: Mapping[str, object]) -> str:
    """Return a second template of plain text, filled; KeyError where a value is lacking."""
    if _LOOP in source:
        return fill_text(source, values)
    texts, places = _apart(source)
    found = [texts[0]]
    for place, after in zip(places, texts[1:], strict=True):
        found += [str(values[place.name]), after]
    return "".join(found)
