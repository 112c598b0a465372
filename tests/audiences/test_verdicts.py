"""The affected rule judges units; to clear is harder than to suspect."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from audiences.codes import Layout, Part
from audiences.verdicts import ALL_UNTIL_CLEARED, OTHERWISE, Judge, Judgement, Rule, Verdict, judge

LAYOUT = Layout(
    parts=(
        Part(kind="text", text="QM-"),
        Part(kind="iso_year", name="year", size=2),
        Part(kind="iso_week", name="week"),
        Part(kind="text", text="-"),
        Part(kind="one_of", name="line", letters="ABCD"),
        Part(kind="digits", name="number", size=4),
    ),
    misread=(frozenset("BD8"), frozenset("0ODQ"), frozenset("1IL7")),
)
LINE_B = Rule(name="line-b", ranges={"week": ("2518", "2547")}, values={"line": ("B",)})
LINE_C = Rule(name="line-c", ranges={"line": ("C", "C"), "week": ("2531", "2534")})
JUDGE = Judge(layout=LAYOUT, rules=(LINE_B, LINE_C))
UNREADABLE = Judgement(verdict=Verdict.UNREADABLE)
MISSING = Judgement(verdict=Verdict.MISSING)
CLEARED = Judgement(verdict=Verdict.CLEARED, why="by code")
NEAR = Judgement(verdict=Verdict.CLEARED, why="by code", near=True)


def _affected(rule: str) -> Judgement:
    return Judgement(verdict=Verdict.AFFECTED, rule=rule)


@pytest.mark.parametrize(
    ("code", "expected"),
    [
        ("QM-2534-B0172", _affected("line-b")),
        ("QM-2518-B0001", _affected("line-b")),
        ("QM-2547-B9999", _affected("line-b")),
        ("QM-2534-C0172", _affected("line-c")),
        ("qm2531c0001", _affected("line-c")),
        ("QM-2530-C0001", CLEARED),
        ("QM-2548-B0001", CLEARED),
        ("QM-2534-A0172", CLEARED),
        ("QM-2534-D0172", NEAR),  # B0172 with the B read as a D
        ("ＱＭ－２５３４－Ｄ０１７２", NEAR),  # noqa: RUF001 - full width
        ("\u202eQM-2534-D0172", NEAR),
        ("QM-2534-80172", UNREADABLE),
        ("QM-2534-BO172", UNREADABLE),
        ("QM-2453-A0001", UNREADABLE),
        ("unbekannt", UNREADABLE),
        (None, MISSING),
        ("", MISSING),
        (" - ", MISSING),
    ],
)
def test_a_unit_is_judged_by_its_code(code: str | None, expected: Judgement) -> None:
    assert judge(JUDGE, code) == expected


def test_swapped_digits_of_an_affected_week_are_near() -> None:
    only_week_21 = Judge(layout=LAYOUT, rules=(Rule(name="w", ranges={"week": ("2521", "2521")}),))

    assert judge(only_week_21, "QM-2512-A0001") == NEAR
    assert judge(only_week_21, "QM-2513-A0001") == CLEARED


def test_weeks_are_compared_decoded_and_not_as_text() -> None:
    over_new_year = Judge(layout=LAYOUT, rules=(Rule(name="w", ranges={"week": ("2552", "2602")}),))

    assert [
        judge(over_new_year, f"QM-{week}-A3344").verdict for week in ("2552", "2601", "2603", "2551")
    ] == [
        Verdict.AFFECTED,
        Verdict.AFFECTED,
        Verdict.CLEARED,
        Verdict.CLEARED,
    ]


def test_a_foreign_code_is_near_where_our_text_would_make_it_affected() -> None:
    assert judge(JUDGE, "XY-2534-B0172") == Judgement(verdict=Verdict.FOREIGN, near=True)
    assert judge(JUDGE, "XY-2534-D0172") == Judgement(verdict=Verdict.FOREIGN, near=True)
    assert judge(JUDGE, "XY-2534-A0172") == Judgement(verdict=Verdict.FOREIGN)


def test_without_rules_all_are_affected_until_cleared() -> None:
    all_of_them = Judge(layout=LAYOUT)

    assert judge(all_of_them, "QM-2534-A0172") == _affected(ALL_UNTIL_CLEARED)
    assert judge(all_of_them, None) == MISSING
    assert judge(all_of_them, "QM-2534-80172") == UNREADABLE
    assert judge(all_of_them, "XY-2534-A0172").verdict is Verdict.FOREIGN


@pytest.mark.parametrize("rules", [(), (LINE_B,)])
def test_without_a_layout_no_code_clears_a_unit(rules: tuple[Rule, ...]) -> None:
    assert judge(Judge(rules=rules), "QM-2534-A0172") == _affected(ALL_UNTIL_CLEARED)
    assert judge(Judge(rules=rules), None) == MISSING


def test_where_the_rest_is_affected_no_code_clears_a_unit() -> None:
    rest = Judge(layout=LAYOUT, rules=(LINE_B,), otherwise="affected")

    assert judge(rest, "QM-2534-A0172") == _affected(OTHERWISE)


@pytest.mark.parametrize(
    "rule",
    [
        Rule(name="r"),
        Rule(name="r", ranges={"year": (2025, 2025)}),
        Rule(name="r", ranges={"year": ("24", "2025")}),
        Rule(name="r", ranges={"number": ("0100", 200)}),
        Rule(name="r", ranges={"number": (200, 100)}),  # the wrong way round
        Rule(name="r", values={"week": ("2533", "2534")}),
        Rule(name="r", values={"line": ("a", "b")}),
        Rule(name="r", values={"line": ()}),
        # conditions that cannot be decided clear nobody
        Rule(name="r", ranges={"colour": ("A", "B")}),
        Rule(name="r", values={"colour": ("A",)}),
        Rule(name="r", ranges={"week": ("2453", "2454")}),
        Rule(name="r", values={"week": ("2453",)}),
        Rule(name="r", ranges={"year": ("next", "year")}),
        Rule(name="r", ranges={"number": ("many", "more")}),
    ],
)
def test_a_condition_is_read_as_its_field_and_clears_nobody_where_it_cannot_be(rule: Rule) -> None:
    assert judge(Judge(layout=LAYOUT, rules=(rule,)), "QM-2534-B0172") == _affected("r")


def test_a_week_without_a_year_in_the_layout_is_compared_as_a_number() -> None:
    layout = Layout(parts=(Part(kind="iso_week", name="week"),), misread=())
    weeks = Judge(layout=layout, rules=(Rule(name="w", ranges={"week": (9, 10)}),))

    assert [judge(weeks, week).verdict for week in ("09", "10", "11")] == [
        Verdict.AFFECTED,
        Verdict.AFFECTED,
        Verdict.CLEARED,
    ]


@pytest.mark.property
@given(st.integers(18, 47), st.integers(0, 9999), st.data())
def test_no_single_slip_on_an_affected_code_clears_it_without_doubt(
    week: int, number: int, data: st.DataObject
) -> None:
    key = list(f"QM25{week:02}B{number:04}")
    place = data.draw(st.integers(0, len(key) - 1))
    if data.draw(st.booleans()) and place:
        key[place - 1], key[place] = key[place], key[place - 1]
    else:
        likes = [alike for alike in LAYOUT.misread if key[place] in alike]
        key[place] = data.draw(st.sampled_from(sorted(set().union(*likes) or {key[place]})))
    verdict = judge(JUDGE, "".join(key))

    assert verdict.near or verdict.verdict in {Verdict.AFFECTED, Verdict.UNREADABLE}


@pytest.mark.property
@given(st.none() | st.text(alphabet=st.characters(exclude_categories=()), max_size=80))
def test_no_text_whatever_lets_a_unit_go_unless_it_reads_as_a_code(code: str | None) -> None:
    assert judge(JUDGE, code).verdict in set(Verdict)
    assert judge(Judge(), code).verdict in {Verdict.AFFECTED, Verdict.MISSING}


def _week(text: str) -> tuple[int, int]:
    return 2000 + int(text[:2]), int(text[2:])


# ISO 8601: 2020 has a week 53, 2019 and 2021 have none. Ends over New Year, turned round, alike, and last weeks.
_ENDS = ("1952", "2001", "2052", "2053", "2101", "2102")


@pytest.mark.parametrize("first", _ENDS)
@pytest.mark.parametrize("last", _ENDS)
def test_a_range_of_weeks_holds_what_lies_between_its_ends_however_they_are_given(
    first: str, last: str
) -> None:
    by = Judge(layout=LAYOUT, rules=(Rule(name="w", ranges={"week": (first, last)}),))
    low, high = sorted((_week(first), _week(last)))

    assert {week: judge(by, f"QM-{week}-A1111").verdict is Verdict.AFFECTED for week in _ENDS} == {
        week: low <= _week(week) <= high for week in _ENDS
    }


@pytest.mark.parametrize("week", ["1953", "2153", "2000", "2099"])
def test_a_range_up_to_a_week_that_does_not_exist_clears_nobody(week: str) -> None:
    by = Judge(layout=LAYOUT, rules=(Rule(name="w", ranges={"week": ("2001", week)}),))

    assert {judge(by, f"QM-{each}-A1111").verdict for each in _ENDS} == {Verdict.AFFECTED}


@pytest.mark.property
@given(st.integers(0, 9999), st.integers(0, 9999), st.integers(0, 9999))
def test_a_range_of_numbers_is_its_numbers_and_nothing_beside_them(
    first: int, last: int, number: int
) -> None:
    by = Judge(layout=LAYOUT, rules=(Rule(name="n", ranges={"number": (first, last)}),))
    judgement = judge(by, f"QM-2534-A{number:04}")

    assert (judgement.verdict is Verdict.AFFECTED) is (min(first, last) <= number <= max(first, last))
