"""Owners who may be the same: shown, joined, held apart; what each gets, and what undoing it brings back."""

from pathlib import Path

import pytest

from notices.cases.events import owner_stream
from notices.work import pairs
from notices.work.answers import visit_of
from notices.work.hearing import HearingError, Word, hear
from notices.work.links import link_of
from notices.work.pairs import PairError
from notices.work.persons import persons
from notices.work.seeking import units_named
from tests.folders import Desk, a_desk

SHOP = """sale no,name,email,street,town,country,language,code
1,Anna Reed,anna@mail.example,Quay Street 2,Port Aldmere PA4 1,GB,en,QM-2534-B0172
2,Zoe Quirk,zoe@mail.example,Lime Walk 17,Dunmarrow D08,GB,en,QM-2534-B0173
"""
TILL = """sale no,name,email,street,town,country,language,code
1,A. Reed,reed@post.example,Quay St 2,Port Aldmere,GB,en,QM-2534-B0200
"""
THIRD = """sale no,name,email,street,town,country,language,code
1,Anna Reed-Hall,hall@post.example,Quay Street 2,Port Aldmere PA4 1,GB,en,QM-2534-B0201
"""
WHY = "Anna's father, he says"


def ids(desk: Desk, *names: str) -> list[str]:
    """Return the ids of the owners with these names."""
    with desk.world.register.look() as tx:
        found = {owner.name: owner_id for owner_id, owner in tx.people.owners().items()}
    return [found[name] for name in names]


def listed(desk: Desk) -> tuple[str, str]:
    """Take both lists in, sign, and return Anna Reed and A. Reed."""
    desk.take(SHOP)
    desk.take(TILL, "till")
    desk.sign()
    anna, reed = ids(desk, "Anna Reed", "A. Reed")
    return anna, reed


def codes(desk: Desk, owner_id: str) -> list[str]:
    """Return the codes on the page of an owner's link."""
    with desk.world.register.change() as tx:
        link = link_of(tx, owner_id)
    with desk.world.register.look() as tx:
        found = visit_of(tx, link)
        assert found is not None
        return sorted(str(standing.unit.code) for standing in found.standings)


def sent(desk: Desk) -> dict[str, list[str]]:
    """Send what is owed; return to whom all mails so far went, with the code of each unit that one names."""
    desk.post()
    desk.send()
    with desk.world.register.look() as tx:
        units = tx.units.units()
    found: dict[str, list[str]] = {}
    for mail in desk.mails():
        body = mail.get_body(("plain",))
        assert body is not None
        text = body.get_content()
        found.setdefault(mail["To"].addresses[0].addr_spec, []).append(
            " ".join(sorted(str(unit.code)[-4:] for unit in units.values() if unit.unit_id in text))
        )
    return {address: sorted(codes) for address, codes in sorted(found.items())}


def test_who_may_be_the_same_is_shown_with_score_and_reasons(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk:
        anna, reed = listed(desk)
        (found,) = pairs.likely(desk.world)

    assert {side.owner.owner_id for side in found.sides} == {anna, reed}
    assert found.reasons == ("name-similar", "address-similar")
    assert [len(side.units) for side in found.sides] == [1, 1]
    assert {row.channel for side in found.sides for row in side.contacts} == {"email", "letter"}


def test_what_was_decided_is_recorded_in_both_streams_and_not_shown_again(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk:
        anna, reed = listed(desk)
        assert pairs.apart(desk.world, reed, anna, by="Ines Hall", reason=WHY)
        assert not pairs.apart(desk.world, anna, reed, by="Ines Hall", reason=WHY)
        after_apart = pairs.likely(desk.world)
        assert pairs.join(desk.world, anna, reed, by="Ines Hall")
        assert not pairs.join(desk.world, reed, anna, by="Ines Hall")
        after_join = pairs.likely(desk.world)
        (decision,) = pairs.decisions(desk.world)
        with desk.world.register.look() as tx:
            streams = [tx.events.stream(owner_stream(owner_id)) for owner_id in (anna, reed)]
            texts = tx.papers.texts([str(streams[0][-2].payload["text"])])

    assert (after_apart, after_join) == ((), ())
    assert decision.joined
    for stream, other in zip(streams, (reed, anna), strict=True):
        said = [(event.kind, event.payload["other"], event.actor) for event in stream[-2:]]
        assert said == [("parted", other, "Ines Hall"), ("joined", other, "Ines Hall")]
    assert [text.body for text in texts.values()] == [WHY]
    assert WHY not in str(streams)


def test_one_person_gets_one_message_and_one_page_for_the_units_of_both(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk:
        anna, reed = listed(desk)
        pairs.join(desk.world, anna, reed, by="Ines Hall")
        mails = sent(desk)
        pages = [codes(desk, owner_id) for owner_id in (anna, reed)]
        cases = [desk.case(code) for code in ("QM-2534-B0172", "QM-2534-B0200")]
        again = desk.post()
        with desk.world.register.look() as tx:
            named = units_named(tx, "reed@post.example")

    first = min((anna, "anna@mail.example"), (reed, "reed@post.example"))[1]
    assert mails == {first: ["0172 0200"], "zoe@mail.example": ["0173"]}
    assert pages == [["QM-2534-B0172", "QM-2534-B0200"]] * 2
    assert [(case.keeper_id, case.live) for case in cases] == [(anna, 1), (reed, 1)]
    assert again.made == 0
    assert len(named) == 2


def test_two_who_are_held_apart_get_a_message_and_a_page_each(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk:
        anna, reed = listed(desk)
        pairs.apart(desk.world, anna, reed, by="Ines Hall", reason=WHY)
        mails = sent(desk)
        pages = [codes(desk, owner_id) for owner_id in (anna, reed)]

    assert mails == {
        "anna@mail.example": ["0172"],
        "reed@post.example": ["0200"],
        "zoe@mail.example": ["0173"],
    }
    assert pages == [["QM-2534-B0172"], ["QM-2534-B0200"]]


def test_one_person_whom_only_one_address_reaches_is_reached_there(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk:
        desk.take(SHOP)
        desk.take(TILL.replace("reed@post.example", "none"), "till")
        desk.sign()
        anna, reed = ids(desk, "Anna Reed", "A. Reed")
        pairs.join(desk.world, anna, reed, by="Ines Hall")
        mails = sent(desk)

    assert mails["anna@mail.example"] == ["0172 0200"]


def test_a_message_that_waits_is_withdrawn_when_its_owners_are_held_apart(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk:
        anna, reed = listed(desk)
        pairs.join(desk.world, anna, reed, by="Ines Hall")
        desk.post()
        pairs.apart(desk.world, anna, reed, by="Ines Hall", reason=WHY)
        desk.send()
        nothing = desk.mails()
        mails = sent(desk)

    assert [mail["To"].addresses[0].addr_spec for mail in nothing] == ["zoe@mail.example"]
    assert mails["anna@mail.example"] == ["0172"]
    assert mails["reed@post.example"] == ["0200"]


def test_what_went_to_another_is_told_to_the_owner_once_they_are_held_apart(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk:
        anna, reed = listed(desk)
        pairs.join(desk.world, anna, reed, by="Ines Hall")
        before = sent(desk)
        pairs.apart(desk.world, anna, reed, by="Ines Hall", reason=WHY)
        after = sent(desk)
        again = desk.post()
        pages = [codes(desk, owner_id) for owner_id in (anna, reed)]
        pairs.join(desk.world, anna, reed, by="Ines Hall")
        with desk.world.register.look() as tx:
            untold = persons(tx).untold
        joined_again = desk.post()

    spoken_to, other = sorted([(anna, "anna@mail.example", "0172"), (reed, "reed@post.example", "0200")])
    assert before[spoken_to[1]] == ["0172 0200"]
    assert after == {**before, other[1]: [other[2]]}
    assert again.made == 0
    assert pages == [["QM-2534-B0172"], ["QM-2534-B0200"]]
    assert untold == frozenset()
    assert joined_again.made == 0


def test_who_has_the_same_address_was_told_there(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk:
        desk.take(SHOP)
        desk.take(TILL.replace("reed@post.example", "anna@mail.example"), "till")
        desk.sign()
        anna, reed = ids(desk, "Anna Reed", "A. Reed")
        pairs.join(desk.world, anna, reed, by="Ines Hall")
        before = sent(desk)
        pairs.apart(desk.world, anna, reed, by="Ines Hall", reason=WHY)
        after = sent(desk)

    assert before["anna@mail.example"] == ["0172 0200"]
    assert after == before


def test_three_are_one_person_and_a_middle_one_cannot_be_passed_over(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk:
        anna, reed = listed(desk)
        desk.take(THIRD, "third")
        (hall,) = ids(desk, "Anna Reed-Hall")
        pairs.join(desk.world, anna, reed, by="Ines Hall")
        pairs.join(desk.world, reed, hall, by="Ines Hall")
        with desk.world.register.look() as tx:
            group = persons(tx).of(anna)
        with pytest.raises(PairError, match=f"by way of {reed}"):
            pairs.apart(desk.world, anna, hall, by="Ines Hall", reason=WHY)
        pairs.apart(desk.world, hall, reed, by="Ines Hall", reason=WHY)
        pairs.apart(desk.world, hall, anna, by="Ines Hall", reason=WHY)
        with pytest.raises(PairError, match="are held apart, and would become one person"):
            pairs.join(desk.world, reed, hall, by="Ines Hall")
        with desk.world.register.look() as tx:
            left = persons(tx)

    assert group == tuple(sorted([anna, reed, hall]))
    assert left.of(anna) == tuple(sorted([anna, reed]))
    assert left.of(hall) == (hall,)


def test_what_cannot_be_decided_says_why(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk:
        anna, reed = listed(desk)
        desk.take("name,email,code\nHarbour Bikes,shop@shop.example,QM-2534-B0172\n", "shops", role="shop")
        (shop,) = ids(desk, "Harbour Bikes")

        with pytest.raises(PairError, match="no owner is known as NOBODY"):
            pairs.join(desk.world, anna, "NOBODY", by="Ines Hall")
        with pytest.raises(PairError, match="one and the same id"):
            pairs.join(desk.world, anna, anna, by="Ines Hall")
        with pytest.raises(PairError, match="needs a reason"):
            pairs.apart(desk.world, anna, reed, by="Ines Hall", reason=" ")
        with pytest.raises(PairError, match="is a shop that sold units"):
            pairs.join(desk.world, anna, shop, by="Ines Hall")


def test_one_person_who_bought_and_keeps_a_unit_reads_of_it_once(tmp_path: Path) -> None:
    both = """sale no,role,name,email,country,language,code
1,keeper,Anna Reed,anna@mail.example,GB,en,QM-2534-B0172
1,buyer,A. Reed,reed@post.example,GB,en,QM-2534-B0172
"""
    with a_desk(tmp_path / "c") as desk:
        desk.take(both)
        desk.sign()
        anna, reed = ids(desk, "Anna Reed", "A. Reed")
        pairs.join(desk.world, anna, reed, by="Ines Hall")
        mails = sent(desk)
        again = desk.post()

    assert list(mails.values()) == [["0172"]]
    assert again.made == 0


def test_customer_numbers_of_one_list_are_compared(tmp_path: Path) -> None:
    rows = """sale no,customer no,name,email,country,code
1,4711003,Anna Reed,anna@mail.example,GB,QM-2534-B0172
2,4711008,Anna Read,read@post.example,GB,QM-2534-B0200
"""
    with a_desk(tmp_path / "c") as desk:
        desk.take(rows)
        (found,) = pairs.likely(desk.world)

    assert found.reasons == ("name-similar", "number-similar")


def test_a_message_that_comes_back_does_so_for_the_units_of_both(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk:
        anna, reed = listed(desk)
        pairs.join(desk.world, anna, reed, by="Ines Hall")
        sent(desk)
        address = min((anna, "anna@mail.example"), (reed, "reed@post.example"))[1]
        hear(desk.world, address, Word(what="bounced", by="Ines Hall", via="mail", value="5.1.1"))
        cases = [desk.case(code) for code in ("QM-2534-B0172", "QM-2534-B0200")]
        with desk.world.register.look() as tx:
            contacts = tx.people.contacts([anna, reed])
        with pytest.raises(HearingError, match="no notice to this owner is out"):
            hear(desk.world, address, Word(what="bounced", by="Ines Hall", via="mail", value="5.1.1"))

    assert [case.live for case in cases] == [0, 0]
    assert [row.value for rows in contacts.values() for row in rows if row.fault] == [address]
