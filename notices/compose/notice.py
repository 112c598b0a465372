"""What a mail says, part by part in the order an owner reads it; how it is laid out is the templates' matter."""

from collections.abc import Mapping
from dataclasses import dataclass

from audiences.segments import Segment, treated_as
from audiences.verdicts import SAFE, Verdict
from notices.campaign.models import Campaign
from notices.cases.owed import CORRECTIONS, REMIND_STOP, STOPS
from notices.compose import remedies
from notices.compose.closing import Answers, Closing, answers, closing
from notices.compose.corrections import opening
from notices.compose.incidents import Told, told
from notices.compose.ledgers import Ledger, ledger
from notices.compose.phrases import Phrase, joined, literal
from notices.compose.pictures import Shown, shown
from notices.compose.remedies import Fit, Offer
from notices.compose.signals import Signal, signal
from notices.compose.speaking import Speaker
from notices.compose.speaking import speaker as speaker_for
from notices.compose.units import Unit, unit
from notices.compose.variants import VariantKey
from notices.wording.catalogues import msgid
from notices.wording.languages import autonym, direction

_REMIND = msgid(
    "We have written to you before and have no answer yet. If you have answered in the last few days, you need"
    " not answer again. What follows still holds."
)

_REMINDERS = frozenset({"remind", REMIND_STOP})


@dataclass(frozen=True, kw_only=True, slots=True)
class Beside:
    """Stop and hazard in the source language, beside a wording that nobody has read; *name* is the language's own."""

    language: str
    direction: str
    name: Phrase
    lead: Phrase | None
    hazard: Phrase | None


@dataclass(frozen=True, kw_only=True, slots=True)
class Notice:
    """A mail's parts; None and () where this variant has none."""

    subject: Phrase
    preheader: Phrase | None
    above: Phrase | None
    headline: Phrase
    signal: Signal | None
    lead: Phrase | None
    hazard: Phrase | None
    beside: Beside | None
    foreign: Phrase | None
    unit: Unit
    pictures: tuple[Shown, ...]
    steps: tuple[Phrase, ...]
    answers: Answers
    call_at_once: Phrase | None
    warning_text: Phrase | None
    remedies: tuple[Offer, ...]
    terms: Phrase | None
    fits: tuple[Fit, ...]
    fit_pictures: tuple[Shown, ...]
    cautions: tuple[Phrase, ...]
    ledger: Ledger
    incidents: Told | None
    closing: Closing


def notice(
    speaker: Speaker, key: VariantKey, pictures: Mapping[str, bytes], source: Campaign | None = None
) -> Notice:
    """Say everything that one variant says; a cleared or foreign unit's owner is asked for nothing.

    *source* is the campaign in its source language where nobody has read the speaker's.
    """
    campaign = speaker.campaign
    safe = key.verdict in SAFE
    warning = key.kind in STOPS or campaign.remedies is None
    fits = () if safe or warning else remedies.fits(speaker, key.segment)
    return Notice(
        subject=_subject(speaker, key, warning=warning),
        preheader=_preheader(speaker, key, warning=warning),
        above=_above(speaker, key),
        headline=headline(speaker, key.market, warning=warning),
        signal=None if safe else signal(speaker),
        lead=_lead(speaker, safe=safe),
        hazard=None if safe else hazard(speaker),
        beside=_beside(speaker, source, safe=safe) if source else None,
        foreign=_foreign(speaker) if key.verdict is Verdict.FOREIGN else None,
        unit=unit(speaker, key.verdict),
        pictures=shown(speaker, pictures, ("product", "code")),
        steps=() if safe else steps(speaker, key.segment),
        answers=answers(speaker, safe=safe),
        call_at_once=speaker.lead(campaign.now.call_at_once, "now.call_at_once"),
        warning_text=warning_text(speaker) if warning and not safe else None,
        remedies=() if safe or warning else remedies.offers(speaker, key.segment),
        terms=None if safe or warning else remedies.terms(speaker),
        fits=fits,
        fit_pictures=shown(speaker, pictures, ("part", "step")) if fits else (),
        cautions=() if safe or warning else remedies.cautions(speaker, key.segment),
        ledger=ledger(speaker, safe=safe),
        incidents=None if safe or warning else told(speaker, key.market),
        closing=closing(speaker, safe=safe),
    )


def _beside(spoken: Speaker, source: Campaign, *, safe: bool) -> Beside:
    own = speaker_for(source, spoken.catalogue)
    return Beside(
        language=source.language,
        direction=direction(source.language),
        name=literal(autonym(source.language)),
        lead=_lead(own, safe=safe),
        hazard=None if safe else hazard(own),
    )


def _above(speaker: Speaker, key: VariantKey) -> Phrase | None:
    """Return what stands above everything else in a reminder or a correction."""
    if key.kind in CORRECTIONS:
        return opening(speaker, key)
    return speaker.gettext(_REMIND) if key.kind in _REMINDERS and key.verdict not in SAFE else None


def _subject(speaker: Speaker, key: VariantKey, *, warning: bool) -> Phrase:
    """Return the subject: a reminder's and a correction's own, else the notice's with one word before it."""
    subjects = speaker.campaign.subjects
    if key.verdict in SAFE:
        return speaker.lead(subjects.cleared, "subjects.cleared") or headline(
            speaker, key.market, warning=warning
        )
    name = "stop" if warning else "first"
    plain = speaker.lead(getattr(subjects, name), f"subjects.{name}") or _without_subject(speaker)
    if key.kind in _REMINDERS:
        own = speaker.lead(subjects.remind, "subjects.remind") if key.kind == "remind" else None
        return own or speaker.gettext("Reminder: %(subject)s", subject=plain)
    if key.kind in CORRECTIONS:
        return speaker.lead(subjects.correct, "subjects.correct") or speaker.gettext(
            "Correction: %(subject)s", subject=plain
        )
    return plain


def _without_subject(speaker: Speaker) -> Phrase:
    """Return what stands in for a subject that is not written: no warning waits for one."""
    return speaker.lead(speaker.campaign.now.headline, "now.headline") or speaker.gettext(
        "Important safety warning"
    )


def _preheader(speaker: Speaker, key: VariantKey, *, warning: bool) -> Phrase | None:
    lines = speaker.campaign.preheaders
    if key.verdict in SAFE:
        return speaker.lead(lines.cleared, "preheaders.cleared")
    kind = "correct" if key.kind in CORRECTIONS else key.kind
    own = getattr(lines, kind, None)
    name = kind if own else "stop" if warning else "first"
    return speaker.lead(getattr(lines, name), f"preheaders.{name}")


def headline(speaker: Speaker, market: str, *, warning: bool) -> Phrase:
    """Return the headline that the market's law asks for; a stop warning bears its own."""
    campaign = speaker.campaign
    if warning:
        return speaker.lead(campaign.warning_headline, "warning_headline") or speaker.gettext(
            "Important safety warning"
        )
    own = campaign.markets.get(market)
    return speaker.lead(own.headline if own else None, f"markets.{market}.headline") or speaker.gettext(
        "Product safety recall"
    )


def hazard(speaker: Speaker) -> Phrase | None:
    """Return what can happen, to whom, and that it can happen without a sign."""
    of = speaker.campaign.hazard
    return joined(
        (
            speaker.lead(of.what, "hazard.what"),
            speaker.lead(of.who, "hazard.who"),
            speaker.lead(of.without_sign, "hazard.without_sign"),
        )
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
    """Return the doubt that stands before a cleared text: the record may be wrong, the product another."""
    return speaker.gettext(
        "The code in our records is not built like the codes of this product. What follows holds only if the same code"
        " stands on yours. If another one stands there, or if you are not sure, do not use it and contact us."
    )


def _before_remedy(speaker: Speaker) -> Phrase:
    """Return what stands in for a promise that is not written yet: no warning waits for one."""
    return speaker.gettext(
        "We are working on a remedy. You will hear from us by %(next_word)s. Until then, do not use it. You keep your"
        " right to a free remedy."
    )


def warning_text(speaker: Speaker) -> Phrase | None:
    """Return what the firm does while no remedy can be promised."""
    meanwhile = speaker.campaign.meanwhile
    return joined(
        (
            speaker.lead(speaker.campaign.before_remedy, "before_remedy") or _before_remedy(speaker),
            speaker.lead(meanwhile.text, "meanwhile.text") if meanwhile else None,
        )
    )
