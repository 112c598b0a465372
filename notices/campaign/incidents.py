"""What has happened so far, in numbers, and the law areas whose notices tell them."""

from collections.abc import Collection, Mapping
from datetime import date
from typing import Annotated

from pydantic import Field

from notices.campaign.scalars import Part, Whole

Age = Annotated[int, Field(ge=0, le=120)]  # whole years


class Incidents(Part):
    """What was reported by *day*: *all* incidents, those with *damage* to property, and people hurt.

    *ages* are those of everyone injured or killed, in years; *received* the days on which the authority got word of
    injuries and deaths.
    """

    day: date
    all: Whole
    damage: Whole | None = None
    injuries: Whole
    deaths: Whole
    ages: tuple[Age, ...] = ()
    received: tuple[date, ...] = ()

    @property
    def harmed(self) -> int:
        """Return how many people were injured or killed."""
        return self.injuries + self.deaths


TOLD: Mapping[str, str] = {"US": "16 CFR 1115.27(m)"}
"""The countries (ISO 3166-1) whose recall notices tell the numbers, a zero as none reported, with the paragraph.

Nowhere else does a notice say them by itself. In the EU the same zero must not be shown: no notice says there that no
accidents have been reported (Regulation (EU) 2023/988, article 36(2)(c)). What has happened stands there in the lead's
own words, in the ledger. No legal advice: counsel and the authority decide.
"""


def told_by(countries: Collection[str]) -> str | None:
    """Return the paragraph by which a market's recall notice tells the numbers, None where none does."""
    return next((source for country, source in TOLD.items() if country in countries), None)
