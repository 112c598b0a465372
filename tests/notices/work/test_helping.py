"""The ways out reach a person at once; only what changes a case asks for the signs."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from notices.cases.case import Stopped
from notices.work import answering, helping
from notices.work.answers import Said
from tests.owners_world import Owners, owners_world

FIRST = Said(nonce="0" * 26)


@pytest.fixture
def owners(tmp_path: Path) -> Iterator[Owners]:
    with owners_world(tmp_path) as found:
        yield found


@pytest.mark.parametrize("what", sorted(helping.ASKS))
def test_help_is_asked_without_any_signs_and_a_call_is_due(owners: Owners, what: str) -> None:
    link = owners.owner()
    unit_id = owners.unit(link)

    found = helping.ask_help(owners.world, link, None, FIRST, what=what, words="phone: 020 7946 0123")

    assert found == unit_id
    assert owners.due(unit_id) == ("call-now" if what == helping.HURT else "call-back")
    assert owners.events(unit_id)[-1].payload["what"] == what
    assert owners.case(unit_id).stopped is Stopped.NO_WORD


def test_with_the_signs_help_stands_with_the_unit_that_was_meant(owners: Owners) -> None:
    link = owners.owner()
    units = sorted([owners.unit(link), owners.unit(link, "QM-2540-B0200")])
    typed = (owners.all_units()[units[1]].code or "")[-4:]
    given = answering.give_signs(owners.world, link, FIRST, typed, pressed=True)
    assert given is not None

    found = helping.ask_help(owners.world, link, given.proof, FIRST, what="hurt", words="0123456")

    assert found == units[1]


def test_no_link_no_help_by_link(owners: Owners) -> None:
    assert helping.ask_help(owners.world, "0000000000", None, FIRST, what="call", words="1") is None
    assert not helping.pass_on(owners.world, "0000000000", FIRST, typed="0172", who="a friend")


def test_who_gives_the_signs_holds_the_unit_no_longer(owners: Owners) -> None:
    link = owners.owner()
    unit_id = owners.unit(link)

    helping.pass_on(owners.world, link, FIRST, typed="0172", who="Carla Stone, 020 7946 0177")

    assert owners.case(unit_id).keeper_id is None
    visit = answering.read_link(owners.world, link)
    assert visit is not None
    assert visit.standings == ()
    aside = owners.events(unit_id)[-1]
    assert (aside.payload["of"], aside.payload["why"]) == ("passed_on", "new holder")
    assert owners.words(aside) == "Carla Stone, 020 7946 0177"


@pytest.mark.parametrize(("typed", "why"), [("", "no signs"), ("9999", "wrong signs")])
def test_without_the_signs_the_holder_stays_and_a_person_looks(owners: Owners, typed: str, why: str) -> None:
    link = owners.owner()
    unit_id = owners.unit(link)
    keeper = owners.case(unit_id).keeper_id

    helping.pass_on(owners.world, link, FIRST, typed=typed, who="a friend")

    assert owners.case(unit_id).keeper_id == keeper
    aside = owners.events(unit_id)[-1]
    assert (aside.payload["of"], aside.payload["why"]) == ("passed_on", why)
