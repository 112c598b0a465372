"""Every field of a list with every hostile text: the row is taken or refused in words, and the good ones go on."""

import csv
import io
import unicodedata
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from audiences.cleaning import one_line
from audiences.findings import Finding
from notices.work import importing
from notices.work.lists import Imported
from tests.folders import LIST, Desk, a_desk
from tests.hostile import HOSTILE_TEXTS, HOSTILE_WRITABLE, hostile_texts
from tests.workbooks import sheet_xml, xlsx

HEADINGS = LIST.splitlines()[0].split(",")
GOOD = [
    "G",
    "Good Owner",
    "good@mail.example",
    "020 7946 0018",
    "Quay 1",
    "Dunmarrow",
    "GB",
    "en",
    "QM-2534-B0172",
]
GOOD += ["2025-09-01", "GB"]


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Desk]:
    with a_desk(tmp_path_factory.mktemp("hostile") / "c") as found:
        yield found


def _row(field: str, text: str, number: int) -> list[str]:
    row = [
        f"S{number}",
        f"Owner {number}",
        f"o{number}@mail.example",
        *[""] * 3,
        "GB",
        "en",
        f"QM-2534-C{number:04}",
    ]
    row += ["2025-09-01", "GB"]
    row[HEADINGS.index(field)] = text
    return row


def _csv(rows: list[list[str]]) -> bytes:
    text = io.StringIO(newline="")
    csv.writer(text).writerows([HEADINGS, *rows])
    return text.getvalue().encode("utf-8", "surrogatepass")


def _take(desk: Desk, data: bytes, name: str) -> Imported:
    read = importing.read_list(desk.world, data=data, file=f"{name}.csv", name=name)
    assert read.columns is not None
    return importing.import_list(desk.world, read)


def _worded(findings: tuple[Finding, ...]) -> bool:
    return all(one.file and one.line and one.message and one.mend for one in findings)


@pytest.mark.parametrize("field", HEADINGS)
def test_every_hostile_text_in_a_field_is_taken_or_found_and_the_good_row_goes_on(
    desk: Desk, field: str
) -> None:
    texts = [text for text in HOSTILE_TEXTS if len(text) < 100_000]
    rows = [_row(field, text, number) for number, text in enumerate(texts)]
    name = f"field {field}"
    done = _take(desk, _csv([*rows, GOOD]), name)
    with desk.world.register.look() as tx:
        kept = {row.row_no: row for row in tx.lists.rows(name)}
        owners = tx.people.owners([row.owner_id for row in kept.values() if row.owner_id])

    assert done.new + done.changed + done.same + done.refused >= len(rows) + 1
    assert done.refused <= sum(
        "\0" in text or any("\ud800" <= sign <= "\udfff" for sign in text) for text in texts
    )
    assert _worded(done.findings)
    assert "Good Owner" in {owner.name for owner in owners.values()}
    assert all(owner.name == one_line(owner.name)[:200] for owner in owners.values())
    assert [owner.name for owner in owners.values() if _steers(owner.name)] == []


def _steers(name: str) -> bool:
    """Tell whether a name holds a sign that steers: a control, a format sign that joins no letters, half a sign."""
    kinds = {unicodedata.category(sign) for sign in name if sign not in "\u200c\u200d"}
    return bool(kinds & {"Cc", "Cf", "Cs", "Zl", "Zp"})


def test_a_row_that_is_refused_says_which_line_and_why(desk: Desk) -> None:
    rows = [_row("name", text, 900 + number) for number, text in enumerate(("An\x00na", "An\ud800na"))]
    done = _take(desk, _csv([GOOD, *rows]), "refused")

    assert done.refused == 2
    assert [(one.code, one.line) for one in done.findings if one.code == "row-broken"] == [
        ("row-broken", 3),
        ("row-broken", 4),
    ]


def test_headings_that_are_hostile_are_columns_nobody_reads(desk: Desk) -> None:
    headings = [
        text for text in HOSTILE_WRITABLE if one_line(text) and "\0" not in text and len(text) < 1_000
    ]
    text = io.StringIO(newline="")
    csv.writer(text).writerows([["code", "email", *headings], ["QM-2534-B0190", "h@mail.example", *headings]])
    read = importing.read_list(desk.world, data=text.getvalue().encode(), file="h.csv", name="h")
    assert read.columns is not None
    importing.import_list(desk.world, read)
    again = importing.read_list(desk.world, data=text.getvalue().encode(), file="h.csv", name="h")

    assert again.columns == read.columns
    assert len(read.columns.ignored) >= len(headings) - 1


@pytest.mark.property
@settings(max_examples=25, suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)
@given(st.lists(st.lists(hostile_texts(), min_size=11, max_size=11), min_size=1, max_size=4))
def test_no_rows_of_hostile_texts_break_an_import(desk: Desk, rows: list[list[str]]) -> None:
    done = _take(desk, _csv([GOOD, *rows]), "drawn")

    assert done.new + done.changed + done.same >= 1
    assert _worded(tuple(one for one in done.findings if one.code != "list-lacks-rows"))


@pytest.mark.property
@settings(max_examples=10, suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)
@given(st.lists(st.lists(hostile_texts(writable=True), min_size=11, max_size=11), min_size=1, max_size=3))
def test_no_sheet_of_hostile_texts_breaks_an_import(desk: Desk, rows: list[list[str]]) -> None:
    legal = [
        ["".join(sign for sign in text if sign in "\t\n\r" or sign >= " ") for text in row] for row in rows
    ]
    data = xlsx({"S": sheet_xml([HEADINGS, GOOD, *legal]).replace("\ufffe", "").replace("\uffff", "")})
    read = importing.read_list(desk.world, data=data, file="drawn.xlsx", name="drawn sheet")

    assert read.columns is not None
    done = importing.import_list(desk.world, read)
    assert done.new + done.changed + done.same >= 1


def test_the_same_hostile_list_twice_changes_nothing(tmp_path: Path) -> None:
    rows = [_row("name", text, number) for number, text in enumerate(HOSTILE_WRITABLE) if "\0" not in text]
    with a_desk(tmp_path / "c") as desk:
        first = _take(desk, _csv(rows), "twice")
        again = _take(desk, _csv(rows), "twice")

    assert first.new == len(rows)
    assert (again.new, again.changed, again.same) == (0, 0, len(rows))
