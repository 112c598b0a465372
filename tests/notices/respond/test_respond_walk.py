"""The owner's way through the pages, from the first to the confirmation and back."""

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest

from notices.cases.case import Stage, Stopped
from notices.work import gates
from tests.owners_pages import Reader
from tests.owners_world import AFFECTED, Owners, owners_world


@pytest.fixture
def owners(tmp_path: Path) -> Iterator[Owners]:
    with owners_world(tmp_path) as found:
        yield found


def _proved(owners: Owners, link: str) -> Reader:
    reader = Reader(owners).open(link).send(press="do=stop")
    return reader.send("signs", signs="0172")


def test_an_owner_goes_from_the_hazard_to_the_summary_and_confirms_the_fix(owners: Owners) -> None:
    link = owners.owner()
    unit_id = owners.unit(link)
    reader = Reader(owners).open(link)

    assert "Stop riding your Drayling 2 now." in reader.text
    reader.send(press="do=stop")
    assert "QM-2534-B····" in reader.text
    assert owners.case(unit_id).stopped is Stopped.PRESSED
    reader.send("signs", signs="0172")
    assert "This code is affected." in reader.text
    assert owners.case(unit_id).stopped is Stopped.STOPPED
    reader.send("use", press="use=unridden")
    assert "Where is it now, and how do we reach you?" in reader.text
    reader.send("place", place="Mill Lane 4\nPort Aldmere", phone="020 7946 0123")
    assert "a mechanic comes to you" in reader.text
    reader.send("remedy", press="remedy=repair/mechanic")
    assert reader.reference == unit_id
    assert "We will tell you the day within 3 working days of your answer." in reader.text
    assert owners.case(unit_id).stage is Stage.REMEDY_AGREED

    reader.open(f"{link}/fixed").send(by="mechanic", q__torque="yes", q__play="yes", signs="0172")
    assert "Thank you. We have closed this case as fixed." in reader.text
    assert owners.case(unit_id).ending == "fixed"
    assert "You have told us that it is fixed." in reader.open(link).text

    reader.open(f"{link}/fixed").send(signs="0172")
    assert "You have withdrawn your answer. We will call you." in reader.text
    assert owners.case(unit_id).ending is None


def test_while_a_market_waits_its_owners_page_warns_and_promises_no_remedy(owners: Owners) -> None:
    link = owners.owner()
    unit_id = owners.unit(link)
    gates.wait(owners.world, "GB", by="Mara Quill", reason="counsel reads it")
    reader = Reader(owners).open(link)

    assert "Important safety warning" in reader.text
    assert "Product safety recall" not in reader.text
    reader.send(press="do=stop").send("signs", signs="0172").send("use", press="use=unridden")
    reader.send("place", place="Mill Lane 4\nPort Aldmere", phone="020 7946 0123")
    assert "a mechanic comes to you" not in reader.text
    assert reader.reference == unit_id
    assert owners.case(unit_id).stopped is Stopped.STOPPED

    gates.release(owners.world, "GB", by="Mara Quill", reason="counsel has read it")
    assert "Product safety recall" in Reader(owners).open(link).text


def test_a_unit_in_a_market_that_does_not_wait_keeps_its_remedy_on_the_page(owners: Owners) -> None:
    link = owners.owner()
    owners.unit(link)
    gates.wait(owners.world, "EU", by="Mara Quill", reason="counsel reads it")

    assert "Product safety recall" in Reader(owners).open(link).text


def test_a_post_is_answered_with_the_next_page_itself(owners: Owners) -> None:
    link = owners.owner()
    owners.unit(link)

    reader = Reader(owners).open(link).send(press="do=stop")

    assert (reader.status, reader.address) == (200, f"/drayling/{link}")


def test_a_reload_of_any_answer_counts_once(owners: Owners) -> None:
    link = owners.owner()
    unit_id = owners.unit(link)
    reader = Reader(owners).open(link)
    for do, press, typed in (
        ("stop", "do=stop", {}),
        ("signs", "", {"signs": "0172"}),
        ("use", "use=unridden", {}),
        ("place", "", {"place": "Mill Lane 4", "phone": "020 7946 0123"}),
        ("remedy", "remedy=refund", {}),
    ):
        page, address = reader.html, reader.address
        reader.send(do, press=press, **typed)
        once = owners.kinds(unit_id)
        reader.html, reader.address = page, address
        reader.send(do, press=press, **typed)

        assert owners.kinds(unit_id) == once


def test_signs_count_for_two_hours_and_are_then_asked_for_again(owners: Owners) -> None:
    link = owners.owner()
    unit_id = owners.unit(link)
    reader = _proved(owners, link)
    owners.clock.forward(timedelta(hours=2, seconds=1))

    reader.send("use", press="use=unridden")

    assert "Please type the characters again." in reader.text
    assert owners.case(unit_id).segment == "unknown"


def test_a_hidden_field_for_another_unit_or_of_another_key_is_no_proof(owners: Owners) -> None:
    link = owners.owner()
    unit_id = owners.unit(link)
    reader = _proved(owners, link)
    proof = reader.page.forms[-1].fields["proof"]

    reader.post(
        {"do": "use", "use": "unridden", "proof": proof[:-2] + ("A" if proof[-2] != "A" else "B") + "A"}
    )

    assert "Please type the characters again." in reader.text
    assert owners.case(unit_id).segment == "unknown"


def test_the_hidden_field_stands_in_no_address_and_in_no_event(owners: Owners) -> None:
    link = owners.owner()
    unit_id = owners.unit(link)
    reader = _proved(owners, link)
    proof = reader.page.forms[-1].fields["proof"]
    reader.send("use", press="use=unridden")

    assert not any(proof in href for href in reader.page.links)
    assert not any(proof in str(event) for event in owners.events(unit_id))


def test_not_sure_counts_as_with_symptoms_and_shows_the_new_instruction_at_once(owners: Owners) -> None:
    link = owners.owner()
    unit_id = owners.unit(link)

    reader = _proved(owners, link).send("use", press="use=unknown")

    assert owners.case(unit_id).segment == "symptomatic"
    assert "Take nothing apart." in reader.text


def test_an_owner_of_several_goes_on_to_the_next(owners: Owners) -> None:
    link = owners.owner()
    owners.unit(link)
    other = owners.unit(link, "QM-2540-B0200")
    reader = _proved(owners, link).send("use", press="use=unridden")
    reader.send("place", place="Mill Lane 4", phone="020 7946 0123")
    reader.send("remedy", press="remedy=refund")

    assert "One more of yours waits for your answer." in reader.text
    reader.send("show", step="code").send("signs", signs="0200").send("use", press="use=symptomatic")
    assert owners.case(other).segment == "symptomatic"


def test_an_owner_whose_unit_has_no_code_gives_the_name_then_the_code(owners: Owners) -> None:
    link = owners.owner("Anna Berg")
    unit_id = owners.unit(link, None)
    reader = Reader(owners).open(link).send(press="do=stop")

    assert "We do not have the code of your bicycle." in reader.text
    reader.send("signs", signs="Berg")
    assert "Which code is on it?" in reader.text
    reader.send("unit_code", code=AFFECTED)
    assert owners.case(unit_id).verdict == "affected"
    assert "Has anybody ridden the bicycle?" in reader.text


def test_a_near_code_is_asked_again_and_then_goes_on_unclear(owners: Owners) -> None:
    link = owners.owner("Anna Berg")
    unit_id = owners.unit(link, None)
    reader = Reader(owners).open(link).send(press="do=stop").send("signs", signs="Berg")

    reader.send("unit_code", code="QM-2534-D0172")
    assert "Still do not ride." in reader.text
    assert "photo" in reader.text
    reader.send("unit_code", code="QM-2534-D0172")
    assert "Has anybody ridden the bicycle?" in reader.text
    assert owners.case(unit_id).verdict == "missing"


def test_a_cleared_owner_learns_so_only_after_comparing_the_code(owners: Owners) -> None:
    link = owners.owner()
    owners.unit(link, "QM-2534-A0172")
    reader = Reader(owners).open(link)

    assert "You may ride." not in reader.text
    reader.send("signs", signs="0172")
    assert "As far as we know on 3 March 2026" in reader.text
    assert "You may ride." in reader.text


def test_a_stop_warning_promises_no_remedy_and_asks_for_none(owners: Owners) -> None:
    owners.sign(lambda campaign: campaign.model_copy(update={"remedies": None}))
    link = owners.owner()
    owners.unit(link)
    reader = _proved(owners, link)

    assert "Important safety warning" in reader.text
    reader.send("use", press="use=unridden").send("place", place="Mill Lane 4", phone="020 7946 0123")
    assert "We are working on the repair. You will hear from us by 10 March 2026." in reader.text
    assert "remedy" not in {form.fields.get("do") for form in reader.page.forms}
    assert f"{link}/fixed" not in reader.html


def test_answers_can_be_changed_from_the_summary(owners: Owners) -> None:
    link = owners.owner()
    unit_id = owners.unit(link)
    reader = _proved(owners, link).send("use", press="use=unridden")
    reader.send("place", place="Mill Lane 4", phone="020 7946 0123").send("remedy", press="remedy=refund")

    reader.send("show", press="step=use").send("use", press="use=symptomatic")

    assert owners.case(unit_id).segment == "symptomatic"


def test_a_form_of_the_ways_out_reaches_a_person(owners: Owners) -> None:
    link = owners.owner()
    unit_id = owners.unit(link)
    reader = Reader(owners)
    for way, typed in (
        ("hurt", {"phone": "020 7946 0123", "words": "the link broke"}),
        ("call", {"phone": "020 7946 0123"}),
        ("nocode", {"phone": "020 7946 0123"}),
        ("helper", {"helper": "Dora", "phone": "020 7946 0124"}),
        ("print", {"address": "Mill Lane 4\nPort Aldmere"}),
    ):
        reader.open(f"{link}/{way}").send(**typed)

        assert reader.reference == unit_id
    assert owners.kinds(unit_id) == ["help_asked"] * 5
    assert owners.due(unit_id) == "call-now"  # somebody was hurt


@pytest.mark.parametrize("way", ["hurt", "call", "nocode", "helper", "print", "gone", "fixed", "another"])
def test_every_form_but_stopped_needs_something_typed(owners: Owners, way: str) -> None:
    link = owners.owner()
    unit_id = owners.unit(link)

    reader = Reader(owners).open(f"{link}/{way}").send()

    assert "Please fill this in." in reader.text
    assert owners.kinds(unit_id) == []


def test_who_has_it_no_longer_says_who_has(owners: Owners) -> None:
    link = owners.owner()
    unit_id = owners.unit(link)

    Reader(owners).open(f"{link}/gone").send(holder="Carla Stone, 020 7946 0177", signs="0172")

    assert owners.case(unit_id).keeper_id is None
    assert "In our records you no longer have one." in Reader(owners).open(link).text


def test_who_comes_from_the_bulletin_is_served_to_the_end(owners: Owners) -> None:
    reader = Reader(owners).open("").send("check", code="QM-2534-B0999")
    assert "This code is affected." in reader.text
    reader.send("claim", press="stopped=yes", name="Carla Stone", phone="020 7946 0177", country="GB")
    reader.send("use", press="use=ridden_no_symptoms")
    reader.send("place", place="Mill Lane 9").send("remedy", press="remedy=refund")

    unit_id = reader.reference
    assert owners.case(unit_id).stage is Stage.REMEDY_AGREED
    address = next(word for word in reader.text.split() if word.startswith("aldmere.example/drayling/"))
    assert "Stop riding" in Reader(owners).open(address.rpartition("/")[2]).text


def test_hurt_without_a_link_is_a_case_of_its_own_and_sent_twice_it_is_one(owners: Owners) -> None:
    reader = Reader(owners).open("start/hurt")
    page, address = reader.html, reader.address
    reader.send(name="Carla Stone", phone="020 7946 0177", words="the fork broke")
    unit_id = reader.reference
    reader.html, reader.address = page, address
    reader.send(name="Carla Stone", phone="020 7946 0177", words="the fork broke")

    assert set(owners.all_units()) == {unit_id}
    assert owners.due(unit_id) == "call-now"


def test_a_known_code_from_the_bulletin_is_a_hint_and_shows_nothing_of_its_holder(owners: Owners) -> None:
    link = owners.owner()
    unit_id = owners.unit(link)
    _proved(owners, link).send("use", press="use=symptomatic")
    before = owners.case(unit_id)
    reader = Reader(owners).open("").send("check", code=AFFECTED)
    reader.send("claim", press="stopped=yes", name="Carla Stone", phone="020 7946 0177")
    reader.send("use", press="use=unridden").send("place", place="Mill Lane 9")
    reader.send("remedy", press=f"remedy={reader.page.forms[-1].buttons[0][1]}")

    assert reader.reference == unit_id
    assert "A person will look at your answers" in reader.text
    after = owners.case(unit_id)
    assert (after.keeper_id, after.segment, after.stage, after.stopped) == (
        before.keeper_id,
        before.segment,
        before.stage,
        before.stopped,
    )
    assert "Anna" not in reader.text
