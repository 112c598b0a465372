"""Who speaks in a notice: the lead's own wording and our sentences, gathered into phrases, their faults noted."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from notices.campaign.models import Campaign
from notices.compose.phrases import Phrase, filled, literal, wording
from notices.wording import placeholders
from notices.wording.catalogues import Catalogue

PLACEHOLDERS: Mapping[str, str] = {
    "answers": "issuer.answers",
    "bulletin": "issuer.bulletin",
    "button": "the owner's personal link; without an answer page a mail to issuer.email",
    "call": "the contact of the owner's country, hours",
    "day": "revision.day",
    "hours": "hours",
    "link": "the owner's personal link, as it is typed",
    "next_word": "next_word",
    "phone": "the telephone of the owner's country; where it has none issuer.email",
    "reference": "the references of the owner's units",
    "revision": "revision.number",
    "signs": "how many last signs of the owner's codes are left out",
    "units": "the codes and references of the owner's units",
}
"""Every placeholder a notice may hold, and where its value comes from."""

OF_LAYOUT = frozenset({"units", "call", "signs"})
"""Placeholders that stand for whole passages; an author's sentence cannot hold them."""


def usable(campaign: Campaign) -> frozenset[str]:
    """Return the placeholders that this campaign has values for, inside a sentence."""
    without = {
        "answers": campaign.issuer.answers is None,
        "bulletin": campaign.issuer.bulletin is None,
        "button": campaign.issuer.answers is None and campaign.issuer.email is None,
        "day": campaign.revision.day is None,
        "hours": campaign.hours is None,
        "link": campaign.issuer.answers is None,
        "next_word": campaign.next_word is None,
        "phone": campaign.issuer.email is None and not any(contact.phone for contact in campaign.contacts),
    }
    lacking = {name for name, lacks in without.items() if lacks}
    return frozenset(PLACEHOLDERS) - OF_LAYOUT - lacking


@dataclass(frozen=True, kw_only=True, slots=True)
class Speaker:
    """Turns texts into phrases; *heard* gathers path and text of each of the lead's that was used."""

    campaign: Campaign
    catalogue: Catalogue
    known: frozenset[str]
    values: Mapping[str, Phrase] = field(default_factory=dict)
    heard: list[tuple[str, str]] = field(default_factory=list)

    def gettext(self, msgid: str, /, **values: Phrase | None) -> Phrase:
        """Return our sentence *msgid* in the notice's language; values that are not given stay placeholders."""
        return self.spoken(self.catalogue.gettext(msgid), values)

    def spoken(self, text: str, values: Mapping[str, Phrase | None]) -> Phrase:
        """Return a sentence of ours that has been looked up already, with *values* in their places."""
        given = {**self.values, **{name: value for name, value in values.items() if value is not None}}
        return filled(wording(text, self.known | given.keys()), given)

    def ngettext(self, one: str, many: str, n: int) -> Phrase:
        """Return our sentence for *n* pieces."""
        return literal(self.catalogue.ngettext(one, many, n))

    def lead(self, text: str | None, path: str) -> Phrase | None:
        """Return the lead's sentence, None where it is not written."""
        if text is None:
            return None
        self.heard.append((path, text))
        return filled(wording(text, self.known), self.values)

    def leads(self, texts: Iterable[str], path: str) -> tuple[Phrase, ...]:
        """Return the lead's sentences of one list."""
        found = (self.lead(text, f"{path}[{place}]") for place, text in enumerate(texts))
        return tuple(phrase for phrase in found if phrase is not None)

    def unanswered(self) -> list[tuple[str, str]]:
        """Return path and name of each placeholder that has no value, in the order of reading."""
        return [
            (path, name)
            for path, text in dict.fromkeys(self.heard)
            for name in placeholders.names(text)
            if name not in self.known
        ]


def speaker(campaign: Campaign, catalogue: Catalogue) -> Speaker:
    """Return a speaker for the campaign in the catalogue's language."""
    return Speaker(campaign=campaign, catalogue=catalogue, known=usable(campaign))
