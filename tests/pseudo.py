"""Pseudo-locales: every text accented, lengthened and in brackets, its placeholders whole; left to right or turned.

A text without brackets in what is composed was written past the catalogues; one without its closing bracket was cut.
"""

from notices.campaign.models import Campaign
from notices.campaign.texts import translatable
from notices.wording.catalogues import Catalogue, plural_count
from notices.wording.placeholders import split
from tests import catalogues

LEFT, RIGHT = "de", "ar"
"""The languages whose rules (plural forms, direction) the two pseudo-locales borrow."""

_ACCENTED = str.maketrans("aeiouyAEIOUYcns", "áéíóúýÁÉÍÓÚÝçñš")
_LONGER = 0.4  # the part by which a translation from English is longer; common practice, no source
OPEN, CLOSE = "⟦", "⟧"


def text(source: str) -> str:
    """Return a text as the pseudo-locale says it."""
    said = "".join(
        piece.translate(_ACCENTED) if isinstance(piece, str) else str(piece) for piece in split(source)
    )
    return f"{OPEN}{said}{'~' * round(len(source) * _LONGER)}{CLOSE}"


def catalogue(tag: str) -> Catalogue:
    """Return every sentence of ours in the pseudo-locale that borrows the rules of *tag*."""
    return Catalogue(
        tag=tag,
        messages={
            (one, many): tuple(text(many) for _ in range(plural_count(tag))) if many else (text(one),)
            for one, many in catalogues.said("notices")
        },
    )


def translation(campaign: Campaign) -> dict[tuple[str, str], str]:
    """Return the lead's wording in the pseudo-locale."""
    return {(path, source): text(source) for path, source in translatable(campaign)}
