"""Whether the numbers of incidents agree with each other, and are there where a law asks for them."""

from collections.abc import Iterator

from audiences.findings import Finding, Severity
from notices.campaign.incidents import told_by
from notices.campaign.looking import Look


def agreeing(look: Look) -> Iterator[Finding]:
    """Hold that no number says what another denies."""
    found, revised = look.campaign.incidents, look.campaign.revision.day
    if found is None:
        return
    least = max(found.damage or 0, min(found.harmed, 1))
    if found.all < least:
        yield Finding(
            code="incidents-fewer",
            **look.at("incidents.all"),
            message=f"{found.all} incidents in all, and harm or damage in {least} at least",
            mend="count every occasion on which a unit failed or someone was hurt",
        )
    if len(found.ages) > found.harmed:
        yield Finding(
            code="ages-too-many",
            **look.at("incidents.ages"),
            message=f"{len(found.ages)} ages, and {found.harmed} people injured or killed",
            mend="write the age of each person once, and count everyone",
        )
    for path, days in (("day", (found.day,)), ("received", found.received)):
        if revised is not None and any(day > revised for day in days):
            yield Finding(
                code="incidents-after-revision",
                **look.at(f"incidents.{path}"),
                message=f"the day is {max(days)}, and this revision of {revised}",
                mend="correct the day, or make the revision a later one",
            )


def told(look: Look) -> Iterator[Finding]:
    """Hold that a recall notice tells the numbers where its market's law asks for them."""
    source = next(
        filter(None, (told_by(market.countries) for market in look.campaign.markets.values())), None
    )
    if source is None or look.campaign.remedies is None:
        return
    found = look.campaign.incidents
    if found is None:
        yield Finding(
            code="incidents-missing",
            **look.at("incidents"),
            message="a market's law asks how many incidents, injuries and deaths there were, none being a number too",
            mend="write incidents: {day: …, all: …, injuries: …, deaths: …}; a market that forbids a zero shows none",
            severity=Severity.CONSIDER,
            source=source,
        )
        return
    if len(found.ages) < found.harmed:
        yield Finding(
            code="ages-missing",
            **look.at("incidents.ages"),
            message=f"{found.harmed} people were injured or killed, and {len(found.ages)} ages are written",
            mend="write the age of each in years, where it is known",
            severity=Severity.CONSIDER,
            source=source,
        )
    if found.harmed and not found.received:
        yield Finding(
            code="received-missing",
            **look.at("incidents.received"),
            message="the notice does not say when the authority got word of the injuries and deaths",
            mend="write received: and the days",
            severity=Severity.CONSIDER,
            source=source,
        )


INCIDENT_CHECKS = (agreeing, told)
