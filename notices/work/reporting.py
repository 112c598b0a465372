"""What was learned of, what was told to whom, and which report is due when."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, tzinfo

from notices.campaign.duties import CLOSING
from notices.campaign.duty_table import DUTIES
from notices.campaign.models import Campaign
from notices.campaign.own_duties import Counted
from notices.cases.deadlines import (
    Clock,
    Deadline,
    Learned,
    Report,
    brought_by,
    deadlines,
    markets_of,
    without_duties,
)
from notices.cases.events import CAMPAIGN, Event, NewEvent, instant
from notices.cases.records import IncidentRow
from notices.work.looking import end_of, time_zone
from notices.work.ports import Transaction, World
from notices.work.recording import record
from notices.work.revisions import drafted, signed
from notices.work.words import HearingError

ALL = "all"
_RECALL = frozenset(
    {"sale_stopped", "revision_adopted"}
)  # the first acts of a recall that the register knows


@dataclass(frozen=True, kw_only=True, slots=True)
class Happened:
    """An incident as a line shows it: its words, and whether a duty follows from it."""

    row: IncidentRow
    day: date
    text: str
    duties: int


@dataclass(frozen=True, kw_only=True, slots=True)
class Found:
    """Every deadline on a day, the incidents, the days that are counted from and whence each is known."""

    on: date
    lines: tuple[Deadline, ...]
    incidents: tuple[Happened, ...]
    days: dict[Counted, tuple[date, str]]
    unknown: tuple[str, ...]
    name: str

    @property
    def next(self) -> Deadline | None:
        """Return what is most urgent, None where nothing is open."""
        return next((one for one in self.lines if one.state(self.on) not in {"told", "no day yet"}), None)

    @property
    def late(self) -> bool:
        """Say whether anything is overdue."""
        return any(one.state(self.on) == "overdue" for one in self.lines)


def markets() -> tuple[str, ...]:
    """Return every market that the table knows."""
    return tuple(dict.fromkeys(duty.market for duty in DUTIES))


def find(world: World, *, on: date | None = None, market: str = "") -> Found:
    """Return what is due on the day *on* (None: today) in the campaign's markets, in one, or in all."""
    with world.register.look() as tx:
        campaign = campaign_of(tx, world)
        zone = time_zone(campaign)
        today = on or world.now().astimezone(zone).date()
        events = tx.events.stream(CAMPAIGN, until=end_of(on, zone) if on else None)
        rows = [row for row in tx.incidents.all() if row.learned_at.astimezone(zone).date() <= today]
        texts = tx.papers.texts([row.text_id for row in rows if row.text_id])
    days = _days(campaign, events, zone)
    wanted = _wanted(campaign, market)
    clock = Clock(
        today=today,
        markets=wanted,
        days={name: day for name, (day, _) in days.items()},
        country=campaign.issuer.country if campaign else None,
        incidents=[Learned(row=row, day=row.learned_at.astimezone(zone).date()) for row in rows],
        own=campaign.duties.own if campaign and campaign.duties else {},
        told=_told(events),
    )
    return Found(
        on=today,
        lines=deadlines(clock),
        incidents=tuple(
            Happened(
                row=row,
                day=row.learned_at.astimezone(zone).date(),
                text=texts[row.text_id].body if row.text_id in texts else "",
                duties=len(brought_by(row)),
            )
            for row in rows
        ),
        days=days,
        unknown=without_duties(wanted),
        name=(campaign.name or "") if campaign else "",
    )


def campaign_of(tx: Transaction, world: World) -> Campaign | None:
    """Return the folder's draft, for a duty waits for no signature; else what was signed."""
    campaign = drafted(world)
    if campaign is not None:
        return campaign
    held = signed(tx)
    return held.campaign if held else None


def _wanted(campaign: Campaign | None, market: str) -> tuple[str, ...]:
    if market == ALL:
        return markets()
    if market:
        return (market,)
    if campaign is None:
        return ()
    countries = [country for one in campaign.markets.values() for country in one.countries]
    own = [campaign.issuer.country] if campaign.issuer.country else []
    return markets_of(countries or own)


def _days(
    campaign: Campaign | None, events: Iterable[Event], zone: tzinfo
) -> dict[Counted, tuple[date, str]]:
    """Return the days that duties count from, each with whence it is known; what the lead typed comes first."""
    found: dict[Counted, tuple[date, str]] = {}
    ledger = [fact.day for fact in campaign.ledger if fact.day] if campaign else []
    if ledger:
        found["knowledge"] = min(ledger), "the first day of the ledger"
    begun = [event.at.astimezone(zone).date() for event in events if event.kind in _RECALL]
    if begun:
        found["action"] = min(begun), "the first word in the register"
    if campaign and campaign.duties:
        found |= {name: (day, "campaign.yaml") for name, day in campaign.duties.days.typed().items()}
    return found


def _told(events: Iterable[Event]) -> dict[str, Report]:
    return {
        str(event.payload["report"]): Report(
            day=date.fromisoformat(str(event.payload["day"])), by=event.actor
        )
        for event in events
        if event.kind == "authority_told"
    }


def tell(world: World, key: str, *, day: date | None, by: str, via: str) -> Deadline:
    """Record that the report of a line was made, and when; the last word on a line counts.

    Raises HearingError where no line has this key, nobody says who told, or the day lies in the future.
    """
    found = find(world, market=ALL)
    line = next((one for one in found.lines if one.key == key), None)
    if line is None:
        open_ = [one.key for one in find(world).lines if one.report is None]
        raise HearingError(f"no report is called {key}; open are: {', '.join(open_) or 'none'}")
    told_on = day or found.on
    if told_on > found.on:
        raise HearingError("a report is written down once it was made, not before")
    if not by.strip():
        raise HearingError("authority-told needs your name: --by")
    now = world.now()
    event = NewEvent(
        stream=CAMPAIGN,
        kind="authority_told",
        at=now,
        actor=by.strip(),
        via=via,
        payload={"authority": line.to, "report": key, "day": told_on.isoformat()},
    )
    with world.register.change() as tx:
        record(tx, [event], now=now)
    return line


def as_json(found: Found) -> dict[str, object]:
    """Return the deadlines in the shape that other programs read."""
    return {
        "on": found.on.isoformat(),
        "days": {
            name: {"day": day.isoformat(), "from": whence} for name, (day, whence) in found.days.items()
        },
        "deadlines": [_line(one, found.on) for one in found.lines],
        "incidents": [_happened(one) for one in found.incidents],
        "unknown_markets": list(found.unknown),
        "closing": CLOSING,
    }


def _line(one: Deadline, today: date) -> dict[str, object]:
    return {
        "report": one.key,
        "state": one.state(today),
        "market": one.market,
        "incident": one.incident or None,
        "to": one.to,
        "what": one.what,
        "due": one.day.isoformat() if one.day else None,
        "at_once": one.at_once,
        "counted_from": one.counted,
        "counted_from_day": one.start.isoformat() if one.start else None,
        "holidays_by_table": [day.isoformat() for day in one.holidays],
        "source": one.source,
        "standing": one.mark,
        "told_on": one.report.day.isoformat() if one.report else None,
        "told_by": one.report.by if one.report else None,
    }


def _happened(one: Happened) -> dict[str, object]:
    row = one.row
    return {
        "incident": row.incident_id,
        "learned_on": one.day.isoformat(),
        "learned_at": instant(row.learned_at),
        "happened_on": row.happened_on.isoformat() if row.happened_on else None,
        "country": row.country,
        "harm": row.harm,
        "age_band": row.age_band,
        "part": row.part_kept,
        "text": one.text,
    }
