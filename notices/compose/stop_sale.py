"""The note to everyone who may still sell or hand out a unit: it can go out when only the product's name is known."""

from collections.abc import Mapping
from dataclasses import dataclass

from notices.campaign.models import Campaign
from notices.compose import layouts
from notices.compose.contacts import Reach, reaches
from notices.compose.notice import hazard
from notices.compose.phrases import Phrase, literal
from notices.compose.public import public_speaker
from notices.compose.signals import Signal, signal
from notices.compose.speaking import speaker
from notices.compose.wrapping import wrap
from notices.wording.catalogues import Catalogue


@dataclass(frozen=True, kw_only=True, slots=True)
class _Note:
    product: Phrase
    issuer: Phrase
    signal: Signal | None
    known: Phrase | None
    contacts: tuple[Reach, ...]
    places: tuple[Phrase, ...]


def stop_sale_text(
    campaign: Campaign, bureau: Catalogue, notices: Catalogue, templates: Mapping[str, str]
) -> str:
    """Return the note as plain text; *bureau* and *notices* are the two catalogues of its language."""
    note = _note(campaign, notices)
    source = layouts.text(templates, "bureau/stop-sale.txt", speaker(campaign, bureau), note=note)
    return wrap(layouts.fill_text(source, {}))


def stop_sale_page(
    campaign: Campaign, bureau: Catalogue, notices: Catalogue, templates: Mapping[str, str]
) -> str:
    """Return the note as a page of HTML to print, with a slip for each place to answer on."""
    note = _note(campaign, notices)
    source = layouts.html(templates, "bureau/stop-sale.html", speaker(campaign, bureau), note=note)
    return layouts.fill_html(source, {})


def _note(campaign: Campaign, notices: Catalogue) -> _Note:
    voice = public_speaker(campaign, notices)
    reached = reaches(voice) if campaign.issuer.email or campaign.contacts else ()
    return _Note(
        product=literal(campaign.product.name),
        issuer=literal(campaign.issuer.name),
        signal=signal(voice),
        known=hazard(voice),
        contacts=reached,
        places=tuple(literal(place) for place in campaign.sale_stop.places),
    )
