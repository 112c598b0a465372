"""Incidents: on which occasion a unit failed or someone was hurt, written down so that no report is forgotten."""

from dataclasses import dataclass
from datetime import date

from notices.campaign.duties import HARMS
from notices.cases import ids
from notices.cases.deadlines import Deadline
from notices.cases.events import CAMPAIGN, NewEvent
from notices.cases.records import IncidentRow, TextRow
from notices.work.looking import end_of, time_zone
from notices.work.ports import World
from notices.work.recording import record
from notices.work.reporting import campaign_of, find
from notices.work.words import HearingError

AGES = ("0-4", "5-14", "15-24", "25-64", "65+", "unknown")
"""Bands of age: enough for a report, and too wide to know a person by."""
PARTS = ("with-us", "with-owner", "with-shop", "with-authority", "gone", "unknown")
"""Where the part that failed is now: it is evidence, and to be kept."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Incident:
    """What somebody types of an incident: ISO 3166-1 country, one of HARMS, AGES and PARTS, its words, who types."""

    country: str
    harm: str
    text: str
    by: str
    happened: date | None = None
    learned: date | None = None
    age: str = "unknown"
    part: str = "unknown"
    via: str = "phone"


def learn(world: World, incident: Incident) -> tuple[str, tuple[Deadline, ...]]:
    """Write down an incident; return its id and the reports that are due for it.

    Raises HearingError where a word is none of ours, or a day lies in the future.
    """
    now = world.now()
    with world.register.change() as tx:
        zone = time_zone(campaign_of(tx, world))
        today = now.astimezone(zone).date()
        _check(incident, today)
        known = incident.learned is None or incident.learned == today
        learned_at = now if known else end_of(incident.learned or today, zone)
        incident_id, text_id = ids.unit_id(world.draw), ids.long_id(world.draw)
        tx.papers.put_text(TextRow(text_id=text_id, owner_id=None, body=incident.text.strip()))
        tx.incidents.put(
            [
                IncidentRow(
                    incident_id=incident_id,
                    learned_at=learned_at,
                    happened_on=incident.happened,
                    country=incident.country.upper(),
                    harm=incident.harm,
                    age_band=incident.age,
                    part_kept=incident.part,
                    unit_id=None,
                    text_id=text_id,
                )
            ]
        )
        event = NewEvent(
            stream=CAMPAIGN,
            kind="incident_learned",
            at=learned_at,
            actor=incident.by.strip(),
            via=incident.via,
            payload={"incident": incident_id},
        )
        record(tx, [event], now=now)
    return incident_id, tuple(one for one in find(world).lines if one.incident == incident_id)


def _check(incident: Incident, today: date) -> None:
    country = incident.country.upper()
    if not (len(country) == 2 and country.isascii() and country.isalpha()):  # noqa: PLR2004 - ISO 3166-1 alpha-2
        raise HearingError("name the country where it happened by its two letters, as IE (ISO 3166-1)")
    for value, words, name in (
        (incident.harm, HARMS, "the harm"),
        (incident.age, AGES, "--age"),
        (incident.part, PARTS, "--part"),
    ):
        if value not in words:
            raise HearingError(f"{name} is one of: {', '.join(words)}")
    if not incident.text.strip():
        raise HearingError("incident needs what happened, in a sentence without names: --text")
    if not incident.by.strip():
        raise HearingError("incident needs your name: --by")
    learned = incident.learned or today
    if learned > today or (incident.happened or learned) > learned:
        raise HearingError("an incident happens before it is learned of, and neither in the future")
