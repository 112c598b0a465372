"""What a personal link can say without the signs of a unit, and what it takes to be believed."""

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest

from audiences.segments import Segment
from audiences.verdicts import Verdict
from notices.cases.case import Stage, Stopped
from notices.cases.events import NewEvent, unit_stream
from notices.work import answering, signs, telling
from notices.work.answering import Fit
from notices.work.answers import Proof, Said
from notices.work.recording import record
from notices.work.telling import Reach
from tests.owners_world import AFFECTED, Owners, owners_world

FIRST = Said(nonce="0" * 26)
SECOND = Said(nonce="1" * 26)
THIRD = Said(nonce="2" * 26)


@pytest.fixture
def owners(tmp_path: Path) -> Iterator[Owners]:
    with owners_world(tmp_path) as found:
        yield found


def _proof(owners: Owners, link: str, typed: str = "0172", *, pressed: bool = True) -> Proof:
    given = answering.give_signs(owners.world, link, FIRST, typed, pressed=pressed)
    assert given is not None
    assert given.proof is not None
    return given.proof


def test_reading_a_link_changes_nothing(owners: Owners) -> None:
    link = owners.owner()
    unit_id = owners.unit(link)
    before = owners.case(unit_id)

    visit = answering.read_link(owners.world, link)

    assert visit is not None
    assert visit.owner.name == "Anna Berg"
    assert owners.case(unit_id) == before


def test_unknown_and_retired_links_are_nobody_alike(owners: Owners) -> None:
    link = owners.owner()
    owners.unit(link)
    owners.retire(link)

    assert answering.read_link(owners.world, link) is None
    assert answering.read_link(owners.world, "0000000000") is None


def test_a_press_counts_for_every_unit_and_is_only_pressed(owners: Owners) -> None:
    link = owners.owner()
    units = [owners.unit(link), owners.unit(link, "QM-2540-B0200")]

    answering.press_stopped(owners.world, link, FIRST)

    assert [owners.case(unit_id).stopped for unit_id in units] == [Stopped.PRESSED, Stopped.PRESSED]
    assert owners.case(units[0]).stage is Stage.LISTED


def test_the_same_form_sent_twice_counts_once(owners: Owners) -> None:
    link = owners.owner()
    unit_id = owners.unit(link)

    answering.press_stopped(owners.world, link, FIRST)
    answering.press_stopped(owners.world, link, FIRST)

    assert owners.kinds(unit_id) == ["stop_stated"]


def test_another_answer_in_the_same_form_counts_again(owners: Owners) -> None:
    link = owners.owner()
    unit_id = owners.unit(link)
    proof = _proof(owners, link)

    telling.state_use(owners.world, proof, SECOND, Segment.UNRIDDEN)
    telling.state_use(owners.world, proof, SECOND, Segment.UNRIDDEN)
    telling.state_use(owners.world, proof, SECOND, Segment.SYMPTOMATIC)

    assert owners.kinds(unit_id).count("use_stated") == 2
    assert owners.case(unit_id).segment is Segment.SYMPTOMATIC


def test_still_in_use_asks_for_a_call_today_and_keeps_the_number_as_a_text(owners: Owners) -> None:
    link = owners.owner()
    unit_id = owners.unit(link)

    answering.still_in_use(owners.world, link, FIRST, "020 7946 0123")

    assert owners.case(unit_id).stopped is Stopped.IN_USE
    assert owners.due(unit_id) == "call-now"
    asked = next(event for event in owners.events(unit_id) if event.kind == "help_asked")
    assert owners.words(asked) == "020 7946 0123"
    assert owners.contacts(link) == {}


def test_a_press_does_not_call_off_the_call_for_a_unit_in_use(owners: Owners) -> None:
    link = owners.owner()
    unit_id = owners.unit(link)
    answering.still_in_use(owners.world, link, FIRST, "020 7946 0123")

    answering.press_stopped(owners.world, link, SECOND)

    assert owners.case(unit_id).stopped is Stopped.IN_USE
    assert owners.due(unit_id) == "call-now"


def test_what_a_person_said_stands_against_a_nameless_still_in_use(owners: Owners) -> None:
    link = owners.owner()
    unit_id = owners.unit(link)
    _proof(owners, link)

    answering.still_in_use(owners.world, link, SECOND, "020 7946 0123")

    assert owners.case(unit_id).stopped is Stopped.STOPPED
    assert owners.due(unit_id) == "call-back"


def test_the_last_signs_turn_pressed_into_stopped_for_all_units_of_the_owner(owners: Owners) -> None:
    link = owners.owner()
    units = [owners.unit(link), owners.unit(link, "QM-2540-B0200")]
    answering.press_stopped(owners.world, link, SECOND)

    proof = _proof(owners, link, "0172", pressed=False)

    assert proof.unit_id == units[0]
    assert [owners.case(unit_id).stopped for unit_id in units] == [Stopped.STOPPED, Stopped.STOPPED]
    assert "code_given" not in owners.kinds(units[1])


@pytest.mark.parametrize("typed", ["0172", " 01-72 ", "٠١٧٢", "B0172", "qm 2534 b 0172", "QM-2534-B0172"])
def test_the_signs_are_known_however_they_are_typed(owners: Owners, typed: str) -> None:
    link = owners.owner()
    unit_id = owners.unit(link)

    assert _proof(owners, link, typed).unit_id == unit_id


@pytest.mark.parametrize("typed", ["0173", "D0172", "172", "····", "%s", "' OR 1=1", "B0172x"])
def test_wrong_signs_change_nothing_and_a_person_looks(owners: Owners, typed: str) -> None:
    link = owners.owner()
    unit_id = owners.unit(link)
    before = owners.case(unit_id)

    given = answering.give_signs(owners.world, link, FIRST, typed, pressed=True)

    assert given is not None
    assert given.fit is Fit.WRONG
    event = owners.events(unit_id)[-1]
    assert event.payload["why"] == "wrong signs"
    assert owners.words(event) == typed
    assert (owners.case(unit_id).stopped, owners.case(unit_id).stage) == (before.stopped, before.stage)


def test_two_units_that_end_alike_need_the_whole_code(owners: Owners) -> None:
    link = owners.owner()
    owners.unit(link)
    other = owners.unit(link, "QM-2540-B0172")

    given = answering.give_signs(owners.world, link, FIRST, "0172", pressed=False)

    assert given is not None
    assert given.fit is Fit.SEVERAL
    assert _proof(owners, link, "QM-2540-B0172").unit_id == other


def test_after_a_dozen_wrong_tries_only_a_person_helps_until_the_next_day(owners: Owners) -> None:
    link = owners.owner()
    owners.unit(link)
    for turn in range(signs.MOST_WRONG):
        answering.give_signs(owners.world, link, Said(nonce=f"{turn:026}"), f"9{turn:03}", pressed=False)

    right = answering.give_signs(owners.world, link, FIRST, "0172", pressed=False)
    owners.clock.forward(timedelta(days=1, seconds=1))
    later = answering.give_signs(owners.world, link, FIRST, "0172", pressed=False)

    assert right is not None
    assert right.fit is Fit.TOO_MANY
    assert later is not None
    assert later.fit is Fit.GOOD


@pytest.mark.parametrize(
    ("name", "typed", "good"),
    [
        ("Anna Berg", "Berg", True),
        ("Anna Berg", "anna  BERG", True),
        ("Anna Berg", "Anna", False),
        ("José Muñoz", "munoz", True),
        ("Berg, Anna", "Berg", True),
        ("Anna Berg", "Bergmann", False),
        ("Anna Berg", "", False),
        ("عمر حداد", "حداد", True),
    ],
)
def test_without_a_code_the_family_name_stands_for_the_signs(
    owners: Owners,
    name: str,
    typed: str,
    good: bool,  # noqa: FBT001 - a parameter of the table
) -> None:
    link = owners.owner(name)
    owners.unit(link, None)

    given = answering.give_signs(owners.world, link, FIRST, typed, pressed=False)

    assert given is not None
    assert (given.fit is Fit.GOOD) is good


def test_the_code_of_a_unit_that_the_lists_know_without_one_is_judged(owners: Owners) -> None:
    link = owners.owner()
    unit_id = owners.unit(link, None)
    proof = _proof(owners, link, "Berg")

    verdict = telling.give_code(owners.world, proof, SECOND, "qm-2534-a0555")
    again = telling.give_code(owners.world, proof, SECOND, "qm-2534-a0555")

    assert (verdict, again) == (Verdict.CLEARED, Verdict.CLEARED)
    assert owners.case(unit_id).ending == "cleared"
    assert owners.all_units()[unit_id].code_key == "QM2534A0555"
    assert owners.kinds(unit_id).count("verdict_given") == 1


@pytest.mark.parametrize("code", ["QM-2534-D0172", "XX-2534-A0555"])
def test_a_code_near_an_affected_one_or_of_another_family_clears_nothing(owners: Owners, code: str) -> None:
    link = owners.owner()
    unit_id = owners.unit(link, None)

    verdict = telling.give_code(owners.world, _proof(owners, link, "Berg"), SECOND, code)

    assert verdict is Verdict.MISSING
    assert owners.case(unit_id).ending is None
    assert owners.all_units()[unit_id].code is None
    assert owners.kinds(unit_id)[-1] == "answer_set_aside"


def test_a_code_that_is_somebody_elses_unit_is_not_taken(owners: Owners) -> None:
    owners.unit(owners.owner("Bela Novak"))
    link = owners.owner()
    unit_id = owners.unit(link, None)

    telling.give_code(owners.world, _proof(owners, link, "Berg"), SECOND, AFFECTED)

    assert owners.all_units()[unit_id].code is None
    assert owners.events(unit_id)[-1].payload["why"] == "held by another"


def test_use_only_climbs_and_a_step_down_is_set_aside(owners: Owners) -> None:
    link = owners.owner()
    unit_id = owners.unit(link)
    proof = _proof(owners, link)
    telling.state_use(owners.world, proof, SECOND, Segment.SYMPTOMATIC)

    after = telling.state_use(owners.world, proof, THIRD, Segment.UNRIDDEN)

    assert after is Segment.SYMPTOMATIC
    assert owners.case(unit_id).segment is Segment.SYMPTOMATIC
    assert owners.events(unit_id)[-1].payload["why"] == "contradicts"


def test_symptoms_before_any_stop_are_called_today(owners: Owners) -> None:
    link = owners.owner()
    unit_id = owners.unit(link)
    proof = _proof(owners, link, pressed=False)

    telling.state_use(owners.world, proof, SECOND, Segment.SYMPTOMATIC)

    assert owners.due(unit_id) == "call-now"


def test_where_and_how_are_kept_with_the_owner_and_no_event_holds_them(owners: Owners) -> None:
    link = owners.owner()
    unit_id = owners.unit(link)
    reach = Reach(place="Mill Lane 4\nPort Aldmere", phone="020 7946 0123", email="Anna@Mail.example")

    faulty = telling.give_contact(owners.world, _proof(owners, link), SECOND, reach)

    assert faulty == ()
    assert owners.contacts(link) == {
        "email": "Anna@mail.example",
        "phone": "+442079460123",
        "place": "Mill Lane 4\nPort Aldmere",
    }
    assert not any("Mill Lane" in str(event.payload) for event in owners.events(unit_id))


def test_a_number_that_cannot_be_dialled_is_handed_back_and_nothing_is_kept(owners: Owners) -> None:
    link = owners.owner()
    unit_id = owners.unit(link)
    proof = _proof(owners, link)

    faulty = telling.give_contact(owners.world, proof, SECOND, Reach(place="Here", phone="12"))

    assert [point.channel for point in faulty] == ["phone"]
    assert owners.contacts(link) == {}
    assert "contact_given" not in owners.kinds(unit_id)


def test_a_remedy_is_agreed_only_where_the_revision_offers_it(owners: Owners) -> None:
    link = owners.owner()
    unit_id = owners.unit(link)
    proof = _proof(owners, link)
    telling.state_use(owners.world, proof, SECOND, Segment.UNRIDDEN)

    refused = telling.choose_remedy(owners.world, proof, SECOND, "voucher")
    taken = telling.choose_remedy(owners.world, proof, SECOND, "repair", by="owner")

    assert (refused, taken) == (False, True)
    assert owners.case(unit_id).stage is Stage.REMEDY_AGREED
    assert owners.events(unit_id)[-1].payload == {"remedy": "repair", "by": "owner", "signs": True}


def test_who_has_ridden_it_is_not_offered_to_fit_it_alone(owners: Owners) -> None:
    link = owners.owner()
    owners.unit(link)
    proof = _proof(owners, link)
    telling.state_use(owners.world, proof, SECOND, Segment.RIDDEN_NO_SYMPTOMS)

    assert not telling.choose_remedy(owners.world, proof, SECOND, "repair", by="owner")


def test_a_proof_ends_with_the_holding(owners: Owners) -> None:
    link = owners.owner()
    unit_id = owners.unit(link)
    stranger = Proof(unit_id=unit_id, owner_id=owners.owner_id(owners.owner("Bela Novak")))
    before = owners.case(unit_id)

    telling.state_use(owners.world, stranger, SECOND, Segment.UNRIDDEN)
    telling.choose_remedy(owners.world, stranger, SECOND, "refund")
    telling.give_contact(owners.world, stranger, SECOND, Reach(place="Elsewhere"))

    assert owners.kinds(unit_id) == ["answer_set_aside"] * 3
    after = owners.case(unit_id)
    assert (after.segment, after.stage, after.stopped) == (before.segment, before.stage, before.stopped)


def test_an_owner_who_answers_after_all_opens_a_case_that_was_given_up(owners: Owners) -> None:
    link = owners.owner()
    unit_id = owners.unit(link)
    with owners.world.register.change() as tx:
        given_up = NewEvent(
            stream=unit_stream(unit_id),
            kind="case_closed",
            at=owners.clock(),
            actor="Mara Quill",
            via="command",
            payload={"ending": "unreachable"},
        )
        record(tx, [given_up], now=owners.clock())

    _proof(owners, link)

    assert owners.case(unit_id).ending is None
    assert owners.case(unit_id).stopped is Stopped.STOPPED


def test_a_language_chosen_by_hand_is_kept_once_the_signs_are_given(owners: Owners) -> None:
    link = owners.owner()
    owners.unit(link)
    chosen = Said(nonce="3" * 26, language="ar")

    answering.give_signs(owners.world, link, chosen, "9999", pressed=False)
    before = answering.read_link(owners.world, link)
    answering.give_signs(owners.world, link, chosen, "0172", pressed=False)
    after = answering.read_link(owners.world, link)

    assert before is not None
    assert after is not None
    assert (before.owner.language, after.owner.language, after.owner.basis) == ("en", "ar", "chosen")
