"""What a spreadsheet made of codes and numbers before it wrote them into a CSV file."""

import pytest

from audiences.columns import guess, read_rows
from audiences.findings import Finding, Severity
from audiences.owners import ListedRow
from audiences.tables import read_csv

HEAD = "Auftragsnr;Seriennr;Name;Telefon;Kundennr;PLZ;Straße;Ort;Datum;E-Mail\n"


def read(row: str) -> tuple[ListedRow, tuple[Finding, ...]]:
    """Read one row as a German office program writes it."""
    table = read_csv((HEAD + row).encode(), "till.csv")
    (listed,), findings = read_rows(table, guess(table.headings), default_country="DE")
    return listed, findings


@pytest.mark.parametrize("cell", ["4,5E+12", "4.5E+12", "4E+12", "4,50012e+12", " 2,0E+05 "])
def test_a_long_number_that_was_written_in_powers_is_read_as_not_given(cell: str) -> None:
    listed, findings = read(
        f"{cell};{cell};Anna Berg;{cell};{cell};10115;Quai 2;Berlin;01.09.2025;a@mail.example"
    )

    assert (listed.sale, listed.code, listed.phone, listed.customer) == (None, None, None, None)
    assert [(one.code, one.line, one.path) for one in findings] == [
        ("cell-digits-lost", 2, heading) for heading in ("Auftragsnr", "Seriennr", "Kundennr", "Telefon")
    ]
    assert {one.severity for one in findings} == {Severity.MUST_MEND}
    assert str(findings[1]).startswith("till.csv:2: must mend [cell-digits-lost] Seriennr: ")


@pytest.mark.parametrize("cell", ["01. Mai", "1-May", "Mai 25", "Mrz. 34", "Sep-25", "12. Dez", "Okt 31"])
def test_a_code_that_became_a_day_is_pointed_out_and_kept(cell: str) -> None:
    listed, findings = read(f"1;{cell};Anna Berg;;;10115;Quai 2;Berlin;01.09.2025;a@mail.example")

    assert listed.code == cell
    assert [str(one).partition(":")[0] + f":{one.line} [{one.code}] {one.path}" for one in findings] == [
        "till.csv:2 [cell-stored-as-day] Seriennr"
    ]


@pytest.mark.parametrize(
    "cell", ["QM-2534-B0172", "MAI-2534", "E+12", "4E12", "25-34", "Mai", "2025-05-01", "SEP 2534", "1+1"]
)
def test_a_code_that_looks_like_none_of_these_is_a_code(cell: str) -> None:
    listed, findings = read(f"1;{cell};Anna Berg;;;10115;Quai 2;Berlin;01.09.2025;a@mail.example")

    assert (listed.code, findings) == (cell, ())
