"""One request as the pages see it: who reads, in which language, what was sent, and what we say today."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime
from functools import lru_cache

from audiences import addresses
from notices.campaign.models import Campaign, Contact
from notices.compose.phrases import NO_BREAK, clean
from notices.respond.forms import Form
from notices.respond.seals import Seals
from notices.wording import formats, languages, placeholders
from notices.wording.catalogues import Catalogue, read_catalogue
from notices.work.answers import Proof, Said, Visit
from notices.work.claiming import Claim
from notices.work.ports import World
from notices.work.revisions import Signed, speaks, speaks_to

START = "start"  # stands where a link would: for those who have none


@dataclass(frozen=True, kw_only=True, slots=True)
class Page:
    """One page to show: its template, what it needs, and the *step* by which it can be asked for again."""

    template: str
    step: str = ""
    proof: Proof | None = None
    claim: Claim | None = None
    status: int = 200
    values: Mapping[str, object] = field(default_factory=dict)

    def saying(self, fault: str) -> "Page":
        """Return the page with a sentence at its head that says what to mend."""
        return replace(self, values={**self.values, "fault": fault})


@dataclass(frozen=True, kw_only=True, slots=True)
class Scene:
    """What a handler is given; *who* is the link's signs or ``start``; *visit* is None without a link."""

    world: World
    seals: Seals
    held: Signed
    campaign: Campaign
    catalogue: Catalogue
    who: str
    root: str
    now: datetime
    chosen: str | None = None
    visit: Visit | None = None
    form: Form = field(default_factory=Form)
    nonce: str = ""

    @property
    def tag(self) -> str:
        """Return the language of the page."""
        return self.catalogue.tag

    @property
    def link(self) -> str | None:
        """Return the signs of the personal link, None for those who have none."""
        return None if self.who == START else self.who

    @property
    def served(self) -> bool:
        """Say whether a link was given, and its owner has a unit."""
        return self.visit is not None and bool(self.visit.standings)

    @property
    def awaited(self) -> bool:
        """Say whether the link was forwarded to this reader, and we know neither name nor unit yet."""
        return self.visit is not None and self.visit.awaited

    @property
    def said(self) -> Said:
        """Return the form as the use cases take it."""
        return Said(nonce=self.nonce, language=self.chosen)

    @property
    def proof(self) -> Proof | None:
        """Return what the hidden field says of this reader, None where it is not ours or too old."""
        return self.seals.read_proof(self.form.token("proof"), self.now)

    @property
    def claim(self) -> Claim | None:
        """Return the code that this reader typed on an earlier page."""
        return self.seals.read_claim(self.form.token("claim"), self.now)

    @property
    def hidden(self) -> int:
        """Return how many last signs of a code are never shown."""
        return self.campaign.code.hidden if self.campaign.code else 4

    @property
    def country(self) -> str | None:
        """Return the country whose contact is shown."""
        own = self.visit.owner.country if self.visit else None
        return own or self.campaign.issuer.country

    def ours(self, text: str, /, **values: str) -> str:
        """Return our own sentence in the language of the page."""
        return self.catalogue.gettext(text, **values)

    def lead(self, text: str | None) -> str:
        """Return the lead's sentence with its placeholders filled; one that we have no value for is left out."""
        name = self.campaign.product.name
        whole = clean(text or "").replace(name, name.replace(" ", NO_BREAK))  # a name parted looks like two
        pieces = placeholders.split(whole)
        values = _values(self.campaign, self.country, self.tag)
        return "".join(
            piece if isinstance(piece, str) else values.get(piece.name, "") for piece in pieces
        ).strip()


_LATIN = frozenset({"answers", "bulletin", "phone", "revision"})  # left to right in a text of any direction


def _values(campaign: Campaign, country: str | None, tag: str) -> dict[str, str]:
    day, next_word = campaign.revision.day, campaign.next_word
    contact = reachable(campaign, country, tag)
    known = {
        "bulletin": campaign.issuer.bulletin,
        "day": formats.long_date(day, tag) if day else None,
        "next_word": formats.long_date(next_word, tag) if next_word else None,
        "revision": str(campaign.revision.number),
        "phone": contact.phone or contact.email,
        "hours": contact.hours,
        "answers": campaign.issuer.answers,
    }
    given = {name: value for name, value in known.items() if value}
    if languages.direction(tag) == "ltr":
        return given
    return {name: formats.isolate(value) if name in _LATIN else value for name, value in given.items()}


def language_of(held: Signed, asked: str, visit: Visit | None, accepted: str) -> tuple[str, str | None]:
    """Return the page's language, and the one that the reader chose by hand (None: nothing was chosen)."""
    if asked in held.written:
        return asked, asked
    if visit is not None:
        return speaks_to(held.revision, visit.owner), None
    default = speaks(held.revision, "und")
    return languages.choose(_accepted(accepted), held.written, default=default), None


def _accepted(header: str) -> list[str]:
    """Return the languages of an Accept-Language header, the best first (RFC 9110, 12.5.4)."""
    found: list[tuple[float, int, str]] = []
    for place, part in enumerate(header[:500].split(",")):
        tag, _, weight = part.strip().partition(";")
        try:
            quality = float(weight.strip().removeprefix("q=") or 1)
        except ValueError:
            continue
        if tag and tag != "*" and quality > 0:
            found.append((-quality, place, tag))
    return [tag for _, _, tag in sorted(found)]


@lru_cache(maxsize=32)
def catalogue_of(text: str | None, tag: str) -> Catalogue:
    """Return our own sentences in a language; English where none is shipped for it."""
    return Catalogue(tag=tag, messages={}) if text is None else read_catalogue(text, tag)


@dataclass(frozen=True, kw_only=True, slots=True)
class Reachable:
    """How the firm is reached from a country, ready to be shown."""

    phone: str = ""
    tel: str = ""
    free: bool = False
    hours: str = ""
    email: str = ""


def reachable(campaign: Campaign, country: str | None, tag: str) -> Reachable:
    """Return the contact for a country; where it has no telephone, mail alone."""
    contact: Contact | None = campaign.contact_for(country)
    hours = formats.hours(campaign.hours, tag) if campaign.hours else ""
    email = campaign.issuer.email or ""
    if contact is None or contact.phone is None:
        return Reachable(hours=hours, email=email)
    try:
        shown, tel = addresses.national(contact.phone, country), addresses.tel_link(contact.phone)
    except ValueError:
        return Reachable(hours=hours, email=email)
    return Reachable(phone=shown, tel=tel, free=contact.free, hours=hours, email=email)
