"""What a mail says, part by part in the order an owner reads it; how it is laid out is the templates' matter."""

from collections.abc import Mapping
from dataclasses import dataclass

from audiences.segments import Segment, treated_as
from audiences.verdicts import Verdict
from notices.campaign.ledger import standing
from notices.campaign.models import Campaign, Fact
from notices.compose import closing, remedies
from notices.compose.phrases import Phrase, joined
from notices.compose.pictures import Shown, shown
from notices.compose.remedies import Fit, Offer
from notices.compose.signals import Signal, signal
from notices.compose.speaking import Speaker
from notices.compose.variants import SAFE, VariantKey
from notices.wording.catalogues import msgid
from notices.wording.formats import month_span

_ABOVE: Mapping[str, str] = {
    "remind": msgid(
        "We have written to you before and have no answer yet. If you have answered in the last few days, you need"
        " not answer again. What follows still holds."
    ),
    "correct": msgid("This corrects what we have told you before. From now on, this message holds."),
}


@dataclass(frozen=True, kw_only=True, slots=True)
class Notice:
    """A mail's parts; None and () where this variant has none. *by_page*: answers come by the web page."""

    subject: Phrase
    preheader: Phrase | None
    above: Phrase | None
    headline: Phrase
    signal: Signal | None
    lead: Phrase | None
    hazard: Phrase | None
    foreign: Phrase | None
    product: Phrase | None
    sold: Phrase | None
    where: Phrase | None
    code_missing: Phrase
    code_note: Phrase
    pictures: tuple[Shown, ...]
    steps: tuple[Phrase, ...]
    button: Phrase | None
    by_page: bool
    reply: Phrase | None
    other_code: Phrase | None
    call_at_once: Phrase | None
    warning_text: Phrase | None
    remedies: tuple[Offer, ...]
    terms: Phrase | None
    fits: tuple[Fit, ...]
    fit_pictures: tuple[Shown, ...]
    cautions: tuple[Phrase, ...]
    known: Phrase | None
    checked: tuple[Phrase, ...]
    unknown: tuple[Phrase, ...]
    next_word: Phrase | None
    no_longer: Phrase | None
    share: Phrase | None
    genuine: Phrase | None
    footer: Phrase | None


def notice(speaker: Speaker, key: VariantKey, pictures: Mapping[str, bytes]) -> Notice:
    """Say everything that one variant says; a cleared or foreign unit's owner is asked for nothing."""
    campaign = speaker.campaign
    safe = key.verdict in SAFE
    warning = key.kind == "stop" or campaign.remedies is None
    fits = () if safe or warning else remedies.fits(speaker, key.segment)
    hazard = campaign.hazard
    return Notice(
        subject=_subject(speaker, key, warning=warning),
        preheader=_preheader(speaker, key, warning=warning),
        above=speaker.ours(_ABOVE[key.kind]) if key.kind in _ABOVE and not safe else None,
        headline=headline(speaker, key.market, warning=warning),
        signal=None if safe else signal(speaker),
        lead=_lead(speaker, safe=safe),
        hazard=None
        if safe
        else joined(
            (
                speaker.lead(hazard.what, "hazard.what"),
                speaker.lead(hazard.who, "hazard.who"),
                speaker.lead(hazard.without_sign, "hazard.without_sign"),
            )
        ),
        foreign=_foreign(speaker) if key.verdict is Verdict.FOREIGN else None,
        **_unit(speaker, key),
        pictures=shown(speaker, pictures, ("product", "code")),
        steps=() if safe else steps(speaker, key.segment),
        **closing.answers(speaker, safe=safe),
        call_at_once=speaker.lead(campaign.now.call_at_once, "now.call_at_once"),
        warning_text=_warning_text(speaker) if warning and not safe else None,
        remedies=() if safe or warning else remedies.offers(speaker, key.segment),
        terms=None if safe or warning else remedies.terms(speaker),
        fits=fits,
        fit_pictures=shown(speaker, pictures, ("part", "step")) if fits else (),
        cautions=() if safe or warning else remedies.cautions(speaker, key.segment),
        **_ledger(speaker, safe=safe),
        **closing.closing(speaker, safe=safe),
    )


def _subject(speaker: Speaker, key: VariantKey, *, warning: bool) -> Phrase:
    """Return the subject: a reminder's and a correction's own, else the notice's with one word before it."""
    subjects = speaker.campaign.subjects
    if key.verdict in SAFE:
        return speaker.lead(subjects.cleared, "subjects.cleared") or headline(
            speaker, key.market, warning=warning
        )
    name = "stop" if warning else "first"
    plain = speaker.lead(getattr(subjects, name), f"subjects.{name}") or _without_subject(speaker)
    if key.kind == "remind":
        return speaker.lead(subjects.remind, "subjects.remind") or speaker.ours(
            "Reminder: %(subject)s", subject=plain
        )
    if key.kind == "correct":
        return speaker.lead(subjects.correct, "subjects.correct") or speaker.ours(
            "Correction: %(subject)s", subject=plain
        )
    return plain


def _without_subject(speaker: Speaker) -> Phrase:
    """Return what stands in for a subject that is not written: no warning waits for one."""
    return speaker.lead(speaker.campaign.now.headline, "now.headline") or speaker.ours(
        "Important safety warning"
    )


def _preheader(speaker: Speaker, key: VariantKey, *, warning: bool) -> Phrase | None:
    lines = speaker.campaign.preheaders
    if key.verdict in SAFE:
        return speaker.lead(lines.cleared, "preheaders.cleared")
    own = getattr(lines, key.kind, None)
    name = key.kind if own else "stop" if warning else "first"
    return speaker.lead(getattr(lines, name), f"preheaders.{name}")


def headline(speaker: Speaker, market: str, *, warning: bool) -> Phrase:
    """Return the headline that the market's law asks for; a stop warning bears its own."""
    campaign = speaker.campaign
    if warning:
        return speaker.lead(campaign.warning_headline, "warning_headline") or speaker.ours(
            "Important safety warning"
        )
    own = campaign.markets.get(market)
    return speaker.lead(own.headline if own else None, f"markets.{market}.headline") or speaker.ours(
        "Product safety recall"
    )


def _lead(speaker: Speaker, *, safe: bool) -> Phrase | None:
    now = speaker.campaign.now
    if safe:
        return speaker.lead(now.cleared, "now.cleared")
    return speaker.lead(now.headline, "now.headline")


def steps(speaker: Speaker, segment: Segment) -> tuple[Phrase, ...]:
    """Return what an owner of this segment does now; a segment's own steps stand in the place of the first of all."""
    of = speaker.campaign.now.steps
    whose = next((one for one in (segment, treated_as(segment)) if getattr(of, one)), None)
    own = speaker.leads(getattr(of, whose), f"now.steps.{whose}") if whose else ()
    return (*own, *speaker.leads(of.all, "now.steps.all")[len(own) :])


def _foreign(speaker: Speaker) -> Phrase:
    return speaker.ours(
        "The code in our records is not one of this product's codes. If the product bears another code, or if you are"
        " not sure, do not use it and call us."
    )


def _unit(speaker: Speaker, key: VariantKey) -> dict[str, Phrase | None]:
    campaign = speaker.campaign
    missing = speaker.lead(campaign.now.code_missing, "now.code_missing") or speaker.ours(
        "We do not have the code of your product. Do what this message says until we know it, and tell us the code or"
        " send us a photo of it."
    )
    code = campaign.code
    other = None if key.verdict in SAFE else speaker.lead(campaign.now.other_code, "now.other_code")
    return {
        "product": speaker.lead(campaign.product.description or campaign.product.name, "product.description"),
        "sold": sold(speaker),
        "where": joined(
            (
                speaker.lead(code.where, "code.where") if code else None,
                speaker.lead(code.says, "code.says") if code and key.verdict is Verdict.MISSING else None,
            )
        ),
        "code_missing": missing,
        "code_note": _code_note(speaker, key.verdict, missing),
        "other_code": other,
    }


def _code_note(speaker: Speaker, verdict: Verdict, missing: Phrase) -> Phrase:
    if verdict is Verdict.MISSING:
        return missing
    note = speaker.ours("The last signs are left out here. You find them on the product.")
    if verdict is Verdict.UNREADABLE:
        doubt = speaker.ours(
            "We cannot read this code with certainty. Until it is clear, it counts as affected. Compare it with the one"
            " on the product."
        )
        return joined((note, doubt)) or note
    return note


def sold(speaker: Speaker) -> Phrase | None:
    """Return by whom and when it was sold, as one sentence of ours around the lead's words."""
    of = speaker.campaign.product.sold
    if of is None:
        return None
    by = speaker.lead(of.by, "product.sold.by")
    first, last = of.from_ or of.to, of.to or of.from_
    if not first or not last:
        return speaker.ours("Sold by %(by)s", by=by) if by else None
    months = Phrase((month_span(first, last, speaker.catalogue.tag),))
    if by is None:
        return speaker.ours("Sold %(months)s", months=months)
    return speaker.ours("Sold by %(by)s, %(months)s", by=by, months=months)


def _warning_text(speaker: Speaker) -> Phrase | None:
    meanwhile = speaker.campaign.meanwhile
    return joined(
        (
            speaker.lead(speaker.campaign.before_remedy, "before_remedy"),
            speaker.lead(meanwhile.text, "meanwhile.text") if meanwhile else None,
        )
    )


def _ledger(speaker: Speaker, *, safe: bool) -> dict[str, object]:
    campaign: Campaign = speaker.campaign
    told = (*standing(campaign, "known"), *standing(campaign, "withdrawn"))
    word = None
    if safe:
        word = speaker.ours("If this changes, we write to you at once.")
    elif campaign.next_word is not None:
        word = speaker.ours("We write again by %(next_word)s, even if there is nothing new.")
    return {
        "known": joined(fact for fact in _facts(speaker, told)),
        "checked": _facts(speaker, standing(campaign, "being_checked")),
        "unknown": _facts(speaker, standing(campaign, "not_yet_known")),
        "next_word": word,
    }


def _facts(speaker: Speaker, facts: tuple[Fact, ...]) -> tuple[Phrase, ...]:
    places = {id(fact): place for place, fact in enumerate(speaker.campaign.ledger)}
    said = (speaker.lead(fact.text, f"ledger[{places[id(fact)]}].text") for fact in facts)
    return tuple(phrase.ended() for phrase in said if phrase is not None)
