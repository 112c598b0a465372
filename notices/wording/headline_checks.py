"""Whether a recall notice in the EU bears the law's own headline, language by language.

Only the English and the German words were read in Regulation (EU) 2023/988, article 36(2)(a); any other language waits
for a person who holds the headline against the Official Journal. No legal advice: counsel and the authority decide.
"""

from collections.abc import Iterator

from audiences.findings import Finding, Severity
from notices.campaign.models import Market
from notices.wording.languages import autonym
from notices.wording.law_tables import SURE, Headline, headline_in, tables
from notices.wording.passages import Passage, Reading
from notices.wording.splitting import family

_EU = "eu"
_SOURCE = "Regulation (EU) 2023/988, article 36(2)(a)"


def headlines(reading: Reading) -> Iterator[Finding]:
    """Hold each headline of the EU against the law's words, or ask who has; a stop warning bears its own."""
    bound = {
        f"markets.{key}.headline": market
        for table in tables(reading.laws)
        if table.key == _EU
        for key, market in reading.campaign.markets.items()
        if table.binds(market)
    }
    for passage in reading.passages():
        market = bound.get(passage.path)
        known = headline_in(reading.laws, passage.language)
        if market and known and _read_there(passage.language, market):
            yield from _held(passage, known, market)


def _read_there(tag: str, market: Market) -> bool:
    """Say whether owners of the market read this language: a region's wording is read in its own country alone."""
    _, _, region = tag.partition("-")
    return not region or region in market.countries


def _held(passage: Passage, known: Headline, market: Market) -> Iterator[Finding]:
    name = autonym(passage.language)
    if known.mark in SURE:
        if passage.text.casefold() != known.words.casefold():
            yield Finding(
                code="headline-words",
                **passage.where,
                message=f"in {name} the law asks for other words as the headline",
                mend=f"write: {known.words}",
                source=_SOURCE,
            )
    elif family(passage.language) not in map(family, market.headline_read_by):
        ours = f"; we know of “{known.words}”, unsure" if known.words else ""
        yield Finding(
            code="headline-not-verified",
            **passage.where,
            message=f"nobody has held this headline in {name} against the law's own words{ours}",
            mend="read article 36 in the Official Journal; then write headline_read_by: with language and name",
            severity=Severity.CONSIDER,
            source=f"{_SOURCE} (to be confirmed)",
        )
