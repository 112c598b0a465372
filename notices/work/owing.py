"""Who is owed which notice now: units of one owner that are owed the same saying share one message."""

from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date

from audiences.segments import Segment
from audiences.verdicts import SAFE, Verdict
from notices.campaign.models import Campaign
from notices.campaign.revisions import Revision
from notices.cases.case import Case
from notices.cases.due import Due
from notices.cases.follow_ups import going_by_itself
from notices.cases.owed import (
    REMIND_STOP,
    STOPS,
    Earlier,
    Owed,
    last_told,
    owed,
    reminder,
    urgency,
    while_held,
)
from notices.cases.records import ContactRow, OwnerRow, Told, UnitRow
from notices.cases.sayings import saying, warning
from notices.compose.variants import VariantKey
from notices.work.gates import Gate, Held, closed, counted
from notices.work.persons import Persons, persons
from notices.work.ports import Transaction, World
from notices.work.recording import with_due
from notices.work.revisions import said_before, signed, speaks_to
from notices.work.units import has_it, parts_of

REMIND_KIND = "remind"


@dataclass(frozen=True, kw_only=True, slots=True)
class Owing:
    """One message that is owed: to whom, why, which variant, about which units; *address* None: not by this channel.

    *about* names each unit with the owner who has a part in it: another than *owner* where they are one person.
    *gate* is what it waits for, None where it may go.
    """

    owner: OwnerRow
    address: ContactRow | None
    key: VariantKey
    owed: Owed
    units: tuple[UnitRow, ...]
    about: tuple[tuple[str, str], ...]
    gate: Gate | None = None

    @property
    def name(self) -> tuple[str, str]:
        """Return what tells two messages of one wave apart."""
        return (self.owner.owner_id, self.owed.occasion)


@dataclass(frozen=True, kw_only=True, slots=True)
class _Asked:
    """What one look over the register needs."""

    revision: Revision
    channel: str
    owners: Mapping[str, OwnerRow]
    contacts: Mapping[str, list[ContactRow]]
    units: Mapping[str, UnitRow]
    told: Mapping[tuple[str, str], list[Told]]
    earlier: list[Earlier]
    persons: Mapping[str, tuple[str, ...]]
    gates: Mapping[str, Gate]


def owing(
    tx: Transaction,
    revision: Revision,
    *,
    today: date,
    channel: str = "email",
    cases: Iterable[Case] | None = None,
    void: Collection[str] = (),
) -> list[Owing]:
    """Return every message owed by *channel* under *revision*, the most endangered first.

    *cases* stand in for the register's own, where a draft is tried on; *void* are postings to be taken for withdrawn.
    """
    rows = [row.case for row in tx.cases.all()] if cases is None else list(cases)
    unit_ids = [case.unit_id for case in rows]
    decided = persons(tx)
    asked = _Asked(
        revision=revision,
        channel=channel,
        owners=tx.people.owners(),
        contacts=tx.people.contacts(),
        units=tx.units.units(),
        told=_told(tx, decided, void),
        earlier=said_before(tx),
        persons=decided.groups(),
        gates=closed(tx, revision.campaign),
    )
    dues = {row.case.unit_id: row.due for row in with_due(tx, rows, revision.campaign, of=going_by_itself)}
    parts = parts_of(tx, unit_ids)
    grouped: dict[tuple[object, ...], Owing] = {}
    for case in rows:
        for owner_id, roles in parts[case.unit_id].items():
            due = dues[case.unit_id] if has_it(roles) else None
            for one in _for_owner(asked, case, due, owner_id, today):
                if has_it(roles) or _concerns_all(asked, one):
                    _join(grouped, one)
    return sorted(grouped.values(), key=lambda one: (one.owed.rank, one.owner.owner_id, one.owed.occasion))


def behind_gates(debts: Iterable[Owing]) -> tuple[Held, ...]:
    """Count the owners of each market that waits: of those whom the channel reaches."""
    return counted((one.gate, one.owner.owner_id) for one in debts if one.gate and one.address)


def held_back(world: World, *, channel: str = "email") -> tuple[Held, ...]:
    """Count who waits behind a gate now; where none is closed nothing is looked for."""
    with world.register.look() as tx:
        now = signed(tx)
        if now is None or not closed(tx, now.campaign):
            return ()
        return behind_gates(owing(tx, now.revision, today=world.now().date(), channel=channel))


def _told(tx: Transaction, decided: Persons, void: Collection[str]) -> dict[tuple[str, str], list[Told]]:
    found: dict[tuple[str, str], list[Told]] = {}
    for one in tx.record.told():
        if one.posting_id in void or not decided.counts(one.posting_id, one.owner_id):
            continue
        found.setdefault((one.unit_id, one.owner_id), []).append(one)
    return found


def _concerns_all(asked: _Asked, one: Owing) -> bool:
    """Say whether a message goes to those too who have not the unit: the stop and its corrections, not the remedy.

    Who has been told nothing yet, or something less grave, learns of the stop from the first notice.
    """
    last = last_told(asked.told.get(one.about[0], []))
    if one.owed.occasion != "first" or last is None:
        return True
    return (last.verdict in SAFE) != (one.owed.verdict in SAFE) or last.level < one.owed.saying.level


def _join(grouped: dict[tuple[object, ...], Owing], one: Owing) -> None:
    """Let a message list one more unit of its owner."""
    name = (one.owner.owner_id, one.owed.occasion, one.key)
    before = grouped.get(name)
    if before is None:
        grouped[name] = one
    else:
        rank = min(before.owed.rank, one.owed.rank)
        more = tuple(unit for unit in one.units if unit not in before.units)
        grouped[name] = replace(
            before,
            units=(*before.units, *more),
            about=(*before.about, *one.about),
            owed=replace(before.owed, rank=rank),
        )


def _for_owner(asked: _Asked, case: Case, due: Due | None, owner_id: str, today: date) -> Iterator[Owing]:
    told = asked.told.get((case.unit_id, owner_id), [])
    campaign = asked.revision.campaign
    reminded = _reminder(asked, campaign, case, due, told, today)
    what = owed(case, campaign, told, asked.earlier) or reminded
    if what is None:
        return
    one = _addressed(asked, case, owner_id, what)
    yield one
    also = while_held(what, case, campaign, told) if one.gate else None
    if one.gate and also is None and what.occasion == "first" and what.verdict not in SAFE:
        again = _reminder(asked, warning(campaign), case, due, told, today)
        also = replace(again, kind=REMIND_STOP) if again else None
    if also is not None:
        yield _addressed(asked, case, owner_id, also)


def _reminder(
    asked: _Asked, campaign: Campaign, case: Case, due: Due | None, told: Iterable[Told], today: date
) -> Owed | None:
    """Return the reminder whose day has come, where the ladder's next step goes by this channel."""
    steps = {rung.step for rung in asked.revision.campaign.follow_up}
    if due is None or due.channel != asked.channel or due.step not in steps or due.on > today:
        return None
    occasion = reminder(campaign, due.step)
    if case.verdict is None or any(one.occasion == occasion for one in told):
        return None
    verdict = Verdict(case.verdict)
    return Owed(
        occasion=occasion,
        kind=REMIND_KIND,
        verdict=verdict,
        segment=case.segment,
        saying=saying(campaign, verdict, case.segment),
        rank=urgency(case, verdict),
    )


def _addressed(asked: _Asked, case: Case, owner_id: str, what: Owed) -> Owing:
    owner, address = _reached(asked, owner_id)
    unit = asked.units[case.unit_id]
    key = VariantKey(
        kind=what.kind,
        channel=asked.channel,
        verdict=what.verdict,
        segment=_segment(what),
        market=market_of(asked.revision.campaign, unit, owner),
        language=speaks_to(asked.revision, owner),
    )
    return Owing(
        owner=owner,
        address=address,
        gate=None if what.kind in STOPS else asked.gates.get(key.market),
        key=key,
        owed=what,
        units=(unit,),
        about=((unit.unit_id, owner_id),),
    )


def _reached(asked: _Asked, owner_id: str) -> tuple[OwnerRow, ContactRow | None]:
    """Return who is written to and where: of owners who are one person the first whom the channel reaches."""
    for one in asked.persons.get(owner_id, (owner_id,)):
        for row in asked.contacts.get(one, []):
            if row.channel == asked.channel and row.fault is None:
                return asked.owners[one], row
    return asked.owners[owner_id], None


def _segment(what: Owed) -> Segment:
    """Return the segment of the variant; how a cleared unit was used makes no difference to what it is told."""
    return Segment.UNKNOWN if what.verdict in SAFE else what.segment


def market_of(campaign: Campaign, unit: UnitRow, owner: OwnerRow) -> str:
    """Return the market whose law the notice follows: where the unit was sold, else the owner's, else the first."""
    for country in (unit.sold_in, owner.country, campaign.issuer.country):
        market = campaign.market_of(country)
        if market is not None:
            return market
    return next(iter(campaign.markets), "")
