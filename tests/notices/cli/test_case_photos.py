"""A photograph in a unit's history: the file to open, below the campaign folder."""

from pathlib import Path

from notices.cli.histories import history
from notices.work import confirming, photos, seeking
from notices.work.answers import Said
from notices.work.confirming import Statement
from notices.work.photos import Photo
from notices.work.revisions import signed
from tests.owners_world import Owners, owners_world
from tests.photographs import picture, written

CODE = Photo(data=written(picture()))
PART = Photo(data=written(picture(64, 64)))
OTHER = Photo(data=written(picture(65, 65)))


def _confirmed(owners: Owners, link: str) -> None:
    with owners.world.register.look() as tx:
        held = signed(tx)
    assert held is not None
    answers = {each.key: each.good.removesuffix("_answer") for each in held.campaign.confirm.questions}
    statement = Statement(by="owner", answers=answers, old_part="here")
    said = Said(nonce="1" * 26)
    confirming.confirm_fix(owners.world, link, said, "0172", statement, photos=[PART, OTHER])


def test_a_history_names_the_files_that_a_person_must_look_at(tmp_path: Path) -> None:
    with owners_world(tmp_path) as owners:
        link = owners.owner()
        unit_id = owners.unit(link)
        photos.show_code(owners.world, link, None, Said(nonce="0" * 26), [CODE])
        _confirmed(owners, link)
        (found,) = seeking.seek(owners.world, unit_id)
        told = history(found)
        lines = [line for line in told.splitlines() if "evidence/" in line]

    code, part, other = (f"evidence/{each.digest}.jpg" for each in (CODE, PART, OTHER))
    assert len(lines) == 2
    assert f"code given by owner, page: photo {code}" in lines[0]
    assert f"photo {part}, {other}" in lines[1]
