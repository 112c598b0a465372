"""The open ledger as owners read it: what is known, what is being checked, what is not yet known."""

from dataclasses import dataclass
from datetime import date

from notices.campaign.ledger import standing
from notices.campaign.models import Fact
from notices.compose.phrases import Phrase, capital, joined
from notices.compose.speaking import Speaker
from notices.wording.formats import long_date
from notices.wording.terms import STANDINGS


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
    word = _word_if_wrong(speaker) if safe else next_word(speaker)
    return Ledger(
        known=joined(_facts(speaker, told)),
        checked=_facts(speaker, standing(campaign, "being_checked")),
        unknown=_facts(speaker, standing(campaign, "not_yet_known")),
        next_word=word,
    )


def _word_if_wrong(speaker: Speaker) -> Phrase:
    return speaker.gettext("If yours turns out to be affected after all, we will write to you at once.")


def next_word(speaker: Speaker) -> Phrase | None:
    """Return the promise of the next word; None where no day is set."""
    if speaker.campaign.next_word is None:
        return None
    return speaker.gettext("We will write again by %(next_word)s, even if there is nothing new.")


@dataclass(frozen=True, kw_only=True, slots=True)
class Entry:
    """One line of the public ledger."""

    day: Phrase | None
    standing: Phrase
    text: Phrase


def entries(speaker: Speaker) -> tuple[Entry, ...]:
    """Return the whole ledger, the newest first, what bears no day last."""
    places = ((place, fact) for place, fact in enumerate(speaker.campaign.ledger) if not fact.inside)
    newest = sorted(places, key=lambda pair: (pair[1].day is not None, pair[1].day or date.min), reverse=True)
    return tuple(_entry(speaker, place, fact) for place, fact in newest)


def _entry(speaker: Speaker, place: int, fact: Fact) -> Entry:
    said = speaker.lead(capital(fact.text), f"ledger[{place}].text") or Phrase(())
    return Entry(
        day=Phrase((long_date(fact.day, speaker.catalogue.tag),)) if fact.day else None,
        standing=speaker.gettext(STANDINGS[fact.standing]),
        text=said.ended(),
    )


def _facts(speaker: Speaker, facts: tuple[Fact, ...]) -> tuple[Phrase, ...]:
    places = {id(fact): place for place, fact in enumerate(speaker.campaign.ledger)}
    said = (speaker.lead(fact.text, f"ledger[{places[id(fact)]}].text") for fact in facts)
    return tuple(phrase.ended() for phrase in said if phrase is not None)
