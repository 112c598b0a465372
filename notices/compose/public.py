"""A speaker to everybody at once: every placeholder is filled where it stands, for the page is the same for all."""

from collections.abc import Iterator
from dataclasses import replace

from notices.campaign.models import Campaign
from notices.compose.contacts import reaches
from notices.compose.phrases import Phrase, isolated, joined, literal, typed_address, web_address
from notices.compose.speaking import Speaker, speaker
from notices.wording.catalogues import Catalogue
from notices.wording.formats import day_month, hours, long_date


def public_speaker(campaign: Campaign, catalogue: Catalogue) -> Speaker:
    """Return a speaker that fills every placeholder at once: the page is the same for all who read it."""
    plain = speaker(campaign, catalogue)
    values = dict(_values(plain))
    return replace(plain, known=plain.known & values.keys(), values=values)


def _values(voice: Speaker) -> Iterator[tuple[str, Phrase]]:
    campaign, tag = voice.campaign, voice.catalogue.tag
    issuer, revision = campaign.issuer, campaign.revision
    for name, address in (("bulletin", issuer.bulletin), ("answers", issuer.answers)):
        if address:
            yield name, isolated(typed_address(address), web_address(address))
    if revision.day:
        yield "day", literal(long_date(revision.day, tag))
    if campaign.next_word:
        yield "next_word", literal(day_month(campaign.next_word, tag))
    yield "revision", literal(str(revision.number))
    if campaign.hours:
        yield "hours", literal(hours(campaign.hours, tag))
    phones = [reach.phone for reach in reaches(voice) if reach.phone]
    mail = isolated(issuer.email, f"mailto:{issuer.email}") if issuer.email else None
    phone = joined(phones, ", ") or mail
    if phone:
        yield "phone", phone
