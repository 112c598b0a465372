"""What a firm owes the authority of a market: the form of a duty, its source, and how that was read.

No legal advice. What is not marked as read was not read in the law itself, and is to be confirmed. The duties
themselves stand in `duty_table`, a table a market; `notices.cases.deadlines` counts their days.
"""

import re
from dataclasses import dataclass
from typing import Literal

from notices.campaign.own_duties import Counted

Mark = Literal["read", "second-hand", "from memory"]
"""How the source is known: the law's own text or the authority's own page; a text about it; neither."""

About = Literal["defect", "incident", "both"]
Harm = Literal["none", "damage", "injury", "serious-injury", "death"]
HARMS: tuple[Harm, ...] = ("none", "damage", "injury", "serious-injury", "death")
"""How badly an incident ended, each worse than the one before."""

Series = Literal["", "fortnight", "month", "quarter"]

CLOSING = "This is no legal advice: your firm's counsel and the authority decide."

_LAW = re.compile(r"\b(?:Regulations?|CFR|USC|Act|Law)\b")

_EU = frozenset(
    ("AT", "BE", "BG", "CY", "CZ", "DE", "DK", "EE", "ES", "FI", "FR", "GR", "HR", "HU", "IE", "IT", "LT", "LU",
     "LV", "MT", "NL", "PL", "PT", "RO", "SE", "SI", "SK")
)  # fmt: skip


@dataclass(frozen=True, kw_only=True, slots=True)
class Duty:
    """One duty of a market: *days* after the day it is *counted* from, 0 at once.

    *working* days leave out weekends and the holidays of *market*'s country; *first_counts* where the day of knowledge
    is day one; *rolls* where a last day without work gives the next working day. *least* is the harm from which an
    incident brings it. *series* is a report that comes again, *times* in all (0 until the authority ends it).
    """

    key: str
    market: str
    to: str
    what: str
    days: int
    counted: Counted
    source: str
    mark: Mark
    working: bool = False
    first_counts: bool = False
    rolls: bool = False
    about: About = "defect"
    least: Harm = "none"
    series: Series = ""
    times: int = 0


def cites_law(source: str) -> bool:
    """Say whether a source is a law, and not a standard or a custom of the trade."""
    return _LAW.search(source) is not None


def market_of(country: str) -> tuple[str, str]:
    """Return the key of the law area of a country, and the headline of its notices.

    The headline is the law's in the EU (Regulation (EU) 2023/988, article 36); in the US the word recall must be in it
    (16 CFR 1115.27). For other countries we know of none, and it is the EU's.
    """
    key = "EU" if country in _EU else country
    return key, "Safety recall" if key == "US" else "Product safety recall"
