"""Owners who may be the same: shown with score and reasons; a person joins them or holds them apart, and can undo it.

Joining merges nothing: each unit, name and address stays with its owner. Who is one person gets one message where
the same is said of several units, and one page for all of them.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from audiences import matching
from audiences.matching import REASONS, Person
from notices.cases import ids
from notices.cases.events import NewEvent, owner_stream
from notices.cases.records import ContactRow, OwnerRow, Posting, PostingUnit, TextRow
from notices.work.known import known
from notices.work.links import CHANNEL
from notices.work.persons import Two, pair_of, persons, put_persons
from notices.work.ports import Transaction, World
from notices.work.units import SHOP, holding

_VIA = "command"
_COMPARED = ("email", "phone", "letter")


class PairError(ValueError):
    """Two owners cannot be joined or held apart as asked; the text says why."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Side:
    """One owner of a pair: every way to them that is known, and the units in which they have a part."""

    owner: OwnerRow
    contacts: tuple[ContactRow, ...]
    units: tuple[str, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class Likely:
    """Two owners who may be the same."""

    score: int
    reasons: tuple[str, ...]
    sides: tuple[Side, Side]


@dataclass(frozen=True, kw_only=True, slots=True)
class Decision:
    """Two owners of whom a person has decided: *joined* one person, else not."""

    joined: bool
    sides: tuple[Side, Side]


def likely(world: World) -> tuple[Likely, ...]:
    """Return the pairs of owners who may be the same and of whom nothing is decided, the likeliest first."""
    with world.register.look() as tx:
        found = matching.pairs(_people(tx))
        decided = persons(tx)
        groups = decided.groups()
        open_ones = [
            pair
            for pair in found
            if (pair.first, pair.second) not in decided.parted
            and pair.second not in groups.get(pair.first, ())
        ]
        sides = _sides(tx, {owner for pair in open_ones for owner in (pair.first, pair.second)})
    return tuple(
        Likely(score=pair.score, reasons=pair.reasons, sides=(sides[pair.first], sides[pair.second]))
        for pair in open_ones
    )


def decisions(world: World) -> tuple[Decision, ...]:
    """Return what was decided and stands, what was joined first."""
    with world.register.look() as tx:
        found = persons(tx)
        pairs = [(True, pair) for pair in sorted(found.joined)] + [
            (False, pair) for pair in sorted(found.parted)
        ]
        sides = _sides(tx, {owner for _, pair in pairs for owner in pair})
    return tuple(Decision(joined=joined, sides=(sides[one], sides[other])) for joined, (one, other) in pairs)


def _people(tx: Transaction) -> Iterator[Person]:
    """Yield the owners who can be compared: not the shops', and nobody whose data was erased."""
    register = known(tx)
    numbers: dict[str, list[Two]] = {}
    for key, owner_id in register.by_person.items():
        if key[0] == "customer":
            numbers.setdefault(owner_id, []).append((key[1], key[2]))
    for owner in register.owners.values():
        if owner.kind == SHOP or owner.erased_at is not None:
            continue
        ways = register.contacts.get(owner.owner_id, {}).values()
        by_channel = {
            channel: tuple(row.value for row in ways if row.channel == channel and row.fault is None)
            for channel in _COMPARED
        }
        yield Person(
            person_id=owner.owner_id,
            name=owner.name,
            emails=by_channel["email"],
            phones=by_channel["phone"],
            letters=by_channel["letter"],
            numbers=tuple(numbers.get(owner.owner_id, ())),
        )


def _sides(tx: Transaction, owner_ids: Iterable[str]) -> dict[str, Side]:
    wanted = sorted(owner_ids)
    owners = tx.people.owners(wanted)
    contacts = tx.people.contacts(wanted)
    units: dict[str, set[str]] = {}
    for each in holding(tx.units.holdings(owner_ids=wanted)):
        units.setdefault(each.owner_id, set()).add(each.unit_id)
    return {
        owner_id: Side(
            owner=owner,
            contacts=tuple(row for row in contacts.get(owner_id, []) if row.channel != CHANNEL),
            units=tuple(sorted(units.get(owner_id, ()))),
        )
        for owner_id, owner in owners.items()
    }


def join(world: World, one: str, other: str, *, by: str) -> bool:
    """Record that two owners are one person; False where that is recorded already.

    PairError where an owner is unknown, or where somebody of one group was held apart from somebody of the other.
    """
    with world.register.change() as tx:
        pair = _two(tx, one, other)
        before = persons(tx)
        if pair in before.joined:
            return False
        for mine in before.of(one):
            for theirs in before.of(other):
                if (apart := pair_of(mine, theirs)) in before.parted - {pair}:
                    raise PairError(
                        f"{apart[0]} and {apart[1]} are held apart, and would become one person by this; "
                        "join these two first, or leave it"
                    )
        after = replace(before, joined=before.joined | {pair}, parted=before.parted - {pair})
        group = set(after.of(one))
        told = _told(tx, group)
        back = {(posting.posting_id, unit.owner_id) for posting, unit in told if posting.owner_id in group}
        put_persons(tx, replace(after, untold=before.untold - back))
        _record(tx, world, "joined", pair, by=by, payload={})
    return True


def apart(world: World, one: str, other: str, *, by: str, reason: str) -> bool:
    """Record that two owners are two persons, and why; False where that is recorded already.

    What went to the one about the other's units counts as untold to the other, so that it is owed again. PairError
    where an owner is unknown, the reason is empty, or the two are one person by way of a third.
    """
    if not reason.strip():
        raise PairError("to hold two owners apart needs a reason: --reason TEXT")
    with world.register.change() as tx:
        pair = _two(tx, one, other)
        before = persons(tx)
        if pair in before.parted:
            return False
        after = replace(before, joined=before.joined - {pair}, parted=before.parted | {pair})
        if other in (group := after.of(one)):
            between = ", ".join(owner_id for owner_id in group if owner_id not in pair)
            raise PairError(
                f"the two are one person by way of {between} too; hold one of them apart from it first"
            )
        untold = {
            (posting.posting_id, unit.owner_id)
            for posting, unit in _told(tx, before.of(one))
            if posting.owner_id not in after.of(unit.owner_id) and not _reaches(tx, unit)
        }
        put_persons(tx, replace(after, untold=before.untold | untold))
        text_id = ids.long_id(world.draw)
        tx.papers.put_text(TextRow(text_id=text_id, owner_id=pair[0], body=reason.strip()))
        _record(tx, world, "parted", pair, by=by, payload={"text": text_id})
    return True


def _two(tx: Transaction, one: str, other: str) -> Two:
    if one == other:
        raise PairError("these are not two owners, but one and the same id")
    owners = tx.people.owners([one, other])
    for owner_id in (one, other):
        if owner_id not in owners or owners[owner_id].erased_at is not None:
            raise PairError(f"no owner is known as {owner_id}; notices owners pairs shows their ids")
        if owners[owner_id].kind == SHOP:
            raise PairError(f"{owner_id} is a shop that sold units; it is joined with nobody")
    return pair_of(one, other)


def _told(tx: Transaction, group: Iterable[str]) -> Iterator[tuple[Posting, PostingUnit]]:
    """Yield what the owners of a group were told, by each unit, and the posting that told it."""
    owners = sorted(group)
    units = sorted({each.unit_id for each in tx.units.holdings(owner_ids=owners)})
    posting_ids = sorted({one.posting_id for one in tx.record.told(units)})
    about = tx.record.units_of(posting_ids)
    for posting in tx.outbox.postings(posting_ids=posting_ids):
        yield from ((posting, unit) for unit in about[posting.posting_id] if unit.owner_id in owners)


def _reaches(tx: Transaction, unit: PostingUnit) -> bool:
    """Say whether the owner of a unit is reached too at the address at which it was spoken of."""
    mine = tx.people.contacts([unit.owner_id]).get(unit.owner_id, [])
    return any(row.channel == unit.channel and row.value_key == unit.address_key for row in mine)


def _record(
    tx: Transaction, world: World, kind: str, pair: Two, *, by: str, payload: Mapping[str, object]
) -> None:
    """Write the decision into the streams of both."""
    now = world.now()
    events = [
        NewEvent(
            stream=owner_stream(owner_id),
            kind=kind,
            at=now,
            actor=by,
            via=_VIA,
            payload={"other": other, **payload},
        )
        for owner_id, other in (pair, pair[::-1])
    ]
    tx.events.append(events, recorded_at=now)


def likely_as_json(found: Sequence[Likely]) -> list[dict[str, object]]:
    """Return pairs in the shape that other programs read."""
    return [
        {
            "score": one.score,
            "reasons": {reason: REASONS[reason] for reason in one.reasons},
            "owners": [_side_as_json(side) for side in one.sides],
        }
        for one in found
    ]


def decisions_as_json(found: Sequence[Decision]) -> list[dict[str, object]]:
    """Return decisions in the shape that other programs read."""
    return [
        {
            "decided": "joined" if one.joined else "apart",
            "owners": [_side_as_json(side) for side in one.sides],
        }
        for one in found
    ]


def _side_as_json(side: Side) -> dict[str, object]:
    return {
        "owner": side.owner.owner_id,
        "name": side.owner.name,
        "contacts": [
            {"channel": row.channel, "value": row.value, "fault": row.fault} for row in side.contacts
        ],
        "units": list(side.units),
    }
