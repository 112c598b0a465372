"""HMAC-SHA-256 by the vectors of RFC 4231, and what links and sealed fields are made of by RFC 2104."""

import base64
import hashlib
from datetime import UTC, datetime
from pathlib import Path

import pytest

from notices.cases import ids
from notices.respond.seals import Seals
from notices.work.answers import Proof
from tests.owners_world import owners_world

BLOCK = 64  # bytes, of SHA-256 (FIPS 180-4)
KEY = bytes(range(32))
LARGER = (
    b"This is a test using a larger than block-size key and a larger than block-size data. "
    b"The key needs to be hashed before being used by the HMAC algorithm."
)
NOW = datetime(2026, 3, 4, 8, 0, tzinfo=UTC)


def hmac_sha256(key: bytes, text: bytes) -> bytes:
    """Reckon HMAC as RFC 2104, section 2, writes it: H(K XOR opad, H(K XOR ipad, text))."""
    if len(key) > BLOCK:
        key = hashlib.sha256(key).digest()
    padded = key.ljust(BLOCK, b"\0")
    inner, outer = (bytes(byte ^ pad for byte in padded) for pad in (0x36, 0x5C))
    return hashlib.sha256(outer + hashlib.sha256(inner + text).digest()).digest()


# RFC 4231, sections 4.2 to 4.5, 4.7 and 4.8: test cases 1 to 4, 6 and 7 (from memory; 5 is a shortened one).
@pytest.mark.parametrize(
    ("key", "text", "published"),
    [
        (
            b"\x0b" * 20,
            b"Hi There",
            "b0344c61d8db38535ca8afceaf0bf12b881dc200c9833da726e9376c2e32cff7",
        ),
        (
            b"Jefe",
            b"what do ya want for nothing?",
            "5bdcc146bf60754e6a042426089575c75a003f089d2739839dec58b964ec3843",
        ),
        (
            b"\xaa" * 20,
            b"\xdd" * 50,
            "773ea91e36800e46854db8ebd09181a72959098b3ef8c122d9635514ced565fe",
        ),
        (
            bytes(range(1, 26)),
            b"\xcd" * 50,
            "82558a389a443c0ea4cc819899f2083a85f0faa3e578f8077a2e3ff46729665b",
        ),
        (
            b"\xaa" * 131,
            b"Test Using Larger Than Block-Size Key - Hash Key First",
            "60e431591ee0b67f0d8a26aacbf5b77f8e0bc6213728c5140546040f0ee37f54",
        ),
        (
            b"\xaa" * 131,
            LARGER,
            "9b09ffa71b942fcb27635fbcd5b0e944bfdc63644f0713938a7f51535c3a35e2",
        ),
    ],
)
def test_the_reckoning_is_as_published(key: bytes, text: bytes, published: str) -> None:
    assert hmac_sha256(key, text).hex() == published


def test_a_personal_link_is_the_hmac_of_its_owner_and_found_by_the_hmac_of_its_signs(tmp_path: Path) -> None:
    with owners_world(tmp_path) as owners:
        link = owners.owner()
        owner_id = owners.owner_id(link)
        with owners.world.register.look() as tx:
            signs, digest = (
                bytes.fromhex(tx.safe.secrets(purpose)[0].secret) for purpose in ("link-signs", "link-digest")
            )
            (kept,) = [row for row in tx.people.contacts([owner_id])[owner_id] if row.channel == "link"]

    made = hmac_sha256(signs, f"{owner_id}/0".encode())
    assert link == ids.link_signs(int.from_bytes(made[:8], "big"))
    assert kept.value_key == hmac_sha256(digest, link.encode()).hex()
    assert kept.value == ""


def test_a_sealed_field_is_the_hmac_of_its_content_under_a_key_of_its_own() -> None:
    sealed = Seals(KEY).proof(Proof(unit_id="7KQ2M4X5", owner_id="O" * 26), NOW)
    content, _, seal = sealed.rpartition(".")
    own_key = hmac_sha256(KEY, b"signs")

    assert base64.urlsafe_b64decode(seal + "=") == hmac_sha256(own_key, content.encode())


def test_a_seal_for_one_purpose_opens_no_other() -> None:
    seals = Seals(KEY)
    sealed = seals.proof(Proof(unit_id="7KQ2M4X5", owner_id="O" * 26), NOW)

    assert seals.read_proof(sealed, NOW) == Proof(unit_id="7KQ2M4X5", owner_id="O" * 26)
    assert seals.read_claim(sealed, NOW) is None
    assert Seals(KEY[::-1]).read_proof(sealed, NOW) is None
