"""A case closes as fixed by its owner's statement alone, with the signs, and every answer good."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest

from notices.campaign.models import Campaign
from notices.cases.case import Stage
from notices.work import confirming
from notices.work.answering import Fit
from notices.work.answers import Said
from notices.work.confirming import Done, Statement
from notices.work.hearing import Word, hear
from notices.work.lots import withdraw_lot
from tests.owners_world import Owners, owners_world

FIRST = Said(nonce="0" * 26)
SECOND = Said(nonce="1" * 26)
WELL = Statement(by="mechanic", answers={"torque": "yes", "play": "yes"}, old_part="sent")


@pytest.fixture
def owners(tmp_path: Path) -> Iterator[Owners]:
    with owners_world(tmp_path) as found:
        yield found


def _confirm(owners: Owners, link: str, statement: Statement = WELL, typed: str = "0172") -> Done | None:
    found = confirming.confirm_fix(owners.world, link, FIRST, typed, statement)
    assert found is not None
    return found.done


def test_good_answers_with_the_signs_close_the_case_as_fixed(owners: Owners) -> None:
    link = owners.owner()
    unit_id = owners.unit(link)

    done = _confirm(owners, link)

    assert done is Done.CLOSED
    assert (owners.case(unit_id).stage, owners.case(unit_id).ending) == (Stage.CLOSED, "fixed")
    assert owners.kinds(unit_id)[-2:] == ["fix_confirmed", "case_closed"]
    statement = owners.words(owners.events(unit_id)[-1], "evidence")
    assert statement == '{"answers":{"play":"yes","torque":"yes"},"by":"mechanic","old_part":"sent"}'


@pytest.mark.parametrize(
    "statement",
    [
        replace(WELL, answers={"torque": "not_sure", "play": "yes"}),
        replace(WELL, answers={"torque": "yes", "play": "no"}),
        replace(WELL, answers={"torque": "yes"}),
        replace(WELL, by="nobody"),
    ],
)
def test_an_answer_that_is_not_good_closes_nothing_and_a_mechanic_comes(
    owners: Owners, statement: Statement
) -> None:
    link = owners.owner()
    unit_id = owners.unit(link)

    done = _confirm(owners, link, statement)

    assert done is Done.OPEN
    assert owners.case(unit_id).stage is Stage.DONE_UNCONFIRMED
    assert owners.case(unit_id).ending is None
    assert owners.events(unit_id)[-1].payload["what"] == "mechanic"
    assert owners.due(unit_id) == "call-back"


def test_parts_of_a_withdrawn_lot_close_nothing_however_good_the_answers(owners: Owners) -> None:
    link = owners.owner()
    unit_id = owners.unit(link)
    by = "Tom Byrne"
    hear(owners.world, unit_id, Word(what="parts", by=by, via="phone", lot="K3"))
    withdraw_lot(owners.world, "K3", why="Wrong thread.", by=by)

    done = _confirm(owners, link)

    assert done is Done.OPEN
    assert (owners.case(unit_id).stage, owners.case(unit_id).ending) == (Stage.DONE_UNCONFIRMED, None)
    assert owners.events(unit_id)[-1].payload["what"] == "mechanic"


def test_wrong_signs_confirm_nothing(owners: Owners) -> None:
    link = owners.owner()
    unit_id = owners.unit(link)

    found = confirming.confirm_fix(owners.world, link, FIRST, "0173", WELL)

    assert found is not None
    assert (found.fit, found.done) == (Fit.WRONG, None)
    assert owners.kinds(unit_id) == ["answer_set_aside"]


def test_before_a_remedy_is_promised_there_is_nothing_to_confirm(owners: Owners) -> None:
    link = owners.owner()
    unit_id = owners.unit(link)
    owners.sign(_without_remedies)

    assert _confirm(owners, link) is Done.NOTHING
    assert owners.case(unit_id).ending is None


def _without_remedies(campaign: Campaign) -> Campaign:
    return campaign.model_copy(update={"remedies": None})


def test_the_same_confirmation_sent_twice_closes_once(owners: Owners) -> None:
    link = owners.owner()
    unit_id = owners.unit(link)

    _confirm(owners, link)
    _confirm(owners, link)

    assert owners.kinds(unit_id).count("case_closed") == 1


@pytest.mark.parametrize(("days", "done"), [(14, Done.TAKEN_BACK), (15, Done.TOO_LATE)])
def test_a_confirmation_can_be_taken_back_for_fourteen_days(owners: Owners, days: int, done: Done) -> None:
    link = owners.owner()
    unit_id = owners.unit(link)
    _confirm(owners, link)
    owners.clock.forward(timedelta(days=days))

    found = confirming.take_back(owners.world, link, SECOND, "0172")

    assert found is not None
    assert found.done is done
    assert (owners.case(unit_id).ending is None) is (done is Done.TAKEN_BACK)


def test_after_it_was_taken_back_a_person_calls_and_it_can_be_confirmed_again(owners: Owners) -> None:
    link = owners.owner()
    unit_id = owners.unit(link)
    _confirm(owners, link)
    confirming.take_back(owners.world, link, SECOND, "0172")

    assert owners.due(unit_id) == "call-back"
    again = confirming.confirm_fix(owners.world, link, Said(nonce="2" * 26), "0172", WELL)
    assert again is not None
    assert owners.case(unit_id).ending == "fixed"


def test_play_found_after_the_close_opens_the_case(owners: Owners) -> None:
    link = owners.owner()
    unit_id = owners.unit(link)
    _confirm(owners, link)

    found = confirming.confirm_fix(
        owners.world, link, SECOND, "0172", replace(WELL, answers={"torque": "yes", "play": "no"})
    )

    assert found is not None
    assert found.done is Done.OPEN
    assert owners.case(unit_id).ending is None


def test_nobody_elses_link_confirms_or_takes_back(owners: Owners) -> None:
    assert confirming.confirm_fix(owners.world, "0000000000", FIRST, "0172", WELL) is None
    assert confirming.take_back(owners.world, "0000000000", FIRST, "0172") is None
