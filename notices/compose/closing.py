"""How an owner answers, how they know that a notice is genuine, and who sent it."""

from collections.abc import Iterator
from dataclasses import dataclass

from notices.compose.phrases import Phrase, isolated, joined, literal, typed_address, web_address
from notices.compose.speaking import Speaker
from notices.wording.formats import comma, country_name
from notices.wording.terms import ROLES


@dataclass(frozen=True, kw_only=True, slots=True)
class Answers:
    """The ways to answer; *by_page*: the button opens a page, else it writes a mail."""

    button: Phrase | None
    by_page: bool
    reply: Phrase | None


@dataclass(frozen=True, kw_only=True, slots=True)
class Closing:
    """The end of a mail."""

    no_longer: Phrase | None
    share: Phrase | None
    genuine: Phrase | None
    footer: Phrase | None


def answers(speaker: Speaker, *, safe: bool) -> Answers:
    """Return the button and the word to reply with; whoever is safe is asked for neither."""
    campaign = speaker.campaign
    by_page = campaign.issuer.answers is not None
    if safe or not (by_page or campaign.issuer.email):
        return Answers(button=None, by_page=by_page, reply=None)
    button = speaker.lead(campaign.now.stopped_button, "now.stopped_button") or speaker.gettext(
        "I have stopped using it"
    )
    return Answers(button=button, by_page=by_page, reply=_reply(speaker, by_page=by_page))


def _reply(speaker: Speaker, *, by_page: bool) -> Phrase | None:
    word = speaker.lead(speaker.campaign.now.reply_word, "now.reply_word")
    if word is None or speaker.campaign.issuer.email is None:
        return None
    if by_page:
        return speaker.gettext(
            "No web? Reply to this mail with the word %(reply_word)s and your telephone number.",
            reply_word=word,
        )
    return speaker.gettext(
        "Or reply to this mail with the word %(reply_word)s and your telephone number.", reply_word=word
    )


def closing(speaker: Speaker, *, safe: bool) -> Closing:
    """Return what stands at the end of a mail."""
    campaign = speaker.campaign
    return Closing(
        no_longer=None if safe else speaker.lead(campaign.no_longer, "no_longer"),
        share=None if safe else speaker.lead(campaign.share, "share"),
        genuine=joined(genuine(speaker)),
        footer=joined(_footer(speaker)),
    )


def genuine(speaker: Speaker) -> Iterator[Phrase]:
    """Yield how a reader can make sure, without trusting any link."""
    web = speaker.campaign.issuer.web
    if web:
        address = isolated(typed_address(web), web_address(web))
        yield speaker.gettext("Open %(web)s yourself: the same notice is on the first page.", web=address)
        yield speaker.gettext("Or call the number on your invoice.")
    else:
        yield speaker.gettext("Call the number on your invoice.")
    yield speaker.gettext(
        "We never ask for bank data, card numbers, passwords or identity papers, in a mail or on a page."
    )


def sender(speaker: Speaker) -> Phrase:
    """Return who we are and where: name, role, postal address, mail."""
    issuer = speaker.campaign.issuer
    country = country_name(issuer.country, speaker.catalogue.tag) if issuer.country else None
    parts: list[Phrase | None] = [
        literal(issuer.name),
        speaker.gettext(ROLES[issuer.role]) if issuer.role else None,
        *(literal(line) for line in issuer.address),
        literal(country) if country else None,
        isolated(issuer.email, f"mailto:{issuer.email}") if issuer.email else None,
    ]
    return joined(parts, comma(speaker.catalogue.tag)) or literal(issuer.name)


def _footer(speaker: Speaker) -> Iterator[Phrase]:
    campaign = speaker.campaign
    yield sender(speaker).ended()
    if campaign.revision.day is not None:
        yield speaker.gettext("Revision %(revision)s, %(day)s.")
    yield speaker.gettext(
        "You receive this because this address is in our records for: %(product)s. It is about safety, not"
        " advertising.",
        product=literal(campaign.product.name),
    )
    if campaign.issuer.bulletin:
        yield speaker.gettext("Every change to this notice: %(bulletin)s")
