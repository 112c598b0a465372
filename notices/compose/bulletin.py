"""The public page: the same notice for everyone, with the open ledger and every change; and as plain text."""

import base64
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from audiences.findings import Finding
from audiences.segments import Segment
from notices.campaign.models import Campaign, RevisionNote
from notices.compose import closing, layouts, remedies
from notices.compose.contacts import Reach, reaches
from notices.compose.ledgers import Entry, entries, next_word
from notices.compose.mail import CAMPAIGN_FILE, placeholder_finding
from notices.compose.notice import hazard, headline, steps, warning_text
from notices.compose.phrases import Phrase, isolated, joined, literal, typed_address, web_address
from notices.compose.pictures import shown
from notices.compose.public import public_speaker
from notices.compose.remedies import Offer
from notices.compose.signals import Signal, signal
from notices.compose.speaking import Speaker
from notices.compose.units import described, sold
from notices.compose.wrapping import wrap
from notices.wording.catalogues import Catalogue
from notices.wording.formats import long_date
from notices.wording.languages import autonym

_NAMELESS = "–"  # noqa: RUF001 - stands for a use that the lead has not named; its promise is shown all the same


@dataclass(frozen=True, kw_only=True, slots=True)
class Edition:
    """The page in one language: its BCP 47 *tag* and the *address* it is found at, as a link is written."""

    tag: str
    address: str


@dataclass(frozen=True, kw_only=True, slots=True)
class _Link:
    name: Phrase
    tag: str
    href: str
    typed: Phrase
    here: bool


@dataclass(frozen=True, kw_only=True, slots=True)
class _Row:
    name: Phrase
    now: Phrase | None
    promises: tuple[Phrase, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class _Change:
    number: int
    day: Phrase | None
    why: Phrase | None


@dataclass(frozen=True, kw_only=True, slots=True)
class _Image:
    src: str
    alt: Phrase


@dataclass(frozen=True, kw_only=True, slots=True)
class _Page:
    """What the public page says, part by part."""

    issuer: Phrase
    name: Phrase
    editions: tuple[_Link, ...]
    headline: Phrase
    product: Phrase | None
    sold: Phrase | None
    revision: Phrase
    signal: Signal | None
    lead: Phrase | None
    hazard: Phrase | None
    steps: tuple[Phrase, ...]
    call_at_once: Phrase | None
    check: str
    check_typed: Phrase | None
    where: Phrase | None
    other_code: Phrase | None
    pictures: tuple[_Image, ...]
    warning_text: Phrase | None
    rows: tuple[_Row, ...]
    for_all: tuple[Offer, ...]
    terms: Phrase | None
    cautions: tuple[Phrase, ...]
    facts: tuple[Entry, ...]
    next_word: Phrase | None
    contacts: tuple[Reach, ...]
    genuine: Phrase | None
    revisions: tuple[_Change, ...]
    sender: Phrase


def bulletin_page(
    campaign: Campaign,
    catalogue: Catalogue,
    templates: Mapping[str, str],
    *,
    editions: Sequence[Edition] = (),
    revisions: Sequence[RevisionNote] = (),
    pictures: Mapping[str, bytes] | None = None,
) -> str:
    """Return the public page as HTML with its style and pictures inside and no script; *campaign* in its language.

    *editions* are all languages, this one among them; *revisions* what changed, in this language, in any order;
    *pictures* bytes by the name in the campaign.
    """
    voice = public_speaker(campaign, catalogue)
    source = layouts.html(
        templates, "bulletin.html", voice, page=_page(voice, editions, revisions, pictures or {})
    )
    return layouts.fill_html(source, {})


def bulletin_text(
    campaign: Campaign,
    catalogue: Catalogue,
    templates: Mapping[str, str],
    *,
    editions: Sequence[Edition] = (),
    revisions: Sequence[RevisionNote] = (),
) -> str:
    """Return the same notice as plain text, for a press office, a shop's notice board or a list."""
    voice = public_speaker(campaign, catalogue)
    source = layouts.text(templates, "bulletin.txt", voice, page=_page(voice, editions, revisions, {}))
    return wrap(layouts.fill_text(source, {}))


def bulletin_findings(
    campaign: Campaign,
    catalogue: Catalogue,
    *,
    lines: Mapping[str, int] | None = None,
    file: str = CAMPAIGN_FILE,
) -> tuple[Finding, ...]:
    """Return what is wrong with the placeholders of the texts that the public page shows."""
    voice = public_speaker(campaign, catalogue)
    _page(voice, (), (), {})
    return tuple(placeholder_finding(path, name, lines or {}, file) for path, name in voice.unanswered())


def _page(
    voice: Speaker,
    editions: Sequence[Edition],
    revisions: Sequence[RevisionNote],
    pictures: Mapping[str, bytes],
) -> _Page:
    campaign = voice.campaign
    warning = campaign.remedies is None
    market = next(iter(campaign.markets), "")
    answers, code = campaign.issuer.answers, campaign.code
    return _Page(
        issuer=literal(campaign.issuer.name),
        name=literal(campaign.product.name),
        editions=tuple(_link(edition, voice.catalogue.tag) for edition in editions),
        headline=headline(voice, market, warning=warning),
        product=described(voice),
        sold=sold(voice),
        revision=_revision(voice),
        signal=signal(voice),
        lead=voice.lead(campaign.now.headline, "now.headline"),
        hazard=hazard(voice),
        steps=steps(voice, Segment.UNKNOWN),
        call_at_once=voice.lead(campaign.now.call_at_once, "now.call_at_once"),
        check=_html_attribute(f"{web_address(answers).rstrip('/')}/") if answers else "",
        check_typed=isolated(typed_address(answers)) if answers else None,
        where=joined((voice.lead(code.where, "code.where"), voice.lead(code.says, "code.says")))
        if code
        else None,
        other_code=voice.lead(campaign.now.other_code, "now.other_code"),
        pictures=tuple(_images(voice, pictures)),
        warning_text=warning_text(voice) if warning else None,
        rows=() if warning else tuple(_rows(voice)),
        for_all=() if warning else tuple(_for_all(voice)),
        terms=None if warning else remedies.terms(voice),
        cautions=voice.leads(campaign.cautions, "cautions"),
        facts=entries(voice),
        next_word=next_word(voice),
        contacts=reaches(voice),
        genuine=joined(closing.genuine(voice)),
        revisions=tuple(_changes(voice, revisions)),
        sender=closing.sender(voice).ended(),
    )


def _html_attribute(text: str) -> str:
    return text.replace("&", "&amp;").replace("[", "&#91;").replace("'", "&#39;")


def _link(edition: Edition, here: str) -> _Link:
    return _Link(
        name=literal(autonym(edition.tag)),
        tag=edition.tag,
        href=_html_attribute(_reference(edition.address)),
        typed=isolated(typed_address(edition.address)),
        here=edition.tag == here,
    )


def _reference(address: str) -> str:
    """Return a link as it is where it leads to a page beside this one, else as a web address."""
    beside = "//" not in address and ":" not in address
    return web_address(f"https://x/{address}").removeprefix("https://x/") if beside else web_address(address)


def _revision(voice: Speaker) -> Phrase:
    if voice.campaign.revision.day is None:
        return voice.gettext("Revision %(revision)s.")
    return voice.gettext("Revision %(revision)s, %(day)s.")


def _images(voice: Speaker, pictures: Mapping[str, bytes]) -> Iterator[_Image]:
    for picture in shown(voice, pictures, ("product", "code")):
        encoded = base64.b64encode(picture.data).decode("ascii")
        yield _Image(src=f"data:{picture.media};base64,{encoded}", alt=picture.alt)


def _rows(voice: Speaker) -> Iterator[_Row]:
    """Yield the table: each use by its name, what its owner does now, what we do; the most endangered first."""
    use = voice.campaign.use
    table = [(segment, tuple(_promises(voice, segment))) for segment in remedies.named_segments()]
    if not any(promises for _, promises in table):
        return
    for segment, promises in table:
        if promises:
            name = voice.lead(getattr(use, segment).name, f"use.{segment}.name") or literal(_NAMELESS)
            yield _Row(name=name, now=_first(steps(voice, segment)), promises=promises)
    unsure = voice.lead(use.unknown.answer, "use.unknown.answer") or voice.lead(
        use.unknown.name, "use.unknown.name"
    )
    if unsure is not None:
        look = voice.gettext("We will find out with you.")
        yield _Row(name=unsure, now=_first(steps(voice, Segment.UNKNOWN)), promises=(look,))


def _first(phrases: Sequence[Phrase]) -> Phrase | None:
    return phrases[0] if phrases else None


def _promises(voice: Speaker, segment: Segment) -> Iterator[Phrase]:
    for key, remedy in (voice.campaign.remedies or {}).items():
        of = remedy.for_segment(segment)
        if of is not None and of is not remedy.all:
            said = remedies.promise(voice, f"remedies.{key}", remedy, segment, bare=True)
            if said is not None:
                yield said


def _for_all(voice: Speaker) -> Iterator[Offer]:
    """Yield the remedies that are the same however it was used."""
    for key, remedy in (voice.campaign.remedies or {}).items():
        if remedy.all is not None and remedy.all.promise is not None:
            label = voice.lead(remedy.label, f"remedies.{key}.label")
            yield Offer(
                label=label, promises=voice.leads((remedy.all.promise,), f"remedies.{key}.all.promise")
            )


def _changes(voice: Speaker, revisions: Sequence[RevisionNote]) -> Iterator[_Change]:
    for note in sorted(revisions, key=lambda note: (note.number, note.day or date.min), reverse=True):
        yield _Change(
            number=note.number,
            day=literal(long_date(note.day, voice.catalogue.tag)) if note.day else None,
            why=voice.lead(note.why, "revision.why"),
        )
