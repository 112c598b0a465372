"""What a campaign is: every part of campaign.yaml, typed; absent parts are None, empty or their default."""

from datetime import date
from typing import Annotated, Literal

from pydantic import Field, field_validator

from notices.campaign.incidents import Incidents
from notices.campaign.instructions import (
    Answer,
    Corrections,
    Hazard,
    Level,
    Lines,
    Now,
    Signal,
    Steps,
    Use,
)
from notices.campaign.own_duties import Duties
from notices.campaign.product import (
    AffectedRule,
    Code,
    CodeConditions,
    Condition,
    Example,
    LayoutPart,
    Picture,
    Price,
    Product,
    Sold,
)
from notices.campaign.remedies import (
    AnswerWithin,
    Confirm,
    Fitter,
    Meanwhile,
    Question,
    Remedy,
    RemedyFor,
)
from notices.campaign.scalars import (
    ClockTime,
    Count,
    Country,
    Key,
    Language,
    Part,
    Text,
    Translatable,
    Whole,
    Word,
)

__all__ = [
    "SCHEMA",
    "AffectedRule",
    "Answer",
    "AnswerWithin",
    "Campaign",
    "Code",
    "CodeConditions",
    "Condition",
    "Confirm",
    "Contact",
    "Corrections",
    "Example",
    "Fact",
    "Fitter",
    "FollowUp",
    "Hazard",
    "Hours",
    "Issuer",
    "Languages",
    "LayoutPart",
    "Level",
    "Lines",
    "Market",
    "Meanwhile",
    "Now",
    "Part",
    "Picture",
    "Price",
    "Product",
    "Question",
    "Remedy",
    "RemedyFor",
    "RevisionNote",
    "SaleStop",
    "Signal",
    "Sold",
    "Standing",
    "Steps",
    "Text",
    "Translatable",
    "Use",
    "Weekday",
]

SCHEMA = 1
Standing = Literal["known", "not_yet_known", "being_checked", "withdrawn"]
Weekday = Literal["mon", "tue", "wed", "thu", "fri", "sat", "sun"]


class RevisionNote(Part):
    """The number and day of this revision, and why it was made."""

    number: Whole = 0
    day: date | None = None
    why: Text | None = None


class Issuer(Part):
    """The firm that sends the notices and carries the remedy."""

    name: Word
    role: Literal["maker", "importer", "dealer"] | None = None
    address: tuple[Word, ...] = ()
    country: Country | None = None
    time_zone: Word | None = None
    email: Word | None = None
    web: Word | None = None
    bulletin: Word | None = None
    answers: Word | None = None


class Contact(Part):
    """How owners in some countries reach the firm."""

    countries: tuple[Country, ...]
    phone: Word | None = None
    free: bool = False
    call_back: bool = False
    time_zone: Word | None = None
    speaks: tuple[Language, ...] = ()


class Hours(Part):
    """When the telephone is answered, by the clock of the contact's time zone."""

    days: tuple[Weekday, ...]
    from_: ClockTime
    to: ClockTime


class Fact(Part):
    """One dated statement of the open ledger; *about* is the part of the file that waits for it.

    *inside* is what only the firm needs to know: checks name it, and no owner reads it.
    """

    day: date | None = None
    standing: Standing
    text: Text
    about: Word | None = None
    inside: bool | None = None


class Market(Part):
    """One law area: its countries, the headline its law asks for, and what kind of goods was sold there.

    *headline_read_by* names, by language, who has held the headline against the law's own text.
    """

    countries: tuple[Country, ...]
    headline: Text
    headline_read_by: dict[Language, Word] = Field(default={})
    goods: Literal["consumer", "vehicle", "medical"] = "consumer"


class Languages(Part):
    """The languages the campaign is written in, and the one for owners whose own is not among them."""

    written: tuple[Language, ...] = ()
    default: Language | None = None


class FollowUp(Part):
    """One rung of the ladder to those who do not answer, in working days after the first notice."""

    step: Key
    after_days: Annotated[int, Field(ge=1, le=400)]
    channel: Literal["email", "text", "letter", "phone"]


class SaleStop(Part):
    """Every place that may still sell or hand out a unit."""

    places: tuple[Word, ...] = ()


class Campaign(Part):
    """One defect in one product family. *remedies* None means stop warning; no *affected* means all until cleared."""

    schema_: Whole = SCHEMA
    name: Word | None = None
    language: Language = "en"
    saying: Count = 1
    revision: RevisionNote = RevisionNote()
    next_word: date | None = None
    issuer: Issuer
    contacts: tuple[Contact, ...] = ()
    hours: Hours | None = None
    product: Product
    code: Code | None = None
    affected: tuple[AffectedRule, ...] = ()
    otherwise: Literal["cleared", "affected"] = "cleared"
    reworked: tuple[Word, ...] | None = None
    hazard: Hazard = Hazard()
    subjects: Lines = Lines()
    preheaders: Lines = Lines()
    corrections: Corrections = Corrections()
    now: Now = Now()
    use: Use = Use()
    remedies: dict[Key, Remedy] | None = None
    single_remedy_reason: Word | None = None
    free: Text | None = None
    answer_within: AnswerWithin | None = None
    meanwhile: Meanwhile | None = None
    before_remedy: Text | None = None
    cautions: tuple[Text, ...] = ()
    parts: dict[Word, Text] = Field(default={})
    confirm: Confirm = Confirm()
    no_longer: Text | None = None
    share: Text | None = None
    ledger: tuple[Fact, ...] = ()
    incidents: Incidents | None = None
    duties: Duties | None = None
    markets: dict[Key, Market] = Field(default={})
    warning_headline: Text | None = None
    languages: Languages = Languages()
    follow_up: tuple[FollowUp, ...] = ()
    sale_stop: SaleStop = SaleStop()

    @field_validator("remedies")
    @classmethod
    def _no_remedy_is_a_stop_warning(cls, remedies: dict[str, Remedy] | None) -> dict[str, Remedy] | None:
        """Take an empty list of remedies for none at all."""
        return remedies or None

    def market_of(self, country: str | None) -> str | None:
        """Return the key of the market whose countries hold *country*, or None."""
        return next((key for key, market in self.markets.items() if country in market.countries), None)

    def lists_named(self) -> dict[str, str]:
        """Return where each file of codes is first named, by its name."""
        rules = (pair for at, rule in enumerate(self.affected) for pair in rule.within(f"affected[{at}]"))
        named = [(one.codes, f"{path}.codes") for path, one in rules if one.codes is not None]
        named += [(name, f"reworked[{at}]") for at, name in enumerate(self.reworked or ())]
        return dict(reversed(named))

    def contact_for(self, country: str | None) -> Contact | None:
        """Return the first contact that serves *country*, or None."""
        return next((contact for contact in self.contacts if country in contact.countries), None)
