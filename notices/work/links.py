"""Personal links: ten signs an owner, the same in every message, kept in the register as a keyed digest only."""

import hashlib
import hmac
from datetime import datetime

from notices.cases import ids
from notices.cases.records import ContactRow, Secret
from notices.work.ports import Transaction, World

CHANNEL = "link"
_SIGNS = "link-signs"
_DIGEST = "link-digest"


def prepare_secrets(tx: Transaction, world: World) -> None:
    """Draw the register's keys for links and for the field that proves the signs, once."""
    for purpose in (_SIGNS, _DIGEST, "proof"):
        if not tx.safe.secrets(purpose):
            tx.safe.put_secret(_new(purpose, world))


def _new(purpose: str, world: World) -> Secret:
    made_at: datetime = world.now()
    key = "".join(f"{world.draw(256):02x}" for _ in range(32))
    return Secret(secret_id=ids.long_id(world.draw), purpose=purpose, secret=key, made_at=made_at)


def link_of(tx: Transaction, owner_id: str) -> str:
    """Return the owner's ten signs, and see to it that they can be looked up; a retired link has a successor."""
    mine = tx.people.contacts([owner_id]).get(owner_id, [])
    kept = {row.value_key: row for row in mine if row.channel == CHANNEL}
    turn = 0
    while True:
        signs = _signs(tx, owner_id, turn)
        digest = _digest(tx, signs)
        row = kept.get(digest)
        if row is None:
            tx.people.put_contacts(
                [ContactRow(owner_id=owner_id, channel=CHANNEL, value_key=digest, value="")]
            )
            return signs
        if row.fault is None:
            return signs
        turn += 1


def owner_of(tx: Transaction, signs: str) -> str | None:
    """Return whose link these signs are; None for unknown and retired ones alike."""
    found = tx.people.find(CHANNEL, _digest(tx, ids.read_link(signs)))
    return next((row.owner_id for row in found if row.fault is None), None)


def _signs(tx: Transaction, owner_id: str, turn: int) -> str:
    made = _keyed(tx, _SIGNS, f"{owner_id}/{turn}")
    return ids.link_signs(int.from_bytes(made[:8], "big"))


def _digest(tx: Transaction, signs: str) -> str:
    return _keyed(tx, _DIGEST, signs).hex()


def _keyed(tx: Transaction, purpose: str, text: str) -> bytes:
    """HMAC-SHA256 (RFC 2104) of *text* under the oldest key of *purpose*: links never change."""
    key = bytes.fromhex(tx.safe.secrets(purpose)[0].secret)
    return hmac.new(key, text.encode(), hashlib.sha256).digest()
