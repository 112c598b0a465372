"""What the firm will do, told to one segment; to *use unknown* every segment's promise is told with its name."""

from collections.abc import Iterator
from dataclasses import dataclass

from audiences.segments import DANGER, Segment
from notices.campaign.models import Campaign, Remedy, RemedyFor
from notices.compose.phrases import Phrase, capital, joined, literal
from notices.compose.speaking import Speaker
from notices.wording.catalogues import msgid
from notices.wording.formats import colon, listing


@dataclass(frozen=True, kw_only=True, slots=True)
class Offer:
    """One remedy to choose, with what is promised."""

    label: Phrase | None
    promises: tuple[Phrase, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class Fit:
    """How an owner fits it, where that is allowed: first *offer*, the qualified person who does it instead."""

    offer: Phrase
    needs: tuple[Phrase, ...]
    steps: tuple[Phrase, ...]


_NEED_NOT = msgid("You need not do this yourself: a qualified person does it, and you pay nothing.")
_UNCLEAR = msgid("If anything is unclear, do not begin. Contact us.")


def named_segments() -> tuple[Segment, ...]:
    """Return the segments that an owner can name, the most endangered first."""
    named = (segment for segment in Segment if segment is not Segment.UNKNOWN)
    return tuple(sorted(named, key=lambda segment: DANGER[segment]))


def offers(speaker: Speaker, segment: Segment) -> tuple[Offer, ...]:
    """Return the remedies that an owner of this segment may choose from, in the lead's order."""
    found = []
    for key, remedy in (speaker.campaign.remedies or {}).items():
        promises = _promises(speaker, f"remedies.{key}", remedy, segment)
        if promises:
            label = speaker.lead(remedy.label, f"remedies.{key}.label")
            found.append(Offer(label=label, promises=promises))
    return tuple(found)


def _promises(speaker: Speaker, path: str, remedy: Remedy, segment: Segment) -> tuple[Phrase, ...]:
    if segment is not Segment.UNKNOWN:
        phrase = promise(speaker, path, remedy, segment)
        return (phrase,) if phrase else ()
    told: dict[str, Phrase] = {}
    for one in named_segments():
        of = remedy.for_segment(one)
        phrase = promise(speaker, path, remedy, one, named=of is not remedy.all)
        if of and of.promise and phrase:
            told.setdefault(of.promise, phrase)
    return tuple(told.values())


def promise(
    speaker: Speaker,
    path: str,
    remedy: Remedy,
    segment: Segment,
    *,
    named: bool = False,
    bare: bool = False,
) -> Phrase | None:
    """Return one segment's promise.

    *named* puts its name before it, where the lead's sentence does not; *bare* takes the name off, where it would
    stand twice.
    """
    of = remedy.for_segment(segment)
    if of is None or of.promise is None:
        return None
    place = "all" if of is remedy.all else segment
    name = getattr(speaker.campaign.use, segment).name
    begins = bool(name) and of.promise.casefold().startswith(name.casefold())
    text = (of.promise[len(name) :] if begins else of.promise).lstrip()
    if bare and begins and text.startswith(":"):
        return speaker.lead(capital(text[1:].lstrip()), f"{path}.{place}.promise")
    said = speaker.lead(of.promise, f"{path}.{place}.promise")
    if not named or not name or begins:
        return said
    return joined((speaker.lead(name, f"use.{segment}.name"), said), f"{colon(speaker.catalogue.tag)} ")


def terms(speaker: Speaker) -> Phrase | None:
    """Return what holds for every remedy: free, by when we answer, what we pay for until then."""
    campaign = speaker.campaign
    within, meanwhile = campaign.answer_within, campaign.meanwhile
    return joined(
        (
            speaker.lead(campaign.free, "free"),
            speaker.lead(within.text, "answer_within.text") if within else None,
            speaker.lead(meanwhile.text, "meanwhile.text") if meanwhile else None,
        )
    )


def by_owner(campaign: Campaign, segment: Segment) -> bool:
    """Say whether an owner of this segment may fit anything; for *use unknown* whether any segment's may."""
    asked = named_segments() if segment is Segment.UNKNOWN else (segment,)
    return any(True for one in asked for _ in _own_work(campaign, one))


def _own_work(campaign: Campaign, segment: Segment) -> Iterator[tuple[str, RemedyFor]]:
    """Yield path and remedy of what an owner may fit; nobody fits anything before the use is known."""
    for key, remedy in (campaign.remedies or {}).items():
        of = remedy.for_segment(segment)
        if of is not None and "owner" in of.by:
            yield f"remedies.{key}.{'all' if of is remedy.all else segment}", of


def fits(speaker: Speaker, segment: Segment) -> tuple[Fit, ...]:
    """Return the work that an owner of this segment may do, behind the offer of a qualified person."""
    return tuple(_fit(speaker, path, of) for path, of in _own_work(speaker.campaign, segment))


def _fit(speaker: Speaker, path: str, of: RemedyFor) -> Fit:
    others = [fitter for fitter in of.by if fitter != "owner"]
    return Fit(
        offer=speaker.gettext(_NEED_NOT if others else _UNCLEAR),
        needs=tuple(_needs(speaker, path, of)),
        steps=speaker.leads(of.steps, f"{path}.steps"),
    )


def _needs(speaker: Speaker, path: str, of: RemedyFor) -> Iterator[Phrase]:
    names = speaker.campaign.parts
    if of.parts:
        pieces = [f"{count} × {names.get(part, part)}" for part, count in of.parts.items()]  # noqa: RUF001 - times
        yield speaker.gettext("In the kit: %(parts)s", parts=literal(listing(pieces, speaker.catalogue.tag)))
    if of.tools:
        tools = speaker.lead(listing(of.tools, speaker.catalogue.tag), f"{path}.tools")
        yield speaker.gettext("Tools: %(tools)s", tools=tools)
    minutes = of.minutes.get("owner")
    if minutes:
        yield speaker.ngettext(
            "It takes about %(count)s minute.", "It takes about %(count)s minutes.", minutes
        )


def cautions(speaker: Speaker, segment: Segment) -> tuple[Phrase, ...]:
    """Return the cautions, where an owner who reads this may fit something."""
    if not by_owner(speaker.campaign, segment):
        return ()
    return speaker.leads(speaker.campaign.cautions, "cautions")
