"""Which texts of a campaign owners read, and the same campaign with those texts in another language."""

import re
from collections.abc import Iterator, Mapping

from notices.campaign.models import Campaign
from notices.campaign.shape import Place, rewritten, texts

_SPACES = re.compile(r"[^\S\N{NO-BREAK SPACE}\N{NARROW NO-BREAK SPACE}]+")


def translatable(campaign: Campaign) -> Iterator[tuple[str, str]]:
    """Yield the path without list places and the text of each text that owners read, each pair once."""
    inside = {("ledger", at, "text") for at, fact in enumerate(campaign.ledger) if fact.inside}
    yield from dict.fromkeys(
        (context_of(place), text) for place, text in texts(campaign) if place not in inside
    )


def localise(campaign: Campaign, translation: Mapping[tuple[str, str], str]) -> Campaign:
    """Return the campaign with each text replaced by its translation, the source text where there is none.

    *translation* is keyed by path without list places, and source text; its white space is folded, so that no
    line break reaches a subject. A no-break space stays: French sets one before a colon.
    """

    def translated(place: Place, text: str) -> str:
        return _SPACES.sub(" ", translation.get((context_of(place), text), "")).strip() or text

    return rewritten(campaign, translated)


def context_of(place: Place) -> str:
    """Return the path without list places: what a translation names the text at *place* by."""
    return ".".join(step for step in place if isinstance(step, str))
