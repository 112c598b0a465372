"""How the firm is reached from each country, for everyone to read."""

from collections.abc import Iterator
from dataclasses import dataclass

from audiences.addresses import international, tel_link
from notices.campaign.models import Contact
from notices.compose.phrases import Phrase, isolated, joined
from notices.compose.speaking import Speaker
from notices.compose.values import call
from notices.wording.formats import country_name, listing


@dataclass(frozen=True, kw_only=True, slots=True)
class Reach:
    """One line: for whom, how; *phone* alone where there is one."""

    where: Phrase | None
    how: Phrase
    phone: Phrase | None


def reaches(speaker: Speaker) -> tuple[Reach, ...]:
    """Return a line for each contact of the campaign; without any, the mail address."""
    found = tuple(_lines(speaker))
    if found:
        return found
    return tuple(_line(speaker, None))


def _lines(speaker: Speaker) -> Iterator[Reach]:
    for contact in speaker.campaign.contacts:
        yield from _line(speaker, contact)


def _line(speaker: Speaker, contact: Contact | None) -> Iterator[Reach]:
    campaign, tag = speaker.campaign, speaker.catalogue.tag
    phone = _phone(contact)
    mail = (
        isolated(campaign.issuer.email, f"mailto:{campaign.issuer.email}") if campaign.issuer.email else None
    )
    values = {"phone": phone, "email": mail}
    how = joined(speaker.spoken(sentence, values) for sentence in call(campaign, speaker.catalogue, contact))
    if how is None:
        return
    names = sorted(country_name(code, tag) for code in contact.countries) if contact else []
    yield Reach(where=Phrase((listing(names, tag),)) if names else None, how=how, phone=phone)


def _phone(contact: Contact | None) -> Phrase | None:
    """Return a number as it is dialled from anywhere: readers of a public page may be away from home."""
    if contact is None or contact.phone is None:
        return None
    try:
        return isolated(international(contact.phone), tel_link(contact.phone))
    except ValueError:  # not E.164; the campaign's own check says so
        return isolated(contact.phone)
