"""Units that come without a link: judged, shown, listed with name and contact, and never moved by themselves."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from audiences.segments import Segment
from audiences.verdicts import Verdict
from notices.cases.case import Stopped
from notices.cases.events import NewEvent, unit_stream
from notices.work import answering, claiming, telling
from notices.work.answers import Said
from notices.work.claiming import Checked, Claimant
from notices.work.recording import record
from notices.work.telling import Reach
from tests.owners_world import AFFECTED, Owners, owners_world

FIRST = Said(nonce="0" * 26)
BUYER = Claimant(
    name="Carla Stone", reach=Reach(place="", phone="020 7946 0177"), country="GB", language="en"
)


@pytest.fixture
def owners(tmp_path: Path) -> Iterator[Owners]:
    with owners_world(tmp_path) as found:
        yield found


def _checked(owners: Owners, code: str, link: str | None = None) -> Checked:
    return claiming.check_code(owners.world, link, FIRST, code)


@pytest.mark.parametrize(
    ("code", "verdict", "near"),
    [
        ("QM-2534-B0999", Verdict.AFFECTED, False),
        ("QM-2534-D0172", Verdict.CLEARED, True),  # B read as D
        ("QM-2534-A0172", Verdict.CLEARED, False),
        ("XX-2534-A0172", Verdict.FOREIGN, False),
        ("four flat tyres", Verdict.UNREADABLE, False),
    ],
)
def test_a_whole_code_is_judged_by_the_signed_revision(
    owners: Owners,
    code: str,
    verdict: Verdict,
    near: bool,  # noqa: FBT001 - a parameter of the table
) -> None:
    found = _checked(owners, code)

    assert (found.verdict, found.near) == (verdict, near)


def test_looking_a_code_up_without_a_link_records_nothing(owners: Owners) -> None:
    unit_id = owners.unit(owners.owner())

    _checked(owners, AFFECTED)

    assert owners.kinds(unit_id) == []
    assert set(owners.all_units()) == {unit_id}


def test_a_code_whose_case_is_affected_is_never_shown_as_cleared(owners: Owners) -> None:
    unit_id = owners.unit(owners.owner(), "QM-2541-A0007")
    judged = _checked(owners, "QM-2541-A0007").verdict
    found_cracked = {"verdict": "affected", "why": "", "near": False, "rule": "inspected", "revision": 1}
    with owners.world.register.change() as tx:
        event = NewEvent(
            stream=unit_stream(unit_id),
            kind="verdict_given",
            at=owners.clock(),
            actor="Mara Quill",
            via="command",
            payload=found_cracked,
        )
        record(tx, [event], now=owners.clock())

    assert judged is Verdict.CLEARED
    assert _checked(owners, "QM-2541-A0007").verdict is Verdict.AFFECTED


def test_an_unknown_code_becomes_a_unit_of_its_own_with_name_and_contact(owners: Owners) -> None:
    found = _checked(owners, "QM-2534-B0999")

    taken = claiming.take_claim(owners.world, FIRST, found.claim, BUYER, stopped=True)

    assert taken.proof is not None
    case = owners.case(found.claim.unit_id)
    assert (case.verdict, case.stopped) == ("affected", Stopped.STOPPED)
    assert case.keeper_id == taken.proof.owner_id
    link = claiming.link_for(owners.world, taken.proof)
    assert link is not None
    assert owners.contacts(link) == {"phone": "+442079460177"}
    visit = answering.read_link(owners.world, link)
    assert visit is not None
    assert visit.owner.name == "Carla Stone"
    assert [each.unit.unit_id for each in visit.standings] == [found.claim.unit_id]


def test_the_same_claim_sent_twice_is_one_unit(owners: Owners) -> None:
    found = _checked(owners, "QM-2534-B0999")

    first = claiming.take_claim(owners.world, FIRST, found.claim, BUYER, stopped=True)
    second = claiming.take_claim(owners.world, FIRST, found.claim, BUYER, stopped=True)

    assert first.proof == second.proof
    assert len(owners.all_units()) == 1


def test_a_code_that_the_register_knows_is_a_hint_and_moves_nothing(owners: Owners) -> None:
    unit_id = owners.unit(owners.owner())
    before = owners.case(unit_id)
    found = _checked(owners, AFFECTED)

    taken = claiming.take_claim(owners.world, FIRST, found.claim, BUYER, stopped=True)

    assert taken.proof is not None
    assert (taken.proof.unit_id, taken.proof.owner_id) == (unit_id, None)
    after = owners.case(unit_id)
    assert (after.keeper_id, after.stopped, after.stage) == (before.keeper_id, before.stopped, before.stage)
    hint = owners.events(unit_id)[-1]
    assert hint.kind == "answer_set_aside"
    assert "Carla Stone" in owners.words(hint)
    assert len(owners.all_units()) == 1


@pytest.mark.parametrize("code", ["QM-2534-D0172", "XX-2534-A0172"])
def test_a_doubtful_code_lists_the_unit_as_missing_so_that_no_later_judging_clears_it(
    owners: Owners, code: str
) -> None:
    found = _checked(owners, code)

    claiming.take_claim(owners.world, FIRST, found.claim, BUYER, stopped=True)

    assert owners.case(found.claim.unit_id).verdict == "missing"
    assert owners.all_units()[found.claim.unit_id].code is None
    aside = next(e for e in owners.events(found.claim.unit_id) if e.kind == "answer_set_aside")
    assert owners.words(aside) == code


def test_a_number_that_cannot_be_dialled_lists_nothing(owners: Owners) -> None:
    found = _checked(owners, "QM-2534-B0999")
    who = Claimant(name="Carla Stone", reach=Reach(place="", phone="12"), country="GB", language="en")

    taken = claiming.take_claim(owners.world, FIRST, found.claim, who, stopped=True)

    assert [point.channel for point in taken.faulty] == ["phone"]
    assert owners.all_units() == {}


def test_a_call_for_help_waits_for_no_well_formed_number(owners: Owners) -> None:
    claim = claiming.new_claim(owners.world, None)
    who = Claimant(name="Carla", reach=Reach(place="", phone="0 12 34"), country=None, language="en")

    claiming.take_claim(owners.world, FIRST, claim, who, ask="hurt", words="the fork broke")

    assert owners.due(claim.unit_id) == "call-now"
    asked = next(event for event in owners.events(claim.unit_id) if event.kind == "help_asked")
    assert owners.words(asked).splitlines() == ["0 12 34", "the fork broke"]


def test_still_in_use_second_hand_is_called_today(owners: Owners) -> None:
    found = _checked(owners, "QM-2534-B0999")

    claiming.take_claim(owners.world, FIRST, found.claim, BUYER, stopped=False)

    assert owners.due(found.claim.unit_id) == "call-now"


def test_another_code_by_a_link_is_set_aside_and_the_owners_own_goes_on(owners: Owners) -> None:
    link = owners.owner()
    unit_id = owners.unit(link)

    other = _checked(owners, "QM-2534-A0555", link)
    own = _checked(owners, AFFECTED, link)

    assert (other.proof, other.verdict) == (None, Verdict.CLEARED)
    assert owners.case(unit_id).verdict == "affected"
    assert [event.payload["why"] for event in owners.events(unit_id)[2:]] == ["another code"]
    assert own.proof is not None
    assert own.proof.unit_id == unit_id


def test_what_a_stranger_says_of_anothers_unit_is_only_a_hint(owners: Owners) -> None:
    unit_id = owners.unit(owners.owner())
    found = _checked(owners, AFFECTED)
    taken = claiming.take_claim(owners.world, FIRST, found.claim, BUYER, stopped=True)
    assert taken.proof is not None

    telling.state_use(owners.world, taken.proof, FIRST, Segment.UNRIDDEN)

    assert owners.case(unit_id).segment == "unknown"
    assert owners.events(unit_id)[-1].payload["of"] == "use_stated"
