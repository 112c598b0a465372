"""Findings that are alike: one for many, in reading order, and a table of all."""

from dataclasses import replace

from audiences.alike import FEWEST, HEADINGS, as_rows, grouped
from audiences.findings import Finding, Severity

ONE = Finding(
    code="phone-unusable",
    file="till.csv",
    line=2,
    path="Mobil",
    message="the telephone number cannot be used",
    mend="write it with its country code",
    severity=Severity.CONSIDER,
)


def many(count: int, *, first: int = 2) -> list[Finding]:
    """Return the same finding in so many rows."""
    return [replace(ONE, line=line) for line in range(first, first + count)]


def test_a_few_findings_are_told_one_by_one() -> None:
    assert grouped(reversed(many(FEWEST))) == many(FEWEST)


def test_thousands_alike_are_one_that_counts_and_names_the_first_rows() -> None:
    (found,) = grouped([*many(4812, first=7), *many(5, first=7)])

    assert found == replace(
        ONE, line=7, message="the telephone number cannot be used; so in 4,812 rows, first rows 7, 8, 9"
    )


def test_what_differs_in_a_number_is_alike_all_the_same() -> None:
    findings = [replace(one, message=f"this row names the unit of line {one.line}") for one in many(11)]

    (found,) = grouped(findings)

    assert found.message == "this row names the unit of line 2 (or alike); so in 11 rows, first rows 2, 3, 4"


def test_another_column_code_or_file_is_another_group() -> None:
    other = [replace(one, path="Telefon") for one in many(3)]

    found = grouped([*many(11), *other, *(replace(one, file="web.csv") for one in many(11))])

    assert [(one.file, one.path, one.line) for one in found] == [
        ("till.csv", "Mobil", 2),
        ("till.csv", "Telefon", 2),
        ("till.csv", "Telefon", 3),
        ("till.csv", "Telefon", 4),
        ("web.csv", "Mobil", 2),
    ]


def test_findings_of_the_whole_file_are_never_counted_as_rows() -> None:
    whole = [replace(ONE, line=None, message=f"of the whole file {number}") for number in range(FEWEST + 5)]

    assert len(grouped(whole)) == FEWEST + 5


def test_every_finding_is_a_row_of_the_table() -> None:
    rows = as_rows([*reversed(many(2)), replace(ONE, line=None)])

    assert [len(row) for row in rows] == [len(HEADINGS)] * 3
    assert [row[1] for row in rows] == ["", 2, 3]
    assert rows[1] == (
        "till.csv",
        2,
        "Mobil",
        "consider",
        "the telephone number cannot be used",
        "phone-unusable",
        "write it with its country code",
    )
