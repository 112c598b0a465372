"""What a reader who has given the signs of a unit tells of it: its code, how it was used, where it is, which remedy.

What somebody tells of another's unit is set aside for a person, and changes nothing.
"""

from dataclasses import dataclass, replace

from audiences import addresses
from audiences.codes import code_key
from audiences.owners import ContactPoint
from audiences.segments import Segment, climb, treated_as
from audiences.verdicts import Verdict, judge
from notices.campaign.models import Campaign
from notices.cases.events import NewEvent
from notices.cases.records import ContactRow, OwnerRow
from notices.work.answers import Desk, Proof, Said, Standing, desk, proved
from notices.work.judging import as_event
from notices.work.ports import Transaction, World
from notices.work.revisions import Signed, signed


def give_code(world: World, proof: Proof, said: Said, code: str) -> Verdict | None:
    """Take the code of a unit that the lists know without one, and judge it; None where the proof holds no more.

    A code that lies near an affected one, or looks like another family's, clears nothing: a person looks first.
    """
    with world.register.change() as tx:
        owner, standing = proved(tx, proof)
        held = signed(tx)
        if owner is None or standing is None or held is None:
            return None
        at = desk(tx, world, said)
        if not standing.unit.code:
            at.write(_code_events(at, standing, owner, held, code))
        rows = tx.cases.get([proof.unit_id])
        return Verdict(rows[proof.unit_id].case.verdict or Verdict.MISSING)


def _code_events(at: Desk, standing: Standing, owner: OwnerRow, held: Signed, code: str) -> list[NewEvent]:
    key, unit_id = code_key(code), standing.unit.unit_id
    judgement = judge(held.judge, code, standing.unit.sold_on)
    given = at.of_unit(unit_id, "code_given", code_key=key, near=judgement.near, signs=True)
    others = [each for each in at.tx.units.by_code(key) if each.unit_id != unit_id]
    if others or judgement.near or judgement.verdict in {Verdict.FOREIGN, Verdict.MISSING}:
        why = "held by another" if others else "near" if judgement.near else "foreign"
        return [
            *given,
            *at.of_unit(
                unit_id, "answer_set_aside", words=code, owner_id=owner.owner_id, of="code_given", why=why
            ),
        ]
    if given:
        at.tx.units.put([replace(standing.unit, code=code, code_key=key)])
    return [*given, as_event(held.campaign, standing.unit, judgement, at=at.now, actor="program", via="page")]


def state_use(world: World, proof: Proof, said: Said, segment: Segment) -> Segment:
    """Record how the unit was used; return the segment whose instruction now holds (it only climbs)."""
    with world.register.change() as tx:
        owner, standing = proved(tx, proof)
        if standing is None:
            return segment
        at = desk(tx, world, said)
        if owner is None:
            at.write(_stranger(at, proof, "use_stated", segment))
            return segment
        after = climb(standing.case.segment, segment)
        events = at.of_unit(proof.unit_id, "use_stated", segment=segment, signs=True)
        if after is not segment and events:
            events += at.of_unit(proof.unit_id, "answer_set_aside", of="use_stated", why="contradicts")
        at.write(events)
        return after


def _stranger(at: Desk, proof: Proof, of: str, words: str) -> list[NewEvent]:
    return at.of_unit(proof.unit_id, "answer_set_aside", words=words, of=of, why="stranger")


def choose_remedy(world: World, proof: Proof, said: Said, remedy: str, *, by: str = "") -> bool:
    """Record which remedy the owner wants, and who shall fit it; False where the revision offers no such one."""
    with world.register.change() as tx:
        owner, standing = proved(tx, proof)
        held = signed(tx)
        if standing is None or held is None or (remedy, by) not in offered(held.campaign, standing):
            return False
        at = desk(tx, world, said)
        if owner is None:
            at.write(_stranger(at, proof, "remedy_chosen", f"{remedy} {by}".strip()))
        else:
            at.write(at.of_unit(proof.unit_id, "remedy_chosen", remedy=remedy, by=by, signs=True))
        return True


def offered(campaign: Campaign, standing: Standing) -> list[tuple[str, str]]:
    """Return the remedies a unit can have, each with who fits it where the owner may: the mechanic first."""
    segment = treated_as(standing.case.segment)
    choices: list[tuple[str, str]] = []
    for key, remedy in (campaign.remedies or {}).items():
        own = remedy.for_segment(segment)
        if own is None:
            continue
        fitters = sorted(own.by, key=lambda each: each == "owner") if "owner" in own.by else [""]
        choices += [(key, fitter) for fitter in fitters]
    return choices


@dataclass(frozen=True, kw_only=True, slots=True)
class Reach:
    """Where a unit is and how to reach its owner, as typed."""

    place: str
    phone: str = ""
    email: str = ""


def give_contact(world: World, proof: Proof, said: Said, reach: Reach) -> tuple[ContactPoint, ...]:
    """Record where the unit is and how to reach the owner; return the contact points that cannot be used.

    Where one cannot, nothing is recorded, so that it can be mended in the form.
    """
    with world.register.change() as tx:
        owner, standing = proved(tx, proof)
        if standing is None:
            return ()
        points = points_of(tx, owner.country if owner else None, reach)
        faulty = tuple(point for point in points if point.fault)
        if faulty:
            return faulty
        at = desk(tx, world, said)
        if owner is None:
            words = "\n".join(filter(None, (reach.place, reach.phone, reach.email)))
            at.write(_stranger(at, proof, "contact_given", words))
        else:
            at.write(_reach_events(at, proof.unit_id, owner, points, reach.place))
        return ()


def points_of(tx: Transaction, country: str | None, reach: Reach) -> tuple[ContactPoint, ...]:
    """Return the typed ways to an owner, normalised; a number without country code is dialled from *country*."""
    held = signed(tx)
    where = country or (held.campaign.issuer.country if held else None)
    phone = (addresses.phone(reach.phone, where),) if reach.phone else ()
    return (*phone, addresses.email(reach.email)) if reach.email else phone


def _reach_events(
    at: Desk, unit_id: str, owner: OwnerRow, points: tuple[ContactPoint, ...], place: str
) -> list[NewEvent]:
    events = keep_points(at, owner.owner_id, points)
    for point in points:
        events += at.of_unit(unit_id, "contact_given", channel=point.channel, signs=True)
    if place:  # each unit has one place: where the mechanic or the van goes
        row = ContactRow(owner_id=owner.owner_id, channel="place", value_key=unit_id, value=place)
        at.tx.people.put_contacts([row])
        events += at.of_unit(unit_id, "contact_given", channel="place", signs=True)
    return events


def keep_points(at: Desk, owner_id: str, points: tuple[ContactPoint, ...]) -> list[NewEvent]:
    """Write contact points down as the owner's, and return their events."""
    events: list[NewEvent] = []
    for point in points:
        row = ContactRow(
            owner_id=owner_id, channel=point.channel, value_key=point.value_key, value=point.value
        )
        at.tx.people.put_contacts([row])
        events += at.of_owner(owner_id, "contact_added", channel=point.channel, value_key=point.value_key)
    return events
