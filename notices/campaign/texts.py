"""Which texts of a campaign owners read, and the same campaign with those texts in another language."""

from collections.abc import Iterator, Mapping

from notices.campaign.models import Campaign
from notices.campaign.shape import rewritten


def translatable(campaign: Campaign) -> Iterator[tuple[str, str]]:
    """Yield the path without list places and the text of each text that owners read, each pair once."""
    found: dict[tuple[str, str], None] = {}

    def note(path: str, text: str) -> str:
        found[path, text] = None
        return text

    rewritten(campaign, note)
    yield from found


def localise(campaign: Campaign, translation: Mapping[tuple[str, str], str]) -> Campaign:
    """Return the campaign with each text replaced by its translation, the source text where there is none.

    *translation* is keyed by path without list places, and source text; its white space is folded, so that no
    line break reaches a subject.
    """

    def translated(path: str, text: str) -> str:
        return " ".join(translation.get((path, text), "").split()) or text

    return rewritten(campaign, translated)
