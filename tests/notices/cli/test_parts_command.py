"""Who has which part in a unit, and what is held back, typed."""

from tests.commands import Desk

PAID = "code,name,email,country,role\nQM-2534-B0172,Ben Quill,ben@mail.example,GB,buyer\n"


def test_a_case_says_who_paid_for_a_refund_goes_there(desk: Desk) -> None:
    desk.imported()
    without = desk.type("case", "QM-2534-B0172")
    desk.type("owners", "import", str(desk.write("paid.csv", PAID)), "--yes")
    said = desk.type("case", "QM-2534-B0172")
    (found,) = desk.type("case", "QM-2534-B0172", "--format", "json").json
    roles = {one["role"]: one for one in found["holders"]}

    assert "refund" not in without.out
    assert "    buyer Ben Quill, GB, writes en\n" in said.out
    assert "    a refund goes to Ben Quill, who paid\n" in said.out
    assert set(roles) == {"keeper", "buyer"}
    assert found["refund_to"] is not None


def test_what_was_not_sold_is_held_back_and_can_be_handed_on(desk: Desk) -> None:
    stock = desk.write("store.csv", "code\nQM-2534-B0300\nQM-2534-B0301\n")
    said = desk.type("owners", "import", str(stock), "--put-away", "--yes")
    status = desk.type("status", "--format", "json").json
    desk.type("owners", "export", "stock", "--to", "rework.csv")
    rows = (desk.folder / "rework.csv").read_text("utf-8-sig").splitlines()

    assert "2 new, 0 changed, 0 as before, 0 refused." in said.out
    assert status["units"]["put_away"] == 2
    assert rows[0] == '"what to do","unit","code","verdict","why","judged by","list"'
    assert sorted(row.split(",")[2] for row in rows[1:]) == ['"QM-2534-B0300"', '"QM-2534-B0301"']
    assert all(row.startswith('"hold back",') for row in rows[1:])
