"""What stands in the register, now or as it was known at the end of a day."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta, tzinfo
from zoneinfo import ZoneInfo

from audiences.findings import Finding, Severity
from notices.campaign.models import Campaign
from notices.cases.case import Case
from notices.cases.due import Agenda, CaseRow, Step
from notices.cases.folding import fold
from notices.work.counting import SEGMENTS, Standing, count_alike
from notices.work.ports import Transaction, World
from notices.work.recording import with_due
from notices.work.revisions import CAMPAIGN_FILE, Signed, signed

_UNIT = "unit:"


@dataclass(frozen=True, kw_only=True, slots=True)
class Known:
    """What was known on a day: the revision signed by then (None: none yet), and the cases folded from the record.

    *rows* is None for today: then the register's own cases are what is known.
    """

    on: date
    held: Signed | None
    rows: tuple[CaseRow, ...] | None

    @property
    def campaign(self) -> Campaign | None:
        """Return the campaign as signed by then."""
        return self.held.campaign if self.held else None


@dataclass(frozen=True, kw_only=True, slots=True)
class Status:
    """Where every unit stands on a day; *names* are the campaign's own words for the segments."""

    on: date
    revision: int | None
    standing: Standing
    names: Mapping[str, str]
    findings: tuple[Finding, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class DueList:
    """The steps due by a day, the most urgent first; *later* counts those after it, from *next_on* on."""

    on: date
    steps: tuple[Step, ...]
    later: int
    next_on: date | None
    findings: tuple[Finding, ...]


def time_zone(campaign: Campaign | None) -> tzinfo:
    """Return the issuer's time zone, in which a day ends; UTC where none is known."""
    name = campaign.issuer.time_zone if campaign else None
    return ZoneInfo(name) if name else UTC


def end_of(day: date, zone: tzinfo) -> datetime:
    """Return the last microsecond of *day* in *zone*, as an aware moment."""
    next_day = datetime.combine(day + timedelta(days=1), time(), tzinfo=zone)
    return next_day.astimezone(UTC) - timedelta(microseconds=1)


def today(world: World, tx: Transaction) -> date:
    """Return the day it is in the issuer's time zone."""
    held = signed(tx)
    return world.now().astimezone(time_zone(held.campaign if held else None)).date()


def known_on(world: World, tx: Transaction, on: date | None) -> Known:
    """Return what is known now, or what was known at the end of the day *on*."""
    held = signed(tx)
    if on is None:
        return Known(on=today(world, tx), held=held, rows=None)
    until = end_of(on, time_zone(held.campaign if held else None))
    then = _signed_by(tx, until)
    cases = _folded(tx, until)
    return Known(on=on, held=then, rows=tuple(with_due(tx, cases, then.campaign if then else None)))


def _signed_by(tx: Transaction, until: datetime) -> Signed | None:
    numbers = [row.number for row in tx.papers.revisions() if row.adopted_at <= until]
    return signed(tx, max(numbers)) if numbers else None


def _folded(tx: Transaction, until: datetime) -> list[Case]:
    return [
        fold(events[0].stream.removeprefix(_UNIT), events)
        for events in tx.events.streams(_UNIT, until=until)
        if events
    ]


def status(world: World, *, on: date | None = None) -> Status:
    """Return where every unit stands, now or at the end of the day *on* in the issuer's time zone."""
    with world.register.look() as tx:
        known = known_on(world, tx, on)
        cases = tx.cases.alike() if known.rows is None else [(row.case, 1) for row in known.rows]
    sold = known.campaign.product.sold if known.campaign else None
    standing = count_alike(cases, sold=sold.units if sold else None)
    return Status(
        on=known.on,
        revision=known.held.number if known.held else None,
        standing=standing,
        names=names_of_segments(known.campaign),
        findings=(*_more_than_sold(standing), *overtaken(known.campaign, known.on)),
    )


def names_of_segments(campaign: Campaign | None) -> dict[str, str]:
    """Return the campaign's own words for the segments, their keys where it has none."""
    answers = {
        segment.value: getattr(campaign.use, segment.value) if campaign else None for segment in SEGMENTS
    }
    return {
        key: (answer.name if answer and answer.name else key.replace("_", " "))
        for key, answer in answers.items()
    }


def _more_than_sold(standing: Standing) -> tuple[Finding, ...]:
    if standing.listed <= standing.sold:
        return ()
    return (
        Finding(
            code="listed-more-than-sold",
            file=CAMPAIGN_FILE,
            path="product.sold.units",
            message=f"the lists name {standing.listed} units, and only {standing.sold} were sold",
            mend="look for units that are listed twice, or correct product.sold.units and sign again",
            severity=Severity.CONSIDER,
        ),
    )


def overtaken(campaign: Campaign | None, day: date) -> tuple[Finding, ...]:
    """Say what the calendar has overtaken by *day*: it is to be considered and holds nothing back."""
    if campaign is None or campaign.next_word is None or campaign.next_word >= day:
        return ()
    return (
        Finding(
            code="next-word-overdue",
            file=CAMPAIGN_FILE,
            path="next_word",
            message=f"the next word was promised for {campaign.next_word.isoformat()}, and no revision has followed",
            mend="sign and send a revision, even if there is nothing new; it promises the next day",
            severity=Severity.CONSIDER,
        ),
    )


def due(world: World, *, on: date | None = None) -> DueList:
    """Return what is due by today, or by *on* as it was known at the end of that day."""
    with world.register.look() as tx:
        known = known_on(world, tx, on)
        agenda = tx.cases.agenda(known.on) if known.rows is None else _agenda(tx, known.rows, known.on)
    return DueList(
        on=known.on,
        steps=agenda.steps,
        later=agenda.later,
        next_on=agenda.next_on,
        findings=overtaken(known.campaign, known.on),
    )


def _agenda(tx: Transaction, rows: Sequence[CaseRow], until: date) -> Agenda:
    """Return what was due by *until* in cases that are not the register's own."""
    mine = [row for row in rows if row.due and row.due.on <= until]
    later = sorted(row.due.on for row in rows if row.due and row.due.on > until)
    return Agenda(steps=tuple(_steps(tx, mine)), later=len(later), next_on=later[0] if later else None)


def _steps(tx: Transaction, rows: Sequence[CaseRow]) -> list[Step]:
    """Order by urgency: a call for a unit in use or with symptoms first, then by day."""
    keepers = sorted({row.case.keeper_id for row in rows if row.case.keeper_id})
    owners = tx.people.owners(keepers)
    contacts = tx.people.contacts(keepers)
    rows = sorted(rows, key=_urgency)
    steps = []
    for row in rows:
        if row.due is None:
            continue
        keeper = row.case.keeper_id or ""
        channel = "phone" if row.due.channel == "text" else row.due.channel
        steps.append(
            Step(
                unit_id=row.case.unit_id,
                step=row.due.step,
                channel=row.due.channel,
                on=row.due.on,
                why=row.due.why,
                owner=owners[keeper].name if keeper in owners else "",
                to=tuple(
                    contact.value
                    for contact in contacts.get(keeper, [])
                    if contact.channel == channel and contact.fault is None
                ),
            )
        )
    return steps


def _urgency(row: CaseRow) -> tuple[bool, date, str]:
    day = row.due.on if row.due else date.max
    return row.case.urgent_on is None, day, row.case.unit_id


def status_as_json(status: Status) -> dict[str, object]:
    """Return the status in the shape that other programs read; its figures add up as `Standing` says."""
    standing = status.standing
    return {
        "on": status.on.isoformat(),
        "revision": status.revision,
        "units": {
            "sold": standing.sold,
            "in_hands": standing.in_hands,
            "cleared": standing.cleared,
            "put_away": standing.put_away,
            "owner_unknown": standing.owner_unknown,
        },
        "stopped": {key: standing.stopped[key] for key in ("stopped", "pressed", "in_use", "no_word")},
        "grid": {segment: dict(row) for segment, row in standing.grid.items()},
        "endings": dict(standing.endings),
    }


def due_as_json(found: DueList) -> dict[str, object]:
    """Return what is due in the shape that other programs read."""
    return {
        "on": found.on.isoformat(),
        "due": [
            {
                "unit": step.unit_id,
                "step": step.step,
                "channel": step.channel,
                "on": step.on.isoformat(),
                "why": step.why,
                "owner": step.owner,
                "to": list(step.to),
            }
            for step in found.steps
        ],
        "later": found.later,
        "next_on": found.next_on.isoformat() if found.next_on else None,
    }
