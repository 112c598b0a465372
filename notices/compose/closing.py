"""How an owner answers, how they know that a notice is genuine, and who sent it."""

from collections.abc import Iterator

from notices.compose.phrases import Phrase, isolated, joined, literal, typed_address, web_address
from notices.compose.speaking import Speaker
from notices.wording.formats import country_name
from notices.wording.terms import ROLES


def answers(speaker: Speaker, *, safe: bool) -> dict[str, object]:
    """Return the button and the word to reply with; whoever is safe is asked for neither."""
    campaign = speaker.campaign
    by_page = campaign.issuer.answers is not None
    if safe or not (by_page or campaign.issuer.email):
        return {"button": None, "by_page": by_page, "reply": None}
    button = speaker.lead(campaign.now.stopped_button, "now.stopped_button") or speaker.ours(
        "I have stopped using it"
    )
    return {"button": button, "by_page": by_page, "reply": _reply(speaker, by_page=by_page)}


def _reply(speaker: Speaker, *, by_page: bool) -> Phrase | None:
    word = speaker.lead(speaker.campaign.now.reply_word, "now.reply_word")
    if word is None or speaker.campaign.issuer.email is None:
        return None
    if by_page:
        return speaker.ours(
            "No web? Reply to this mail with the word %(word)s and your telephone number.", word=word
        )
    return speaker.ours("Or reply to this mail with the word %(word)s and your telephone number.", word=word)


def closing(speaker: Speaker, *, safe: bool) -> dict[str, Phrase | None]:
    """Return what stands at the end of a mail."""
    campaign = speaker.campaign
    return {
        "no_longer": None if safe else speaker.lead(campaign.no_longer, "no_longer"),
        "share": None if safe else speaker.lead(campaign.share, "share"),
        "genuine": joined(genuine(speaker)),
        "footer": joined(_footer(speaker)),
    }


def genuine(speaker: Speaker) -> Iterator[Phrase]:
    """Yield how a reader can make sure, without trusting any link."""
    web = speaker.campaign.issuer.web
    if web:
        address = isolated(typed_address(web), web_address(web))
        yield speaker.ours("Open %(web)s yourself: the same notice is on the first page.", web=address)
    yield speaker.ours("You can also call the number on your invoice.")
    yield speaker.ours(
        "We never ask for bank data, card numbers, passwords or identity papers, in a mail or on a page."
    )


def sender(speaker: Speaker) -> Phrase:
    """Return who we are and where: name, role, postal address, mail."""
    issuer = speaker.campaign.issuer
    country = country_name(issuer.country, speaker.catalogue.tag) if issuer.country else None
    parts: list[Phrase | None] = [
        literal(issuer.name),
        speaker.ours(ROLES[issuer.role]) if issuer.role else None,
        *(literal(line) for line in issuer.address),
        literal(country) if country else None,
        isolated(issuer.email, f"mailto:{issuer.email}") if issuer.email else None,
    ]
    return joined(parts, ", ") or literal(issuer.name)


def _footer(speaker: Speaker) -> Iterator[Phrase]:
    campaign = speaker.campaign
    yield sender(speaker).ended()
    if campaign.revision.day is not None:
        yield speaker.ours("Revision %(revision)s, %(day)s.")
    yield speaker.ours(
        "You receive this because this address is in our records for this product: %(product)s.",
        product=literal(campaign.product.name),
    )
    yield speaker.ours("It is about safety, not advertising.")
    if campaign.issuer.bulletin:
        yield speaker.ours("Every change to this notice, and our numbers in other countries: %(bulletin)s")
