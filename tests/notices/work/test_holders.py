"""Several people with a part in a unit: the stop goes to all of them, the remedy to who has it."""

from pathlib import Path

import pytest

from audiences.owners import Role
from notices.cases.case import Case, Stage
from notices.work.units import parts_of
from tests.folders import LIST, RECALLED, Desk, a_desk

MIXED = """sale no,role,name,email,country,language,code
1,keeper,Ada Quill,ada@mail.example,GB,en,QM-2534-B0172
1,buyer,Ben Quill,ben@mail.example,GB,en,QM-2534-B0172
1,Fahrer,Cy Quill,cy@mail.example,DE,de,QM-2534-B0172
1,guardian,Dee Quill,dee@mail.example,GB,en,QM-2534-B0172
"""
LEASED = """name,email,country,code
Aldmere Leasing,fleet@leasing.example,GB,QM-2534-B0172
Aldmere Leasing,fleet@leasing.example,GB,QM-2534-B0200
Aldmere Leasing,fleet@leasing.example,GB,QM-2534-B0201
"""


def parts(desk: Desk, code: str) -> dict[str, set[str]]:
    """Return the names and roles of all who have a part in the unit with this code, shops aside."""
    with desk.world.register.look() as tx:
        (unit,) = [one for one in tx.units.units().values() if one.code == code]
        owners = tx.people.owners()
        return {
            owners[owner].name: roles for owner, roles in parts_of(tx, [unit.unit_id])[unit.unit_id].items()
        }


def sent_to(desk: Desk) -> list[tuple[str, int]]:
    """Return each address that a message waits for, and how many messages."""
    return sorted((address, len(states)) for address, states in desk.states().items())


def test_one_list_may_hold_all_who_have_a_part_in_a_unit(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk:
        done = desk.take(MIXED)
        found = parts(desk, "QM-2534-B0172")
        with desk.world.register.look() as tx:
            units = len(tx.units.units())

    assert (done.new, done.changed, done.refused, done.findings) == (1, 3, 0, ())
    assert units == 1
    assert found == {
        "Ada Quill": {"keeper"},
        "Ben Quill": {"buyer"},
        "Cy Quill": {"rider"},
        "Dee Quill": {"guardian"},
    }


def test_the_same_list_twice_changes_nothing(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk:
        desk.take(MIXED)
        desk.take(LEASED, "fleet", role="lessor")
        with desk.world.register.look() as tx:
            before = [list(one) for one in tx.events.streams("")]
        again, leased = desk.take(MIXED), desk.take(LEASED, "fleet", role="lessor")
        with desk.world.register.look() as tx:
            after = [list(one) for one in tx.events.streams("")]

    assert (again.new, again.changed, again.same, again.missing) == (0, 0, 4, 0)
    assert (leased.new, leased.changed, leased.same, leased.missing) == (0, 0, 3, 0)
    assert after == before


def test_the_stop_goes_to_all_and_the_remedy_to_those_who_have_it(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk:
        desk.take(MIXED)
        desk.sign()
        desk.post()
        stop = sent_to(desk)
        desk.send()
        desk.wording(1)
        desk.now = RECALLED
        desk.sign()
        desk.post()
        recall = sent_to(desk)

    everybody = ["ada@mail.example", "ben@mail.example", "cy@mail.example", "dee@mail.example"]
    assert stop == [(address, 1) for address in everybody]
    assert [address for address, count in recall if count == 2] == ["ada@mail.example", "cy@mail.example"]


def test_who_was_told_nothing_yet_learns_of_the_stop_from_the_recall(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c", revision=1) as desk:
        desk.take(MIXED)
        desk.sign()
        desk.post()
        first = sent_to(desk)

    assert [count for _, count in first] == [1, 1, 1, 1]


def test_only_who_has_it_is_reminded(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c", revision=1) as desk:
        desk.take(MIXED)
        desk.sign()
        desk.post()
        desk.send()
        desk.now = RECALLED.replace(day=16)
        desk.sign()
        desk.post()
        reminded = [address for address, count in sent_to(desk) if count == 2]

    assert reminded == ["ada@mail.example", "cy@mail.example"]


def a_leased(desk: Desk) -> Case:
    desk.take()
    desk.take(LEASED, "fleet", role="lessor")
    desk.sign()
    desk.post()
    desk.send()
    return desk.case("QM-2534-B0200")


def test_a_lessor_gets_one_message_with_all_codes_and_no_case_is_notified_by_it(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk:
        case = a_leased(desk)
        listed = desk.case("QM-2534-B0172")
        (mail,) = [one for one in desk.mails() if "fleet@leasing.example" in str(one["To"])]
        body = mail.get_body(("plain",))
        text = body.get_content() if body else ""

    assert (case.stage, case.live, case.keeper_id) == (Stage.LISTED, 0, None)
    assert len(case.lessors) == 1
    assert listed.stage is Stage.NOTIFIED  # its keeper is on another list, and was told
    assert text.count("QM-2534-B····") == 3


def test_who_has_any_part_but_the_lessors_is_asked_where_nobody_else_is_known(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk:
        desk.take(LEASED, "fleet", role="lessor")
        desk.take("name,email,code\nCy Quill,cy@mail.example,QM-2534-B0200\n", "riders", role="rider")
        desk.take("name,email,code\nBen Quill,ben@mail.example,QM-2534-B0201\n", "paid", role="buyer")
        rider, buyer = parts(desk, "QM-2534-B0200"), parts(desk, "QM-2534-B0201")

    assert rider == {"Aldmere Leasing": {"lessor"}, "Cy Quill": {"keeper"}}
    assert buyer == {"Aldmere Leasing": {"lessor"}, "Ben Quill": {"keeper", "buyer"}}


@pytest.mark.parametrize("role", ["lessor", "buyer", "helper"])
def test_a_part_without_a_unit_is_named_and_the_rest_goes_in(role: Role, tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk:
        done = desk.take(LEASED + "Fellbrook Hire,hire@fellbrook.example,GB,\n", "fleet", role=role)

    assert (done.new, done.refused) == (3, 1)
    assert [(one.code, one.line) for one in done.findings] == [("part-without-unit", 5)]


def test_a_row_of_a_role_is_judged_like_any_other(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk:
        desk.take(LIST)
        desk.sign()
        desk.take(LEASED, "fleet", role="lessor")
        case = desk.case("QM-2534-B0200")

    assert case.verdict == "affected"


def test_every_part_knows_the_list_that_it_came_from(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk:
        desk.take(MIXED)
        desk.take(LEASED, "fleet", role="lessor")
        with desk.world.register.look() as tx:
            rows = [*tx.lists.rows("shop"), *tx.lists.rows("fleet")]
        gone = desk.take(
            LEASED.replace("Aldmere Leasing,fleet@leasing.example,GB,QM-2534-B0201\n", ""),
            "fleet",
            role="lessor",
        )

    assert all(row.unit_id and row.owner_id for row in rows)
    assert [row.unit_id for row in rows[:4]] == [rows[0].unit_id] * 4
    assert len({row.unit_id for row in rows}) == 3  # one of the leased units is on both lists
    assert (gone.missing, gone.same) == (1, 2)
