"""The one block among a mail's placeholders: what was sold, and the codes in our records."""

from dataclasses import dataclass

from audiences.verdicts import SAFE, Verdict
from notices.compose.phrases import Phrase, joined, literal
from notices.compose.speaking import Speaker
from notices.wording.formats import month_span
from notices.wording.placeholders import Placeholder


@dataclass(frozen=True, kw_only=True, slots=True)
class Unit:
    """What stands around the codes; *code_note* where we have one, *code_missing* where we have none."""

    product: Phrase | None
    sold: Phrase | None
    where: Phrase | None
    code_missing: Phrase
    code_note: Phrase
    other_code: Phrase | None


def unit(speaker: Speaker, verdict: Verdict) -> Unit:
    """Return what the block on an owner's units says around their codes."""
    campaign = speaker.campaign
    missing = speaker.lead(campaign.now.code_missing, "now.code_missing") or speaker.gettext(
        "We do not have the code of your product. Do what this message says until we know it, and tell us the code or"
        " send us a photo of it."
    )
    return Unit(
        product=described(speaker),
        sold=sold(speaker),
        where=_where(speaker, verdict),
        code_missing=missing,
        code_note=_code_note(speaker, verdict, missing),
        other_code=None if verdict in SAFE else speaker.lead(campaign.now.other_code, "now.other_code"),
    )


def described(speaker: Speaker) -> Phrase | None:
    """Return what was sold: the lead's description, else its bare name."""
    product = speaker.campaign.product
    return speaker.lead(product.description, "product.description") or literal(product.name)


def _where(speaker: Speaker, verdict: Verdict) -> Phrase | None:
    code = speaker.campaign.code
    if code is None:
        return None
    says = speaker.lead(code.says, "code.says") if verdict is Verdict.MISSING else None
    return joined((speaker.lead(code.where, "code.where"), says))


def _code_note(speaker: Speaker, verdict: Verdict, missing: Phrase) -> Phrase:
    if verdict is Verdict.MISSING:
        return missing
    note = Phrase((Placeholder(name="signs"),))
    if verdict is Verdict.UNREADABLE:
        doubt = speaker.gettext(
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
        return speaker.gettext("Sold by %(sellers)s", sellers=by) if by else None
    months = Phrase((month_span(first, last, speaker.catalogue.tag),))
    if by is None:
        return speaker.gettext("Sold %(months)s", months=months)
    return speaker.gettext("Sold by %(sellers)s, %(months)s", sellers=by, months=months)
