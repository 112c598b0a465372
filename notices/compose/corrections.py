"""How a correction begins: what was said or sent before, and what holds now; the lead's own sentence, else ours."""

from collections.abc import Mapping

from audiences.verdicts import SAFE, Verdict
from notices.campaign.models import Corrections
from notices.cases.owed import AFTER_PARTS, AFTER_SAFE, AFTER_STOP
from notices.compose.phrases import Phrase
from notices.compose.speaking import Speaker
from notices.compose.variants import VariantKey
from notices.wording.catalogues import msgid

_OURS: Mapping[str, str] = {
    "told_safe": msgid(
        "We told you that yours was not affected. That was wrong. It is affected. Do now what this message says,"
        " whatever we told you before."
    ),
    "told_to_stop": msgid(
        "We told you that yours was affected, or that it might be. As far as we know now, it is not. From now on, this"
        " message holds."
    ),
    "parts": msgid(
        "There is a fault in what we sent you for the repair. Do not fit it. If it is fitted already, do now what this"
        " message says, whatever we told you before. What takes its place is free of charge."
    ),
    "other": msgid("This corrects what we have told you before. From now on, this message holds."),
}
_UNSURE = msgid(
    "We told you that yours was not affected. We can no longer say so. Until we know more, do what this message says,"
    " whatever we told you before."
)


def opening(speaker: Speaker, key: VariantKey) -> Phrase | None:
    """Return the first words of a correction; who was told safe and is not surely affected reads ours."""
    safe = key.verdict in SAFE
    if key.kind == AFTER_SAFE and not safe:
        sure = key.verdict is Verdict.AFFECTED
        return _said(speaker, "told_safe") if sure else speaker.gettext(_UNSURE)
    if key.kind == AFTER_STOP and safe:
        return _said(speaker, "told_to_stop")
    return _said(speaker, "parts" if key.kind == AFTER_PARTS else "other")


def _said(speaker: Speaker, name: str) -> Phrase | None:
    of: Corrections = speaker.campaign.corrections
    return speaker.lead(getattr(of, name), f"corrections.{name}") or speaker.gettext(_OURS[name])
