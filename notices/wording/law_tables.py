"""The tables of what a market's law asks of a notice: a TOML file a law area, and one of the headlines.

No legal advice: the tables say which instrument names what, and how far that was verified.
"""

import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from notices.campaign.models import Market
from notices.wording.splitting import family

Mark = Literal["R", "R2", "M-h", "M-m", "M-l", "open"]
"""How a line is known: read in the law or on its authority's page; in a text about it; from memory, surely, fairly
surely, unsurely; not verified."""

SURE: frozenset[Mark] = frozenset({"R", "M-h"})
"""The marks of what may hold a notice back; all else is to be confirmed by a person."""

HEADLINES = "headlines"
_TO_BE_CONFIRMED = " (to be confirmed)"


@dataclass(frozen=True, kw_only=True, slots=True)
class Element:
    """One line of a table: *found_by* names a detector, *words* what must stand there, *said_by* another finding.

    *recall* and *warning* are must, should, or empty; *unless* why it may be lacking.
    """

    what: str
    recall: str
    warning: str
    source: str
    mark: Mark
    found_by: str
    words: tuple[str, ...]
    said_by: str
    unless: str

    def asked(self, *, warning: bool) -> str:
        """Return must, should or nothing, for a stop warning or a recall notice."""
        return self.warning if warning else self.recall

    @property
    def cited(self) -> str:
        """Return the paragraph, with a word where it was not verified."""
        return cited(self.source, self.mark)


@dataclass(frozen=True, kw_only=True, slots=True)
class Table:
    """What a law area asks of notices on some *goods* (empty: on all) sold in some countries."""

    key: str
    title: str
    countries: frozenset[str]
    goods: str
    elements: tuple[Element, ...]

    def binds(self, market: Market) -> bool:
        """Say whether a market's notices are held against this table."""
        return not self.countries.isdisjoint(market.countries) and self.goods in {"", market.goods}


@dataclass(frozen=True, kw_only=True, slots=True)
class Headline:
    """The law's headline in one language, and how far that was verified; the words are empty where none is known."""

    language: str
    words: str
    mark: Mark


def cited(source: str, mark: Mark) -> str:
    """Return a source as findings print it."""
    return source if mark in SURE else f"{source}{_TO_BE_CONFIRMED}"


def tables(laws: Mapping[str, str]) -> Iterator[Table]:
    """Yield the table of each law area, in the order of their keys."""
    return (_table(key, text) for key, text in sorted(laws.items()) if key != HEADLINES)


def headlines(laws: Mapping[str, str]) -> Mapping[str, Headline]:
    """Return the headlines by language."""
    return _headlines(laws.get(HEADLINES, ""))


def headline_in(laws: Mapping[str, str], tag: str) -> Headline | None:
    """Return the headline in a language, None for one that is no official language of the law area."""
    return headlines(laws).get(family(tag))


@lru_cache(maxsize=64)
def _table(key: str, text: str) -> Table:
    held = tomllib.loads(text)
    return Table(
        key=key,
        title=held["title"],
        countries=frozenset(held["countries"]),
        goods=held.get("goods", ""),
        elements=tuple(
            Element(
                what=line["what"],
                recall=line.get("recall", ""),
                warning=line.get("warning", ""),
                source=line["source"],
                mark=line["mark"],
                found_by=line.get("found_by", ""),
                words=tuple(line.get("words", ())),
                said_by=line.get("said_by", ""),
                unless=line.get("if", ""),
            )
            for line in held["elements"]
        ),
    )


@lru_cache(maxsize=4)
def _headlines(text: str) -> Mapping[str, Headline]:
    return {
        line["language"]: Headline(language=line["language"], words=line.get("words", ""), mark=line["mark"])
        for line in tomllib.loads(text).get("headlines", ())
    }
