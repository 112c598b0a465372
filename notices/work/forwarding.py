"""Addresses that a shop or a lessor forwards to people whose names we may not have, one unguessable address each.

Nothing is known of such a person until they answer: the address stands for no unit. Who answers by it names unit and
self, and then it is their personal link.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from notices.campaign.models import Campaign
from notices.cases import ids
from notices.cases.events import NewEvent, owner_stream
from notices.cases.records import OwnerRow, TextRow, UnitRow
from notices.wording import placeholders
from notices.work.heirs import FORWARDED_BY
from notices.work.links import link_of, owner_of, prepare_secrets
from notices.work.ports import Transaction, World
from notices.work.recording import record
from notices.work.revisions import Signed, signed, speaks_to
from notices.work.seeking import owners_reached_at
from notices.work.shops import shops
from notices.work.units import AWAITED, LESSOR, SHOP, holding
from notices.work.viewing import View
from notices.work.words import HearingError

MOST = 10_000
"""Addresses in one pack."""

_LINK = 10  # signs


@dataclass(frozen=True, kw_only=True, slots=True)
class Address:
    """One address to forward, and words to send it with in the sender's language.

    *code* and *reference* are of the unit that it is for, where a lessor lets one; the reference stands in its message
    beside the code, whose last signs no message shows.
    """

    number: int
    address: str
    code: str
    reference: str
    text: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Pack:
    """The addresses made for one shop or lessor."""

    to: str
    addresses: tuple[Address, ...]


def forwarder(tx: Transaction, world: World, which: str) -> OwnerRow:
    """Return the shop of this name, or who is reached at this address, number or link; HearingError where none is."""
    found = shops(tx, world).find(which)
    if found is not None:
        return found
    signs = ids.read_link(which.rsplit("/", 1)[-1])
    by_link = owner_of(tx, signs) if len(signs) == _LINK else None
    owner_ids = [by_link] if by_link else owners_reached_at(tx, which)
    trading = [
        one for one in tx.people.owners(owner_ids).values() if one.kind == SHOP or lets(tx, one.owner_id)
    ]
    if len(trading) != 1:
        raise HearingError(f"no shop is called {which}, and no lessor is reached there")
    return trading[0]


def lets(tx: Transaction, owner_id: str) -> list[UnitRow]:
    """Return the units that this owner lets and nobody is known to keep, ordered by unit_id."""
    mine = [one.unit_id for one in holding(tx.units.holdings(owner_ids=[owner_id])) if one.role == LESSOR]
    cases = tx.cases.get(mine)
    units = tx.units.units(sorted(unit_id for unit_id in mine if cases[unit_id].case.keeper_id is None))
    return [units[unit_id] for unit_id in sorted(units)]


def make_pack(world: World, which: str, *, count: int | None, by: str) -> Pack:
    """Make *count* addresses for a shop to forward; for a lessor one for each unit whose rider is not known.

    Raises HearingError where nothing is signed, the campaign has no page for answers, or nobody is called so.
    """
    with world.register.change() as tx:
        held = signed(tx)
        if held is None or held.campaign.issuer.answers is None:
            raise HearingError("an address to forward needs a signed revision with issuer.answers in it")
        prepare_secrets(tx, world)
        owner = forwarder(tx, world, which)
        wanted = _wanted(lets(tx, owner.owner_id), count)
        made = tuple(_made(tx, world, held, owner, n, unit) for n, unit in enumerate(wanted, start=1))
        event = _of(world, owner.owner_id, "pack_made", by, units=len(made))
        record(tx, [event], now=event.at)
    return Pack(to=owner.name, addresses=made)


def _wanted(units: Sequence[UnitRow], count: int | None) -> list[UnitRow | None]:
    if units and count is None:
        return list(units)
    if count is None or not 1 <= count <= MOST:
        raise HearingError(f"say how many addresses, from 1 to {MOST}: --count N")
    return [*units, *[None] * count][:count]


def _made(
    tx: Transaction, world: World, held: Signed, of: OwnerRow, number: int, unit: UnitRow | None
) -> Address:
    awaited = OwnerRow(
        owner_id=ids.long_id(world.draw),
        kind=AWAITED,
        name="",
        language=of.language,
        basis="forwarded",
        country=of.country,
    )
    tx.people.put_owners([awaited])
    source = f"{FORWARDED_BY}{of.owner_id}"
    event = _of(world, awaited.owner_id, "owner_listed", "program", source=source, row=number)
    record(tx, [event], now=event.at)
    base = (held.campaign.issuer.answers or "").rstrip("/")
    address = f"{base}/{link_of(tx, awaited.owner_id)}"
    text = f"{_words(held.localised(speaks_to(held.revision, of)))} {address}"
    return Address(
        number=number,
        address=address,
        code=(unit.code or "") if unit else "",
        reference=unit.unit_id if unit else "",
        text=text,
    )


def _words(campaign: Campaign) -> str:
    """Return the hazard and what to do this minute in the lead's words, without what stands for a value."""
    said = " ".join(filter(None, (campaign.now.headline, campaign.hazard.what)))
    return "".join(piece for piece in placeholders.split(said) if isinstance(piece, str))


def forwarded(world: World, which: str, *, count: str, by: str, via: str) -> str:
    """Write down how many addresses a shop or lessor says it forwarded, and return its name.

    It is their word, signed by *by*: no unit counts as notified by it. HearingError where *count* is no number.
    """
    if not (count.isascii() and count.isdecimal()):
        raise HearingError("forwarded needs how many, as a number")
    with world.register.change() as tx:
        owner = forwarder(tx, world, which)
        event = replace(_of(world, owner.owner_id, "forwarded", by, units=int(count)), via=via)
        record(tx, [event], now=event.at)
    return owner.name


def as_view(pack: Pack) -> View:
    """Return a pack as a table to be written into a file."""
    return View(
        name="addresses",
        headings=("number", "address", "code", "reference", "text"),
        rows=tuple((one.number, one.address, one.code, one.reference, one.text) for one in pack.addresses),
    )


def keep_words(tx: Transaction, world: World, owner_id: str, words: str) -> str:
    """Keep free words of a shop or lessor where they can be erased, and return their id."""
    text_id = ids.long_id(world.draw)
    tx.papers.put_text(TextRow(text_id=text_id, owner_id=owner_id, body=words))
    return text_id


def _of(world: World, owner_id: str, kind: str, by: str, **payload: object) -> NewEvent:
    return NewEvent(
        stream=owner_stream(owner_id), kind=kind, at=world.now(), actor=by, via="command", payload=payload
    )
