"""Units that were not sold or not delivered are put away, held back, and cleared with why."""

from pathlib import Path

from notices.cases.case import Case, Whereabouts
from notices.work import importing, looking, views
from notices.work.lists import Imported
from tests.folders import LIST, Desk, a_desk

STOCK = """code,place
QM-2534-B0300,Store Aldmere
QM-2534-B0301,Store Aldmere
QM-2520-A0302,Store Aldmere
,Store Aldmere
,Store Aldmere
"""


def put_away(desk: Desk, text: str = STOCK) -> Imported:
    read = importing.read_list(desk.world, data=text.encode(), file="stock.csv", name="stock")
    return importing.import_list(desk.world, read, put_away=True)


def held(desk: Desk) -> list[tuple[str, str]]:
    """Return the codes in stock and what is to be done with each."""
    return [(str(row[2]), str(row[0])) for row in views.view(desk.world, "stock").rows]


def twins(desk: Desk, code: str) -> list[Case]:
    with desk.world.register.look() as tx:
        found = [one.unit_id for one in tx.units.units().values() if one.code == code]
        return sorted((row.case for row in tx.cases.get(found).values()), key=lambda case: case.ending or "")


def test_units_in_stock_are_put_away_and_nobody_is_owed_a_notice(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk:
        done = put_away(desk)
        desk.take()
        desk.sign()
        desk.post()
        case = desk.case("QM-2534-B0300")
        units = looking.status(desk.world).standing
        addresses = sorted(desk.states())

    assert (done.new, done.refused) == (5, 0)
    assert (case.ending, case.whereabouts, case.keeper_id) == ("in_stock", Whereabouts.STOCK, None)
    assert (units.put_away, units.in_hands) == (5, 5)
    assert units.sold == units.in_hands + units.cleared + units.put_away + units.owner_unknown
    assert addresses == ["anna@mail.example", "bernd@post.example", "samir@post.example"]


def test_the_same_stock_twice_changes_nothing(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk:
        put_away(desk)
        with desk.world.register.look() as tx:
            before = [list(one) for one in tx.events.streams("")]
        again = put_away(desk)
        with desk.world.register.look() as tx:
            after = [list(one) for one in tx.events.streams("")]

    assert (again.new, again.changed, again.same, again.missing) == (0, 0, 5, 0)
    assert after == before


def test_a_unit_that_is_gone_from_the_stock_is_asked_after(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk:
        put_away(desk)
        done = put_away(desk, STOCK.replace("QM-2534-B0301,Store Aldmere\n", ""))

    assert done.missing == 1
    assert [(one.code, one.line) for one in done.findings if one.code != "column-wanted"][-1:] == [
        ("list-lacks-rows", 1)
    ]


def test_the_rework_list_clears_with_why(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c", revision=1) as desk:
        put_away(desk)
        desk.sign()
        before = held(desk)
        (desk.root / "lists" / "reworked.txt").write_text("QM-2534-B0300\n", "utf-8")
        desk.edit("otherwise: cleared", "otherwise: cleared\nreworked: [lists/reworked.txt]")
        desk.edit("revision: {number: 1,", "revision: {number: 2,")
        desk.sign()
        after = held(desk)
        case = desk.case("QM-2534-B0300")

    assert ("QM-2534-B0300", "hold back") in before
    assert ("QM-2520-A0302", "cleared: by code") in before
    assert ("QM-2534-B0300", "cleared: reworked") in after
    assert ("QM-2534-B0301", "hold back") in after
    assert [state for _, state in after] == sorted(
        [state for _, state in after], key=lambda text: text[0] == "c"
    )
    assert (case.ending, case.whereabouts) == ("in_stock", Whereabouts.STOCK)


def test_a_unit_in_stock_that_was_sold_after_all_is_said_and_its_owner_warned(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk:
        put_away(desk)
        done = desk.take(LIST + "6,Ada Vale,ada@mail.example,,,,GB,en,QM-2534-B0300,2026-02-26,GB\n")
        again = desk.take(LIST + "6,Ada Vale,ada@mail.example,,,,GB,en,QM-2534-B0300,2026-02-26,GB\n")
        desk.sign()
        desk.post()
        sold, stock = twins(desk, "QM-2534-B0300")
        addresses = desk.states()

    assert [(one.code, one.line) for one in done.findings if one.code.startswith("stock")] == [
        ("stock-was-sold", 7)
    ]
    assert [one.code for one in again.findings if one.code.startswith("stock")] == []
    assert (sold.ending, stock.ending) == (None, "listed_twice")
    assert "ada@mail.example" in addresses


def test_a_list_of_stock_takes_no_unit_out_of_somebodys_hands(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk:
        desk.take()
        done = put_away(desk, "code\nQM-2534-B0172\nQM-2534-B0300\n")
        case = desk.case("QM-2534-B0172")

    assert (done.new, done.refused) == (1, 1)
    assert [(one.code, one.line) for one in done.findings if one.code.startswith("stock")] == [
        ("stock-has-keeper", 2)
    ]
    assert case.ending is None


def test_stock_that_comes_after_the_signature_is_judged(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c", revision=1) as desk:
        desk.take()
        desk.sign()
        put_away(desk)

        assert desk.case("QM-2534-B0300").verdict == "affected"
