"""What a firm owes the authority of a market at once: duties with their day, their source, and how it was read.

No legal advice. What is not marked as read was not read in the law itself, and is to be confirmed.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Literal

Mark = Literal["read", "second-hand", "from memory"]
"""How the source is known: the law's own text or the authority's own page; a text about it; neither."""

CLOSING = "This is no legal advice: your firm's counsel and the authority decide."

_EU = frozenset(
    ("AT", "BE", "BG", "CY", "CZ", "DE", "DK", "EE", "ES", "FI", "FR", "GR", "HR", "HU", "IE", "IT", "LT", "LU",
     "LV", "MT", "NL", "PL", "PT", "RO", "SE", "SI", "SK")
)  # fmt: skip


@dataclass(frozen=True, kw_only=True, slots=True)
class Duty:
    """One duty of a market: *days* after it was *counted* from, 0 at once.

    *counted* knowledge is the day on which the firm learned of it; action, the day on which the recall begins.
    """

    market: str
    what: str
    days: int
    counted: Literal["knowledge", "action"]
    source: str
    mark: Mark


DUTIES: tuple[Duty, ...] = (
    Duty(
        market="EU",
        what="correct, warn consumers, and notify through the Safety Business Gateway, with the units in each country",
        days=0,
        counted="knowledge",
        source="Regulation (EU) 2023/988, article 9(8); importers and dealers: articles 10 to 12",
        mark="read",
    ),
    Duty(
        market="EU",
        what="after an accident with harm: notify the authority of its country; importer and dealer tell the maker",
        days=0,
        counted="knowledge",
        source="Regulation (EU) 2023/988, article 20",
        mark="read",
    ),
    Duty(
        market="GB",
        what="notify the authority in writing; in Northern Ireland the EU's regulation holds (second-hand)",
        days=0,
        counted="knowledge",
        source="General Product Safety Regulations 2005, regulation 9",
        mark="from memory",
    ),
    Duty(
        market="US",
        what="report to the commission within 24 hours of information that supports it; an investigation stops no clock"
        " once it does",
        days=1,
        counted="knowledge",
        source="15 USC 2064(b); 16 CFR 1115.14",
        mark="read",
    ),
    Duty(
        market="CA",
        what="send all information on the incident to the minister and to your supplier",
        days=2,
        counted="knowledge",
        source="Canada Consumer Product Safety Act, section 14(2)",
        mark="read",
    ),
    Duty(
        market="CA",
        what="maker or importer: send the written report with the measures proposed",
        days=10,
        counted="knowledge",
        source="Canada Consumer Product Safety Act, section 14(3)",
        mark="read",
    ),
    Duty(
        market="AU",
        what="report a death or a serious injury",
        days=2,
        counted="knowledge",
        source="Australian Consumer Law, section 131",
        mark="read",
    ),
    Duty(
        market="AU",
        what="notify within 2 days of taking recall action",
        days=2,
        counted="action",
        source="Australian Consumer Law, section 128",
        mark="read",
    ),
    Duty(
        market="NZ",
        what="notify within 2 working days of recalling",
        days=2,
        counted="action",
        source="Fair Trading Act 1986, section 31A",
        mark="read",
    ),
    Duty(
        market="JP",
        what="report a serious accident within 10 days, the day of knowledge counted in",
        days=9,
        counted="knowledge",
        source="Consumer Product Safety Act of Japan, article 35",
        mark="second-hand",
    ),
)


@dataclass(frozen=True, kw_only=True, slots=True)
class Due:
    """A duty, and its last day; None where the day it is counted from is not known."""

    duty: Duty
    day: date | None


def market_of(country: str) -> tuple[str, str]:
    """Return the key of the law area of a country, and the headline of its notices.

    The headline is the law's in the EU (Regulation (EU) 2023/988, article 36); in the US the word recall must be in it
    (16 CFR 1115.27). For other countries we know of none, and it is the EU's.
    """
    key = "EU" if country in _EU else country
    return key, "Safety recall" if key == "US" else "Product safety recall"


def duties(countries: Sequence[str], *, learned: date | None, action: date) -> tuple[Due, ...]:
    """Return the duties of the markets of *countries*, the earliest first; those without a day last."""
    markets = {market_of(country)[0] for country in countries}
    due = [Due(duty=duty, day=_day(duty, learned, action)) for duty in DUTIES if duty.market in markets]
    return tuple(sorted(due, key=lambda one: (one.day is None, one.day or date.min, one.duty.market)))


def without_duties(countries: Sequence[str]) -> Iterator[str]:
    """Yield the markets of which no duty is known here."""
    known = {duty.market for duty in DUTIES}
    yield from dict.fromkeys(
        key for key in (market_of(country)[0] for country in countries) if key not in known
    )


def _day(duty: Duty, learned: date | None, action: date) -> date | None:
    start = learned if duty.counted == "knowledge" else action
    return None if start is None else start + timedelta(days=duty.days)
