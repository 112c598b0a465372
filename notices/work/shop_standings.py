"""Where each shop and lessor stands: what it said and was given, what we count ourselves, and what is due."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime

from audiences.headings import plain
from audiences.verdicts import SAFE
from notices.cases.case import Case
from notices.cases.events import CAMPAIGN, owner_stream
from notices.cases.records import ContactRow, OwnerRow
from notices.cases.shops import ShopCase, ShopDue, lessor_due, shop_case, shop_due, stopped_by_word
from notices.work.holders import LESSORS
from notices.work.judging import BY_WORD
from notices.work.links import link_of
from notices.work.looking import end_of, time_zone
from notices.work.ports import Transaction, World
from notices.work.revisions import signed
from notices.work.shops import SHOPS, noted, shops
from notices.work.units import LESSOR, SHOP, present


@dataclass(frozen=True, kw_only=True, slots=True)
class ShopStanding:
    """One shop: what it said and was given, what is due, and what we count ourselves.

    *listed* are the units that lists say it sold, or that it lets; *answered* those of them that somebody answered for
    by an address it forwarded; *lets* the units of a lessor that nobody has answered for, None for a shop.
    """

    owner: OwnerRow
    case: ShopCase
    due: ShopDue | None
    to: tuple[str, ...]
    listed: int
    answered: int
    lets: int | None = None


def standings(world: World, *, on: date | None = None) -> tuple[ShopStanding, ...]:
    """Return where each shop and lessor stands now, or by what was known at the end of the day *on*, by name."""
    with world.register.look() as tx:
        held = signed(tx)
        campaign = held.campaign if held else None
        until = end_of(on, time_zone(campaign)) if on else None
        looked = _Looked(tx=tx, country=campaign.issuer.country if campaign else None, until=until)
        known = shops(tx, world).by_name.values()
        lessors = tx.people.owners(noted(tx, LESSORS)).values()
        places = _places(looked) if known else {}
        found = [
            *(_shop_standing(looked, owner, places.get(plain(owner.name))) for owner in known),
            *(_lessor_standing(looked, owner) for owner in lessors if owner.erased_at is None),
        ]
    listed = [one for one in found if one.case.listed_on]
    return tuple(sorted(listed, key=lambda one: (one.lets is not None, one.owner.name, one.owner.owner_id)))


@dataclass(frozen=True, kw_only=True, slots=True)
class _Looked:
    """What one look over the shops needs."""

    tx: Transaction
    country: str | None
    until: datetime | None

    def case(self, owner: OwnerRow) -> ShopCase:
        """Return what the owner's events make of it, as known by then."""
        return shop_case(self.tx.events.stream(owner_stream(owner.owner_id), until=self.until))

    def ways(self, owner: OwnerRow, due: ShopDue | None) -> tuple[str, ...]:
        """Return the usable addresses or numbers for the step that is due."""
        rows = self.tx.people.contacts([owner.owner_id]).get(owner.owner_id, []) if due else []
        return _reach(rows, due.channel if due else "")

    def units(self, owner: OwnerRow, role: str) -> list[str]:
        """Return the units in which the owner has this part."""
        held = present(self.tx.units.holdings(owner_ids=[owner.owner_id]))
        return [one.unit_id for one in held if one.role == role]


def _places(looked: _Looked) -> dict[str, tuple[int, date]]:
    """Return what was said of places that have stopped: how many units each holds, and on which day it was said."""
    found = {}
    for event in looked.tx.events.stream(CAMPAIGN, until=looked.until):
        if event.kind == "sale_stopped":
            holds = event.payload.get("holds")
            found[plain(str(event.payload["place"]))] = (
                holds if isinstance(holds, int) else 0,
                event.at.date(),
            )
    return found


def _shop_standing(looked: _Looked, owner: OwnerRow, place: tuple[int, date] | None) -> ShopStanding:
    case = looked.case(owner)
    if place is not None:
        case = stopped_by_word(case, *place)
    due = shop_due(case, looked.country)
    units = looked.tx.units.units(looked.units(owner, SHOP))
    by_word = Counter(unit.unit_key.startswith(BY_WORD) for unit in units.values())
    return ShopStanding(
        owner=owner,
        case=case,
        due=due,
        to=looked.ways(owner, due),
        listed=by_word[False],
        answered=by_word[True],
    )


def _lessor_standing(looked: _Looked, owner: OwnerRow) -> ShopStanding:
    case = looked.case(owner)
    units = looked.units(owner, LESSOR)
    rows = looked.tx.cases.get(units).values()
    silent = sum(row.case.keeper_id is None and _is_owed(row.case) for row in rows)
    due = lessor_due(case, silent, looked.country)
    answered = sum(row.case.keeper_id is not None for row in rows)
    return ShopStanding(
        owner=owner,
        case=case,
        due=due,
        to=looked.ways(owner, due),
        listed=len(units),
        answered=answered,
        lets=silent,
    )


def _is_owed(case: Case) -> bool:
    """Say whether a unit's rider must still be found: it has not ended, and nothing clears it."""
    return case.ending is None and case.verdict not in SAFE


def _reach(contacts: Sequence[ContactRow], channel: str) -> tuple[str, ...]:
    wanted = "letter" if channel == "person" else channel
    return tuple(row.value for row in contacts if row.channel == wanted and row.fault is None)


def pages(world: World) -> dict[str, str]:
    """Return the address of the page of each shop and lessor by its id, made where it has none.

    Without ``issuer.answers`` nobody has one.
    """
    with world.register.change() as tx:
        held = signed(tx)
        base = (held.campaign.issuer.answers or "").rstrip("/") if held else ""
        known = [*noted(tx, SHOPS), *noted(tx, LESSORS)] if base else []
        return {owner_id: f"{base}/{link_of(tx, owner_id)}" for owner_id in known}


def due_by(found: Sequence[ShopStanding], day: date) -> list[ShopStanding]:
    """Return the shops with a step that is due by *day*, the longest waiting first."""
    waiting = [(one.due.on, one.owner.name, one) for one in found if one.due and one.due.on <= day]
    return [one for _, _, one in sorted(waiting, key=lambda item: item[:2])]


def as_json(one: ShopStanding) -> dict[str, object]:
    """Return a shop's standing in the shape that other programs read."""
    case, due = one.case, one.due
    return {
        "shop": one.owner.name,
        "lets": one.lets,
        "stopped": case.stopped,
        "shelf": case.shelf,
        "sold": case.sold,
        "names": case.names or None,
        "listed": one.listed,
        "addresses": case.packed,
        "forwarded": case.forwarded,
        "answered": one.answered,
        "due": {"step": due.step, "channel": due.channel, "on": due.on.isoformat(), "why": due.why}
        if due
        else None,
        "to": list(one.to),
    }
