"""Photographs that owners send: kept by fingerprint in the campaign folder, for a person to look at.

A photograph alone clears nothing and moves no case: a person looks, and decides.
"""

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from notices.cases.events import NewEvent
from notices.cases.records import EvidenceRow
from notices.work.answers import Desk, Proof, Said, desk, visit_of
from notices.work.helping import unit_meant
from notices.work.ports import World

FOLDER = "evidence"
MEDIA_TYPE = "image/jpeg"
MOST_OF_A_UNIT = 20
WHY = "photo"


class Unfit(StrEnum):
    """Why a file that was sent is no photograph that we can keep."""

    TOO_LARGE = "too large"
    TOO_MANY = "too many"
    OTHER_KIND = "other kind"
    BROKEN = "broken"


@dataclass(frozen=True, kw_only=True, slots=True)
class Photo:
    """A photograph as this program has written it: a JPEG without any notes."""

    data: bytes

    @property
    def digest(self) -> str:
        """Return its fingerprint, SHA-256."""
        return hashlib.sha256(self.data).hexdigest()


@dataclass(frozen=True, kw_only=True, slots=True)
class Kept:
    """With which unit photographs were kept; *full* where that one has as many as a person can look through."""

    unit_id: str
    full: bool = False


def file_of(digest: str) -> str:
    """Return the name of a photograph's file in the campaign folder."""
    return f"{FOLDER}/{digest}.jpg"


def show_code(
    world: World, link: str, proof: Proof | None, said: Said, photos: Sequence[Photo]
) -> Kept | None:
    """Keep photographs of a code for a person to read; None for no such link.

    They stand with the unit whose signs were given, else with the first of the link's owner.
    """
    with world.register.change() as tx:
        visit = visit_of(tx, link)
        if visit is None or not visit.standings:
            return None
        unit_id = unit_meant(tx, visit, proof)
        at = desk(tx, world, said)
        shown = code_shown(at, unit_id, visit.owner.owner_id, photos)
        at.write(shown.events)
        return Kept(unit_id=unit_id, full=shown.full)


@dataclass(frozen=True, kw_only=True, slots=True)
class Showing:
    """What is to be recorded of photographs of a code; *full* where none of them could be kept."""

    events: list[NewEvent]
    full: bool


def code_shown(at: Desk, unit_id: str, owner_id: str | None, photos: Sequence[Photo]) -> Showing:
    """Keep photographs of a unit's code, and return what is to be recorded: a person must look."""
    kept = keep(at, unit_id, owner_id, photos)
    events: list[NewEvent] = []
    for digest in kept:
        events += at.of_unit(unit_id, "code_given", photo=digest, signs=False)
    if events:
        events += at.of_unit(unit_id, "answer_set_aside", of="code_given", why=WHY)
    return Showing(events=events, full=bool(photos) and not kept)


def keep(at: Desk, unit_id: str, owner_id: str | None, photos: Sequence[Photo]) -> tuple[str, ...]:
    """Keep photographs as evidence, in the caller's transaction; return the fingerprints of those there was room for.

    Each file is whole on the disk before its row is written: after a crash there may be a file without a row, and
    never a row without its file.
    """
    there = {row.digest for row in at.tx.evidence.of_units([unit_id])}
    rows: dict[str, EvidenceRow] = {}
    for photo in photos:
        if photo.digest not in there and len(there) >= MOST_OF_A_UNIT:
            continue
        there.add(photo.digest)
        if at.world.folder.read(file_of(photo.digest)) != photo.data:
            at.world.folder.write(file_of(photo.digest), photo.data)
        rows[photo.digest] = EvidenceRow(
            digest=photo.digest,
            media_type=MEDIA_TYPE,
            bytes=len(photo.data),
            unit_id=unit_id,
            owner_id=owner_id,
        )
    at.tx.evidence.put(rows.values())
    return tuple(rows)
