"""Photographs of owners: the file before the row, each once, a person looks, and nothing is cleared by them."""

import hashlib
import stat
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from notices.assembly import DiskFolder
from notices.cases.records import EvidenceRow
from notices.work import claiming, confirming, photos
from notices.work.answers import Proof, Said, desk
from notices.work.claiming import Claimant
from notices.work.confirming import Done, Statement
from notices.work.photos import Photo
from notices.work.revisions import signed
from notices.work.telling import Reach
from tests.owners_world import AFFECTED, Owners, owners_world
from tests.photographs import picture, written

ONE = Photo(data=written(picture()))
OTHER = Photo(data=written(picture(100, 100)))


@pytest.fixture
def owners(tmp_path: Path) -> Iterator[Owners]:
    with owners_world(tmp_path) as found:
        yield found


def said(place: int = 0) -> Said:
    return Said(nonce=f"{place:026}")


def rows(owners: Owners) -> list[EvidenceRow]:
    with owners.world.register.look() as tx:
        return tx.evidence.of_units()


def test_a_photo_is_kept_by_its_fingerprint_and_a_person_must_look(owners: Owners) -> None:
    link = owners.owner()
    unit_id = owners.unit(link, None)

    kept = photos.show_code(owners.world, link, None, said(), [ONE])

    digest = hashlib.sha256(ONE.data).hexdigest()
    assert kept == photos.Kept(unit_id=unit_id)
    assert owners.world.folder.read(f"evidence/{digest}.jpg") == ONE.data
    assert rows(owners) == [
        EvidenceRow(
            digest=digest,
            media_type="image/jpeg",
            bytes=len(ONE.data),
            unit_id=unit_id,
            owner_id=owners.owner_id(link),
        )
    ]
    given, aside = owners.events(unit_id)[2:]
    assert (given.kind, dict(given.payload)) == ("code_given", {"photo": digest, "signs": False})
    assert (aside.kind, dict(aside.payload)) == ("answer_set_aside", {"of": "code_given", "why": "photo"})
    assert owners.due(unit_id) == "look"


def test_a_photo_alone_clears_nothing_and_moves_no_case(owners: Owners) -> None:
    link = owners.owner()
    unit_id = owners.unit(link, None)
    before = owners.case(unit_id)

    photos.show_code(owners.world, link, None, said(), [ONE, OTHER])

    after = owners.case(unit_id)
    assert replace(after, version=before.version, aside_on=None) == before


def test_a_form_sent_twice_counts_once_and_a_photo_sent_again_lies_there_once(owners: Owners) -> None:
    link = owners.owner()
    unit_id = owners.unit(link)
    for nonce in (0, 0, 1):
        photos.show_code(owners.world, link, None, said(nonce), [ONE])

    assert len(rows(owners)) == 1
    assert len(owners.world.folder.names("evidence")) == 1
    assert owners.kinds(unit_id) == ["code_given", "answer_set_aside"] * 2


def test_photos_stand_with_the_unit_whose_signs_were_given(owners: Owners) -> None:
    link = owners.owner()
    owners.unit(link)
    second = owners.unit(link, "QM-2540-B0200")
    proof = Proof(unit_id=second, owner_id=owners.owner_id(link))

    kept = photos.show_code(owners.world, link, proof, said(), [ONE])

    assert kept is not None
    assert kept.unit_id == second


def test_a_unit_has_as_many_photos_as_a_person_can_look_through(owners: Owners) -> None:
    link = owners.owner()
    owners.unit(link)
    for place in range(photos.MOST_OF_A_UNIT):
        photos.show_code(owners.world, link, None, said(place), [Photo(data=b"%d" % place)])

    more = photos.show_code(owners.world, link, None, said(99), [ONE])

    assert more is not None
    assert more.full
    assert len(rows(owners)) == photos.MOST_OF_A_UNIT
    again = photos.show_code(owners.world, link, None, said(100), [Photo(data=b"0")])
    assert again is not None
    assert not again.full


def test_a_link_of_nobodys_keeps_nothing(owners: Owners) -> None:
    link = owners.owner()
    owners.unit(link)
    owners.retire(link)

    assert photos.show_code(owners.world, link, None, said(), [ONE]) is None
    assert owners.world.folder.names("evidence") == []


def test_nobody_else_on_this_machine_reads_a_photo(owners: Owners) -> None:
    link = owners.owner()
    owners.unit(link)
    photos.show_code(owners.world, link, None, said(), [ONE])

    assert isinstance(owners.world.folder, DiskFolder)
    file = owners.world.folder.root / photos.file_of(ONE.digest)
    assert stat.S_IMODE(file.stat().st_mode) == 0o600


class _FullDisk:
    """A folder on a disk with no room for another file."""

    def read(self, name: str) -> bytes | None:
        del name
        return None

    def write(self, name: str, data: bytes) -> None:
        raise OSError(28, "No space left on device", name, len(data))

    def names(self, below: str) -> list[str]:
        del below
        return []


def test_where_the_file_cannot_be_written_there_is_no_row_and_no_event(owners: Owners) -> None:
    link = owners.owner()
    unit_id = owners.unit(link)
    world = replace(owners.world, folder=_FullDisk())

    with pytest.raises(OSError, match="No space left"):
        photos.show_code(world, link, None, said(), [ONE])

    assert rows(owners) == []
    assert owners.kinds(unit_id) == []


def test_where_the_register_fails_after_the_file_there_is_a_file_without_a_row(owners: Owners) -> None:
    link = owners.owner()
    unit_id = owners.unit(link)

    owner_id = owners.owner_id(link)

    def fail() -> None:
        with owners.world.register.change() as tx:
            at = desk(tx, owners.world, said())
            at.write(photos.code_shown(at, unit_id, owner_id, [ONE]).events)
            raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        fail()

    assert rows(owners) == []
    assert owners.kinds(unit_id) == []
    assert owners.world.folder.names("evidence") == [photos.file_of(ONE.digest)]
    photos.show_code(owners.world, link, None, said(), [ONE])
    assert [row.digest for row in rows(owners)] == [ONE.digest]


def test_a_file_that_was_spoilt_is_written_anew(owners: Owners) -> None:
    link = owners.owner()
    owners.unit(link)
    owners.world.folder.write(photos.file_of(ONE.digest), b"half of")

    photos.show_code(owners.world, link, None, said(), [ONE])

    assert owners.world.folder.read(photos.file_of(ONE.digest)) == ONE.data


def test_no_word_of_the_owner_stands_in_the_events(owners: Owners) -> None:
    link = owners.owner("Annabel Bergmeister")
    unit_id = owners.unit(link)

    photos.show_code(owners.world, link, None, said(), [ONE])

    assert "Bergmeister" not in str(owners.events(unit_id))


def _claimed(owners: Owners, code: str | None, nonce: int = 0, unit_id: str = "") -> claiming.Taken:
    claim = claiming.new_claim(owners.world, code)
    if unit_id:
        claim = replace(claim, unit_id=unit_id)
    reach = Reach(place="", phone="020 7946 0177")
    who = Claimant(name="Carla Stone", reach=reach, country="GB", language="en")
    return claiming.take_claim(owners.world, said(nonce), claim, who, ask="no_code", photos=[ONE])


def test_who_has_no_link_gets_a_case_and_the_photo_stands_with_it(owners: Owners) -> None:
    taken = _claimed(owners, None)

    assert taken.proof is not None
    unit_id = taken.proof.unit_id
    assert [row.unit_id for row in rows(owners)] == [unit_id]
    assert {"help_asked", "code_given", "answer_set_aside"} <= set(owners.kinds(unit_id))
    assert owners.case(unit_id).verdict == "missing"


def test_a_photo_sent_later_for_the_same_claim_is_not_lost(owners: Owners) -> None:
    first = _claimed(owners, None)
    assert first.proof is not None
    unit_id = first.proof.unit_id

    _claimed(owners, None, nonce=1, unit_id=unit_id)

    assert owners.kinds(unit_id).count("code_given") == 2
    assert len(owners.all_units()) == 1


def test_a_strangers_photo_of_anothers_code_is_set_aside_and_changes_nothing(owners: Owners) -> None:
    link = owners.owner()
    unit_id = owners.unit(link)
    before = owners.case(unit_id)

    _claimed(owners, AFFECTED)

    assert rows(owners)[0].owner_id is None
    after = owners.case(unit_id)
    assert replace(after, version=before.version, aside_on=None) == before


def test_a_photo_of_the_fitted_part_is_named_in_the_confirmation(owners: Owners) -> None:
    link = owners.owner()
    unit_id = owners.unit(link)
    good = confirming.confirm_fix(owners.world, link, said(), "0172", _good(owners), photos=[ONE, OTHER])

    assert good is not None
    assert good.done is Done.CLOSED
    confirmed = next(each for each in owners.events(unit_id) if each.kind == "fix_confirmed")
    assert confirmed.payload["photos"] == [ONE.digest, OTHER.digest]
    assert ONE.digest in owners.words(confirmed, "evidence")
    assert {row.digest for row in rows(owners)} == {ONE.digest, OTHER.digest}


def test_a_photo_beside_a_doubtful_answer_closes_nothing(owners: Owners) -> None:
    link = owners.owner()
    unit_id = owners.unit(link)
    doubtful = replace(_good(owners), answers=dict.fromkeys(_good(owners).answers, "not_sure"))

    found = confirming.confirm_fix(owners.world, link, said(), "0172", doubtful, photos=[ONE])

    assert found is not None
    assert found.done is Done.OPEN
    assert owners.case(unit_id).ending is None
    reported = next(each for each in owners.events(unit_id) if each.kind == "work_reported_done")
    assert reported.payload["photos"] == [ONE.digest]


def test_with_wrong_signs_no_photo_is_kept(owners: Owners) -> None:
    link = owners.owner()
    owners.unit(link)

    confirming.confirm_fix(owners.world, link, said(), "0555", _good(owners), photos=[ONE])

    assert rows(owners) == []
    assert owners.world.folder.names("evidence") == []


def _good(owners: Owners) -> Statement:
    with owners.world.register.look() as tx:
        held = signed(tx)
    assert held is not None
    answers = {each.key: each.good.removesuffix("_answer") for each in held.campaign.confirm.questions}
    return Statement(by="mechanic", answers=answers, old_part="sent")
