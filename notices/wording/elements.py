"""How each element that a law asks for is found in what owners read: one function an element."""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from notices.campaign.models import Campaign, Market
from notices.wording.passages import Reading
from notices.wording.splitting import family


@dataclass(frozen=True, kw_only=True, slots=True)
class Detector:
    """Where an element is written, whether it is there, and what to write where it is not."""

    path: str
    has: Callable[[Reading, Market], object]
    mend: str


# Signs of an order to stop, by language; what is written in no such language is let pass. Common practice, no source.
_STOP: Mapping[str, re.Pattern[str]] = {
    language: re.compile(words, re.IGNORECASE)
    for language, words in {
        "ar": r"توقف|لا |أوقف|امتنع",
        "de": r"\b(?:nicht|kein\w*|stop\w*|halten|hören|sofort|niemand\w*)\b",
        "en": r"\b(?:stop|do not|don't|never|cease|no longer|take out of use)\b",
        "es": r"\b(?:no|deje\w*|pare\w*|suspenda\w*|nunca)\b",
        "fr": r"\b(?:ne|n['\u2019]\w+|cessez|arrêtez|jamais|plus)\b",
        "it": r"\b(?:non|smett\w+|interromp\w+|cess\w+|mai)\b",
        "nl": r"\b(?:niet|geen|stop\w*|staak|nooit)\b",
        "pl": r"\b(?:nie|przesta\w+|zaprzesta\w+|nigdy)\b",
    }.items()
}
# Which languages are official in a country of the EU: from memory, sure. Of several, owners are written to in all.
_OFFICIAL: Mapping[str, str] = {
    "AT": "de", "BE": "nl fr de", "BG": "bg", "CY": "el", "CZ": "cs", "DE": "de", "DK": "da", "EE": "et", "ES": "es",
    "FI": "fi sv", "FR": "fr", "GR": "el", "HR": "hr", "HU": "hu", "IE": "en", "IT": "it", "LT": "lt", "LU": "fr de",
    "LV": "lv", "MT": "en", "NL": "nl", "PL": "pl", "PT": "pt", "RO": "ro", "SE": "sv", "SI": "sl", "SK": "sk",
}  # fmt: skip


def _brand(reading: Reading, _market: Market) -> bool:
    """Say whether the brand is written, and stands where owners read what was sold."""
    product = reading.campaign.product
    shown = (product.description or product.name).casefold()
    return product.brand is not None and product.brand.casefold() in shown


def _pictured(what: str) -> Callable[[Reading, Market], bool]:
    def has(reading: Reading, _market: Market) -> bool:
        return any(picture.shows == what for picture in reading.campaign.product.pictures)

    return has


def _of(part: Callable[[Campaign], object]) -> Callable[[Reading, Market], object]:
    def has(reading: Reading, _market: Market) -> object:
        return part(reading.campaign)

    return has


def _stop(reading: Reading, _market: Market) -> bool:
    """Say whether headline or steps order a stop, in each language whose signs are known."""
    for tag in reading.languages:
        signs = _STOP.get(family(tag))
        said = " ".join(
            passage.text
            for passage in reading.passages(tag)
            if passage.path == "now.headline" or passage.path.startswith("now.steps.")
        )
        if signs and said and not signs.search(said):
            return False
    return True


def _free_contact(reading: Reading, market: Market) -> bool:
    """Say whether owners in every country of the market have a free number, or a page that answers.

    Where they have no way at all, the need of a contact names that.
    """
    campaign = reading.campaign
    if not (campaign.issuer.email or any(one.phone for one in campaign.contacts)):
        return True
    found = [campaign.contact_for(country) for country in market.countries]
    return campaign.issuer.answers is not None or all(one and one.free and one.phone for one in found)


def _hours(reading: Reading, market: Market) -> bool:
    """Say whether whoever has a number to call knows when it is answered, by which clock."""
    campaign = reading.campaign
    numbers = [one for one in map(campaign.contact_for, market.countries) if one and one.phone]
    zoned = all(one.time_zone or campaign.issuer.time_zone for one in numbers)
    return bool(numbers) and campaign.hours is not None and zoned


def _price(campaign: Campaign) -> object:
    """Return the price; where it lacks and money is promised back, the check of refunds names that."""
    refunds = any(remedy.kind == "refund" for remedy in (campaign.remedies or {}).values())
    return campaign.product.price or refunds


def unwritten(reading: Reading, market: Market) -> tuple[str, ...]:
    """Return the official languages of a market's countries in the EU that the campaign is not written in."""
    written = {family(tag) for tag in (*reading.campaign.languages.written, reading.campaign.language)}
    wanted = " ".join(_OFFICIAL.get(country, "") for country in market.countries).split()
    return tuple(tag for tag in dict.fromkeys(wanted) if tag not in written)


def _headline(words: str) -> Callable[[Reading, Market], bool]:
    def has(_reading: Reading, market: Market) -> bool:
        return words in market.headline if words.isupper() else words in market.headline.casefold()

    return has


DETECTORS: Mapping[str, Detector] = {
    "brand": Detector(
        path="product.brand",
        has=_brand,
        mend="write brand:, and name it in product.description, which owners read",
    ),
    "code": Detector(
        path="code",
        has=_of(lambda campaign: campaign.code),
        mend="write code: how the marking is built up and where it stands",
    ),
    "code_picture": Detector(
        path="product.pictures",
        has=_pictured("code"),
        mend="add a picture that shows: code; where that cannot be, a fact about: product.pictures that says why",
    ),
    "code_where": Detector(
        path="code.where",
        has=_of(lambda campaign: campaign.code and campaign.code.where),
        mend="write code.where: in a sentence, exactly",
    ),
    "firm": Detector(
        path="issuer.address",
        has=_of(
            lambda campaign: campaign.issuer.address and campaign.issuer.country and campaign.issuer.role
        ),
        mend="write role, address and country below issuer",
    ),
    "free_contact": Detector(
        path="contacts",
        has=_free_contact,
        mend="write issuer.answers, or a contact with a number and free: true for each country of the market",
    ),
    "headline_important": Detector(
        path="headline",
        has=_headline("IMPORTANT SAFETY RECALL"),
        mend="write it at the beginning of the headline",
    ),
    "headline_recall": Detector(path="headline", has=_headline("recall"), mend="write it into the headline"),
    "hours": Detector(
        path="hours",
        has=_hours,
        mend="write hours:, and a contact with a phone and a time_zone for the market's countries",
    ),
    "incidents": Detector(
        path="incidents",
        has=_of(lambda campaign: campaign.incidents or campaign.ledger),
        mend="say in the ledger what has happened, how often, and who was hurt",
    ),
    "made_in": Detector(
        path="product.made.country",
        has=_of(lambda campaign: campaign.product.made and campaign.product.made.country),
        mend="write made: {country: …} below product",
    ),
    "made_when": Detector(
        path="product.made",
        has=_of(lambda campaign: campaign.product.made and campaign.product.made.from_),
        mend="write made: {from: 2025-01, to: 2025-06} below product",
    ),
    "maker": Detector(
        path="product.maker",
        has=_of(
            lambda campaign: campaign.product.maker and campaign.product.made and campaign.product.made.place
        ),
        mend="write maker:, and made: {place: …, country: …}, below product",
    ),
    "name": Detector(
        path="product.name", has=_of(lambda campaign: campaign.product.name), mend="write product.name"
    ),
    "official_languages": Detector(
        path="languages.written",
        has=lambda reading, market: not unwritten(reading, market),
        mend="add these languages, and have each read by someone who grew up with it",
    ),
    "picture": Detector(
        path="product.pictures", has=_pictured("product"), mend="add a picture that shows: product"
    ),
    "price": Detector(
        path="product.price",
        has=_of(_price),
        mend="write price: {cents: …, currency: …} below product",
    ),
    "share": Detector(
        path="share",
        has=_of(lambda campaign: campaign.share),
        mend="ask for it in a sentence; where it does not fit, write a fact about: share that says why",
    ),
    "sold_by": Detector(
        path="product.sold.by",
        has=_of(lambda campaign: campaign.product.sold and campaign.product.sold.by),
        mend="write by: below product.sold; while nobody knows, a fact about: product.sold.by",
    ),
    "sold_when": Detector(
        path="product.sold.from",
        has=_of(lambda campaign: campaign.product.sold and campaign.product.sold.from_),
        mend="write from: and to: below product.sold; while nobody knows, a fact about: product.sold.from",
    ),
    "stop": Detector(
        path="now.headline", has=_stop, mend="begin with it, in every language: stop using it now"
    ),
    "units": Detector(
        path="product.sold.units",
        has=_of(lambda campaign: campaign.product.sold and campaign.product.sold.units),
        mend="write units: below product.sold",
    ),
    "warning_signs": Detector(
        path="hazard.signs",
        has=_of(lambda campaign: campaign.hazard.signs or campaign.hazard.without_sign),
        mend="write signs:, or without_sign: that there are none",
    ),
}
"""By the name in a table's ``found_by``; a *path* ``headline`` is that of the market's own headline."""

UNSHOWN = frozenset({"made_in", "made_when", "maker", "price", "units"})
"""What stands in campaign.yaml alone: no notice of ours shows it yet, so that it is for the authority's own form."""
