"""Fill the outbox with what is owed and signed, and write the messages of postings."""

import json
from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from functools import lru_cache

from audiences import addresses, canonical
from notices.cases import ids
from notices.cases.outgoing import Parcel
from notices.cases.records import Posting, PostingUnit
from notices.compose.mail import message_bytes, values_for
from notices.compose.pictures import by_digest
from notices.compose.variants import VariantKey
from notices.work import gates
from notices.work.links import link_of
from notices.work.owing import Owing, behind_gates, owing
from notices.work.ports import Transaction, World
from notices.work.proving import catalogue, compose
from notices.work.revisions import Signed, in_language, signed


@dataclass(frozen=True, kw_only=True, slots=True)
class Prepared:
    """What was put into the outbox: messages made, owners without an address, messages whose variant is unsigned.

    *held* counts the owners of each market that waits.
    """

    made: int
    no_address: int
    unsigned: Mapping[str, int]
    held: tuple[gates.Held, ...] = ()


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
            if debt.address is None or debt.gate is not None:
                continue
            fingerprint = compiled(world, held, debt.key)
            if fingerprint not in by_signature:
                unsigned[debt.key.name] += 1
                continue
            made += tx.outbox.add(*_posting(tx, world, held, debt, fingerprint))
        missed = {debt.owner.owner_id for debt in debts if debt.address is None}
        return Prepared(made=made, no_address=len(missed), unsigned=unsigned, held=behind_gates(debts))


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
            unit_id=unit_id,
            owner_id=owner_id,
            occasion=debt.owed.occasion,
            channel=debt.key.channel,
            address_key=debt.address.value_key,
            posting_id=posting_id,
        )
        for unit_id, owner_id in debt.about
    ]
    return posting, units


def _domain(email: str | None) -> str:
    """Return the right side of Message-IDs: the domain the notices come from, as A-labels (RFC 5322, 3.6.4)."""
    return addresses.email(email or "").value.rpartition("@")[2] or "localhost"


def messages(tx: Transaction, postings: Sequence[Posting]) -> Callable[[Posting, datetime], Parcel]:
    """Return what writes the messages of *postings*.

    The same posting and moment give the same bytes, whatever was signed since.
    """
    rows = tx.variants.get([one.fingerprint for one in postings])
    pictures = _pictures(tx, [_about(row.content) for row in rows.values()])

    def write(posting: Posting, began_at: datetime) -> Parcel:
        content = rows[posting.fingerprint].content
        data = message_bytes(
            content,
            posting.fill,
            to=posting.address,
            date=began_at,
            message_id=posting.message_id,
            pictures=pictures,
        )
        return Parcel(
            message_id=posting.message_id,
            sender=_about(content).sender,
            recipient=posting.address,
            data=data,
        )

    return write


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


def _pictures(tx: Transaction, about: Sequence[_About]) -> dict[str, bytes]:
    """Return the pictures that these variants show, by their digest, from the newest revision that holds each."""
    wanted = frozenset().union(*(one.pictures for one in about))
    newest = signed(tx) if wanted else None
    found = by_digest(newest.revision.pictures) if newest else {}
    for revision in () if wanted <= found.keys() else reversed(tx.papers.revisions()):
        held = signed(tx, revision.number)
        if held is not None:
            found = {**by_digest(held.revision.pictures), **found}
        if wanted <= found.keys():
            break
    return found
