"""Whether owners in every country reach the firm, by ways that work."""

from collections import Counter
from collections.abc import Iterator
from urllib.parse import urlsplit
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from audiences import addresses
from audiences.findings import Finding, Severity
from notices.campaign.looking import Look


def issuer_email(look: Look) -> Iterator[Finding]:
    """Hold that the address owners reply to can be used."""
    given = look.campaign.issuer.email
    if given is None:
        return
    fault = addresses.email(given).fault
    if fault:
        yield Finding(
            code="issuer-email-unusable",
            **look.at("issuer.email"),
            message=f"this is no usable e-mail address: {addresses.FAULTS[fault]}",
            mend="write it as safety@firm.example",
            source="RFC 5321",
        )


def phones(look: Look) -> Iterator[Finding]:
    """Hold that each telephone number can be dialled from abroad and from its own countries."""
    for place, contact in enumerate(look.campaign.contacts):
        if contact.phone is None:
            continue
        country = contact.countries[0] if contact.countries else None
        fault = addresses.phone(contact.phone, country).fault
        if fault:
            yield Finding(
                code="contact-phone-unusable",
                **look.at(f"contacts[{place}].phone"),
                message=f"this is no usable telephone number: {addresses.FAULTS[fault]}",
                mend='write it in quotes with + and the country code, as "+448081570172"',
                source="ITU-T E.164",
            )


def countries(look: Look) -> Iterator[Finding]:
    """Hold that every country of a market has a contact, that each has one, and lies in one market."""
    campaign = look.campaign
    for key, market in campaign.markets.items():
        for country in market.countries:
            if campaign.contact_for(country) is None:
                yield Finding(
                    code="market-country-without-contact",
                    **look.at(f"markets.{key}.countries"),
                    message=f"owners in {country} are given no contact of their own",
                    mend=f"add {country} to the countries of a contact; without a number: call_back: true",
                    severity=Severity.CONSIDER if campaign.issuer.email else Severity.MUST_MEND,
                    source="common practice, no source",
                )
    markets = Counter(country for market in campaign.markets.values() for country in market.countries)
    for country in (country for country, times in markets.items() if times > 1):
        yield Finding(
            code="market-country-twice",
            **look.at("markets"),
            message=f"{country} stands {markets[country]} times; a unit sold there is under one law",
            mend="keep it in one market",
        )
    served = Counter(country for contact in campaign.contacts for country in contact.countries)
    for country in (country for country, times in served.items() if times > 1):
        yield Finding(
            code="contact-country-twice",
            **look.at("contacts"),
            message=f"{country} stands in {served[country]} contacts; owners there see only the first",
            mend="keep it in one contact",
        )


def time_zones(look: Look) -> Iterator[Finding]:
    """Hold that each time zone is one that the tz database knows."""
    given = {"issuer.time_zone": look.campaign.issuer.time_zone} | {
        f"contacts[{place}].time_zone": contact.time_zone
        for place, contact in enumerate(look.campaign.contacts)
    }
    for path, zone in given.items():
        if zone is not None and not _is_zone(zone):
            yield Finding(
                code="time-zone-unknown",
                **look.at(path),
                message="no time zone has this name",
                mend="write continent and city, as Europe/Dublin",
                source="IANA time zone database",
            )


def _is_zone(name: str) -> bool:
    try:
        ZoneInfo(name)
    except (ZoneInfoNotFoundError, ValueError, OSError):  # a folder's name raises what the system raises
        return False
    return True


def web_addresses(look: Look) -> Iterator[Finding]:
    """Hold that answers come over an encrypted connection, and that addresses to type are short and bare."""
    issuer = look.campaign.issuer
    if issuer.answers is not None and not _is_answer_base(issuer.answers):
        yield Finding(
            code="answers-address-form",
            **look.at("issuer.answers"),
            message="the answer page's address is not one that links can be built on",
            mend="write https://, the name and the path, without ? and #, as https://firm.example/safety",
        )
    for path, given in (("issuer.web", issuer.web), ("issuer.bulletin", issuer.bulletin)):
        if given is not None and (" " in given or "." not in given or "@" in given):
            yield Finding(
                code="web-address-form",
                **look.at(path),
                message="this is no address that somebody can type into a browser",
                mend="write it as firm.example/safety",
            )


def _is_answer_base(given: str) -> bool:
    try:
        parts = urlsplit(given)
        host = parts.hostname
    except ValueError:  # brackets that hold no IPv6 address
        return False
    bare = not parts.query and not parts.fragment and not parts.username and "?" not in given
    return parts.scheme == "https" and bool(host) and bare and " " not in given and "#" not in given


def languages(look: Look) -> Iterator[Finding]:
    """Hold that the campaign is written in its own language and in the one that all others get."""
    campaign = look.campaign
    written = campaign.languages.written
    if written and campaign.language not in written:
        yield Finding(
            code="language-source-not-written",
            **look.at("languages.written"),
            message=f"the texts are in {campaign.language}, which is not among the written languages",
            mend=f"add {campaign.language}, or correct language:",
        )
    default = campaign.languages.default
    if default is not None and default not in (written or (campaign.language,)):
        yield Finding(
            code="language-default-not-written",
            **look.at("languages.default"),
            message=f"owners of other languages would get {default}, which is not written",
            mend="name a written language",
        )
    for tag in (tag for tag, times in Counter(written).items() if times > 1):
        yield Finding(
            code="language-twice",
            **look.at("languages.written"),
            message=f"{tag} stands there more than once",
            mend="keep it once",
        )


def hours(look: Look) -> Iterator[Finding]:
    """Hold that the telephone is answered for some time."""
    given = look.campaign.hours
    if given is not None and (given.from_ >= given.to or not given.days):
        yield Finding(
            code="hours-empty",
            **look.at("hours"),
            message="the telephone is never answered by these hours",
            mend="name the days, and write from: earlier than to:",
        )


def ladder(look: Look) -> Iterator[Finding]:
    """Hold that the steps of the follow-up have names of their own and rise day by day."""
    steps = look.campaign.follow_up
    for place in range(1, len(steps)):
        if steps[place].step in {step.step for step in steps[:place]}:
            yield Finding(
                code="follow-up-twice",
                **look.at(f"follow_up[{place}].step"),
                message="an earlier step has this name already, and nothing is sent twice under one",
                mend="give it a name of its own",
            )
        if steps[place].after_days <= steps[place - 1].after_days:
            yield Finding(
                code="follow-up-order",
                **look.at(f"follow_up[{place}].after_days"),
                message=f"{steps[place].after_days} days are not more than the step before has",
                mend="let the days rise from step to step",
            )


CONTACT_CHECKS = (
    issuer_email,
    phones,
    countries,
    time_zones,
    web_addresses,
    languages,
    hours,
    ladder,
)
