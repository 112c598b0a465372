"""The numbers of what has happened, for the markets whose law has a recall notice tell them."""

from dataclasses import dataclass

from notices.campaign.incidents import told_by
from notices.compose.phrases import Phrase, literal
from notices.compose.speaking import Speaker
from notices.wording.catalogues import msgid
from notices.wording.formats import listing, long_date

# Each number with its own words for none: what agrees with a noun agrees with that noun.
_ALL = msgid("Failures and accidents: %(count)s"), msgid("Failures and accidents: none reported")
_DAMAGE = msgid("Damage to property: %(count)s"), msgid("Damage to property: none reported")
_INJURIES = msgid("People injured: %(count)s"), msgid("People injured: none reported")
_DEATHS = msgid("People killed: %(count)s"), msgid("People killed: none reported")


@dataclass(frozen=True, kw_only=True, slots=True)
class Told:
    """The numbers, one a line, below the day that they are of."""

    title: Phrase
    lines: tuple[Phrase, ...]


def told(speaker: Speaker, market: str) -> Told | None:
    """Return the numbers as a market's recall notice tells them; None where its law does not ask, or none are known."""
    found, own = speaker.campaign.incidents, speaker.campaign.markets.get(market)
    if found is None or own is None or told_by(own.countries) is None:
        return None
    tag = speaker.catalogue.tag
    damage = () if found.damage is None else (_count(speaker, _DAMAGE, found.damage),)
    ages = listing([str(age) for age in sorted(found.ages)], tag)
    days = listing([long_date(day, tag) for day in sorted(found.received)], tag)
    return Told(
        title=speaker.gettext("Reported to us by %(until)s", until=literal(long_date(found.day, tag))),
        lines=(
            _count(speaker, _ALL, found.all),
            *damage,
            _count(speaker, _INJURIES, found.injuries),
            _count(speaker, _DEATHS, found.deaths),
            *(
                (speaker.gettext("Ages of those injured or killed: %(ages)s", ages=literal(ages)),)
                if ages
                else ()
            ),
            *((speaker.gettext("The authority was told on: %(days)s", days=literal(days)),) if days else ()),
        ),
    )


def _count(speaker: Speaker, words: tuple[str, str], count: int) -> Phrase:
    some, none = words
    return speaker.gettext(some, count=literal(str(count))) if count else speaker.gettext(none)
