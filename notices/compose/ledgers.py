"""The open ledger as owners read it: what is known, what is being checked, what is not yet known."""

from dataclasses import dataclass

from notices.campaign.ledger import standing
from notices.campaign.models import Fact
from notices.compose.phrases import Phrase, joined
from notices.compose.speaking import Speaker


@dataclass(frozen=True, kw_only=True, slots=True)
class Ledger:
    """The facts by standing, and when we write again."""

    known: Phrase | None
    checked: tuple[Phrase, ...]
    unknown: tuple[Phrase, ...]
    next_word: Phrase | None


def ledger(speaker: Speaker, *, safe: bool) -> Ledger:
    """Return what a mail says of the open ledger; an owner who is safe is promised word of any change."""
    campaign = speaker.campaign
    told = (*standing(campaign, "known"), *standing(campaign, "withdrawn"))
    word = None
    if safe:
        word = speaker.gettext("If this changes, we write to you at once.")
    elif campaign.next_word is not None:
        word = speaker.gettext("We write again by %(next_word)s, even if there is nothing new.")
    return Ledger(
        known=joined(_facts(speaker, told)),
        checked=_facts(speaker, standing(campaign, "being_checked")),
        unknown=_facts(speaker, standing(campaign, "not_yet_known")),
        next_word=word,
    )


def _facts(speaker: Speaker, facts: tuple[Fact, ...]) -> tuple[Phrase, ...]:
    places = {id(fact): place for place, fact in enumerate(speaker.campaign.ledger)}
    said = (speaker.lead(fact.text, f"ledger[{places[id(fact)]}].text") for fact in facts)
    return tuple(phrase.ended() for phrase in said if phrase is not None)
