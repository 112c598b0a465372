"""Fill the outbox with what is owed and signed, look at each posting again at its try, and write its message."""

import json
from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime
from functools import lru_cache

from audiences import addresses, canonical
from audiences.verdicts import SAFE
from notices.cases import ids
from notices.cases.case import Case
from notices.cases.follow_ups import going_by_itself
from notices.cases.outgoing import Parcel
from notices.cases.owed import CORRECTIONS, Earlier, owed, reminded_step
from notices.cases.records import Posting, PostingUnit, Told, VariantRow
from notices.compose.mail import message_bytes, values_for
from notices.compose.pictures import by_digest
from notices.compose.variants import VariantKey
from notices.work.links import link_of
from notices.work.owing import Owing, owing
from notices.work.ports import Transaction, World
from notices.work.proving import catalogue, compose, key_of
from notices.work.revisions import Signed, in_language, said_before, signed
from notices.work.signing import note_gone_out
from notices.work.units import held_by, usable


@dataclass(frozen=True, kw_only=True, slots=True)
class Prepared:
    """What was put into the outbox: messages made, owners without an address, messages whose variant is unsigned."""

    made: int
    no_address: int
    unsigned: Mapping[str, int]


def prepare(world: World, *, channel: str = "email") -> Prepared:
    """Put every message that is owed, signed and addressed into the outbox, once."""
    with world.register.change() as tx:
        held = signed(tx)
        if held is None:
            return Prepared(made=0, no_address=0, unsigned={})
        debts = owing(tx, held.revision, today=world.now().date(), channel=channel)
        by_signature = {one.fingerprint for one in tx.variants.signatures()}
        unsigned: Counter[str] = Counter()
        made = 0
        for debt in debts:
            if debt.address is None:
                continue
            fingerprint = compiled(world, held, debt.key)
            if fingerprint not in by_signature:
                unsigned[debt.key.name] += 1
                continue
            made += tx.outbox.add(*_posting(tx, world, held, debt, fingerprint))
        missed = {debt.owner.owner_id for debt in debts if debt.address is None}
        return Prepared(made=made, no_address=len(missed), unsigned=unsigned)


@dataclass(frozen=True, slots=True)
class _By:
    """Carries what composing needs past a cache that is keyed by revision and variant."""

    world: World = field(hash=False, compare=False)
    held: Signed = field(hash=False, compare=False)


@lru_cache(maxsize=512)
def _compiled(_digest: str, key: VariantKey, by: _By) -> str:
    return compose(by.world, by.held.revision, key).fingerprint


def compiled(world: World, held: Signed, key: VariantKey) -> str:
    """Return the fingerprint of the signed revision's variant as composed now; once a revision and variant."""
    return _compiled(held.digest, key, _By(world, held))


def _posting(
    tx: Transaction, world: World, held: Signed, debt: Owing, fingerprint: str
) -> tuple[Posting, list[PostingUnit]]:
    assert debt.address is not None  # noqa: S101 - the caller has looked
    campaign = in_language(held.revision, debt.key.language)
    posting_id = ids.long_id(world.draw)
    values = values_for(
        campaign,
        catalogue(world, debt.key.language),
        owner=debt.owner,
        units=debt.units,
        link=link_of(tx, debt.owner.owner_id) if campaign.issuer.answers else None,
    )
    posting = Posting(
        posting_id=posting_id,
        owner_id=debt.owner.owner_id,
        channel=debt.key.channel,
        address=debt.address.value,
        fingerprint=fingerprint,
        fill=canonical.dump(values),
        message_id=f"<{posting_id.lower()}@{_domain(campaign.issuer.email)}>",
        rank=debt.owed.rank,
    )
    units = [
        PostingUnit(
            unit_id=unit.unit_id,
            owner_id=debt.owner.owner_id,
            occasion=debt.owed.occasion,
            channel=debt.key.channel,
            address_key=debt.address.value_key,
            posting_id=posting_id,
        )
        for unit in debt.units
    ]
    return posting, units


def _domain(email: str | None) -> str:
    """Return the right side of Message-IDs: the domain the notices come from, as A-labels (RFC 5322, 3.6.4)."""
    return addresses.email(email or "").value.rpartition("@")[2] or "localhost"


def look_again(world: World, tx: Transaction, posting: Posting) -> str | None:
    """Return why a posting must not go any more, None where it still may; then its revision has gone out."""
    held = signed(tx)
    if held is None:
        return "no revision is signed"
    row = tx.variants.get([posting.fingerprint]).get(posting.fingerprint)
    signatures = {one.fingerprint for one in tx.variants.signatures()}
    if row is None or posting.fingerprint not in signatures:
        return "its signature was taken back"
    if compiled(world, held, key_of(row)) != posting.fingerprint:
        return "what was signed is no longer what would be composed"
    reason = _no_longer_asked(tx, held, posting, row, world.now().date())
    if reason is None:
        note_gone_out(tx, held.number)
    return reason


def _no_longer_asked(
    tx: Transaction, held: Signed, posting: Posting, row: VariantRow, today: date
) -> str | None:
    units = tx.record.units_of([posting.posting_id]).get(posting.posting_id, [])
    holds = {unit.unit_id for unit in held_by(tx, posting.owner_id)}
    if not units or any(unit.unit_id not in holds for unit in units):
        return "its owner no longer has the unit"
    contacts = tx.people.contacts([posting.owner_id]).get(posting.owner_id, [])
    live = {contact.value for contact in contacts if contact.channel == posting.channel and not contact.fault}
    if posting.address not in live:
        return "its address can no longer be used"
    cases = tx.cases.get([unit.unit_id for unit in units])
    told = tx.record.told([unit.unit_id for unit in units])
    channels = usable(contacts)
    earlier = said_before(tx) if row.kind in CORRECTIONS else []
    for unit in units:
        others = [
            one
            for one in told
            if (one.unit_id, one.owner_id) == (unit.unit_id, unit.owner_id)
            and one.posting_id != posting.posting_id
        ]
        if not _asks(cases[unit.unit_id].case, held, unit, row, others, earlier, channels, today):
            return "what is known of the unit asks for something else now"
    return None


def _asks(
    case: Case,
    held: Signed,
    unit: PostingUnit,
    row: VariantRow,
    others: list[Told],
    earlier: list[Earlier],
    channels: frozenset[str],
    today: date,
) -> bool:
    """Say whether the unit's case, looked at without this posting, still asks for it."""
    reminded = reminded_step(unit.occasion)
    if reminded is not None:
        due = going_by_itself(case, held.campaign, channels)
        return due is not None and due.step == reminded and due.on <= today and case.verdict == row.verdict
    what = owed(case, held.campaign, others, earlier)
    return (
        what is not None
        and what.occasion == unit.occasion
        and what.verdict == row.verdict
        and (what.segment == row.segment or row.verdict in SAFE)
    )


def message_of(tx: Transaction, posting: Posting, began_at: datetime) -> Parcel:
    """Write the message of a posting; the same posting and moment give the same bytes, whatever was signed since."""
    row = tx.variants.get([posting.fingerprint])[posting.fingerprint]
    about = _about(row.content)
    data = message_bytes(
        row.content,
        posting.fill,
        to=posting.address,
        date=began_at,
        message_id=posting.message_id,
        pictures=_pictures(tx, about),
    )
    return Parcel(message_id=posting.message_id, sender=about.sender, recipient=posting.address, data=data)


@dataclass(frozen=True, slots=True)
class _About:
    """What the envelope and the parts of a variant's messages need to know."""

    sender: str
    pictures: frozenset[str]


@lru_cache(maxsize=256)
def _about(content: str) -> _About:
    read = json.loads(content)
    digests = frozenset(str(picture["digest"]) for picture in read["pictures"])
    return _About(str(read["from"]["address"]), digests)


def _pictures(tx: Transaction, about: _About) -> dict[str, bytes]:
    """Return the pictures that a variant shows, by their digest, from the newest revision that holds each."""
    newest = signed(tx) if about.pictures else None
    found = by_digest(newest.revision.pictures) if newest else {}
    for revision in () if about.pictures <= found.keys() else reversed(tx.papers.revisions()):
        held = signed(tx, revision.number)
        if held is not None:
            found = {**by_digest(held.revision.pictures), **found}
        if about.pictures <= found.keys():
            break
    return found
