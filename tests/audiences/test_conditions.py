"""Conditions on a code are decided yes, no or not at all, and what is not decided never counts as no."""

from datetime import date
from functools import partial

import pytest
from hypothesis import given
from hypothesis import strategies as st

from audiences.code_lists import CodeList, read_codes
from audiences.codes import Layout, Parsed, Part, key_of, read
from audiences.conditions import Conditions, Sign, deciding
from audiences.verdicts import Judge, Judgement, Rule, Verdict, judge

# A sewing machine of ours to try it on: KM, year, week, works, number, whose first digit tells the supplier.
LAYOUT = Layout(
    parts=(
        Part(kind="text", text="KM"),
        Part(kind="iso_year", name="year", size=2),
        Part(kind="iso_week", name="week"),
        Part(kind="one_of", name="works", letters="PRS"),
        Part(kind="digits", name="number", size=3),
    ),
    misread=(frozenset("1I7"),),
)
CODE = "KM2612R407"
YES, NO, OPEN = (
    Conditions(values={"works": ("R",)}),
    Conditions(values={"works": ("P",)}),
    Conditions(values={"colour": ("R",)}),
)


def _decided(conditions: Conditions, code: str = CODE) -> bool | None:
    parsed = read(LAYOUT, code)
    assert isinstance(parsed, Parsed)
    return deciding(conditions, LAYOUT)(parsed)


@pytest.mark.parametrize(
    ("conditions", "expected"),
    [
        (YES, True),
        (NO, False),
        (OPEN, None),
        (Conditions(all_of=(YES, YES)), True),
        (Conditions(all_of=(YES, OPEN)), None),
        (Conditions(all_of=(OPEN, NO)), False),
        (Conditions(any_of=((NO, YES),)), True),
        (Conditions(any_of=((NO, OPEN),)), None),
        (Conditions(any_of=((NO, NO),)), False),
        (Conditions(any_of=((YES,), (NO,))), False),
        (Conditions(any_of=((),)), None),
        (Conditions(none_of=(YES,)), False),
        (Conditions(none_of=(NO,)), True),
        (Conditions(none_of=(OPEN,)), None),
        (Conditions(none_of=(Conditions(),)), None),
        (Conditions(none_of=(Conditions(none_of=(YES,)),)), True),
        (Conditions(signs=(Sign(place=8, one_of="45"),)), True),
        (Conditions(signs=(Sign(place=7, one_of="r"),)), True),
        (Conditions(signs=(Sign(place=8, one_of="5"),)), False),
        (Conditions(signs=(Sign(place=11, one_of="4"),)), None),
        (Conditions(signs=(Sign(place=0, one_of="4"),)), None),
        (Conditions(signs=(Sign(place=8, one_of="-"),)), None),
        (Conditions(lists=(CodeList.of(["km-2612-r407"]),)), True),
        (Conditions(lists=(CodeList.of(["KM2612R408"]),)), False),
        (Conditions(lists=(None,)), None),
        (Conditions(values={"number": ("4" * 70,)}), None),
        (Conditions(), True),
    ],
)
def test_each_condition_is_decided_as_far_as_it_can_be(conditions: Conditions, expected: bool | None) -> None:  # noqa: FBT001 - a case
    assert _decided(conditions) is expected


# Kleene's strong logic of three values (S. C. Kleene, Introduction to Metamathematics, section 64; from memory).
@pytest.mark.property
@given(st.lists(st.sampled_from([YES, NO, OPEN]), max_size=4))
def test_not_any_is_all_not(several: list[Conditions]) -> None:
    if not several:
        return
    not_any = Conditions(none_of=(Conditions(any_of=(tuple(several),)),))
    all_not = Conditions(all_of=tuple(Conditions(none_of=(one,)) for one in several))

    assert _decided(not_any) is _decided(all_not)


# One character at one place may decide alone: makers mark a supplier so (common practice, no source).
def test_one_sign_at_one_place_decides_alone() -> None:
    supplier = Rule(name="supplier", signs=(Sign(place=8, one_of="4"),))
    by = Judge(layout=LAYOUT, rules=(supplier,))

    assert judge(by, "KM-2612-R407") == Judgement(verdict=Verdict.AFFECTED, rule="supplier")
    assert judge(by, "km 0101 p499").verdict is Verdict.AFFECTED
    assert judge(by, "KM2612R507") == Judgement(verdict=Verdict.CLEARED, why="by code")
    assert judge(by, "KM2612R047") == Judgement(
        verdict=Verdict.CLEARED, why="by code", near=True
    )  # 407, swapped


@pytest.mark.property
@given(st.integers(0, 999), st.integers(1, 52), st.sampled_from("PRS"))
def test_a_sign_decides_as_the_text_of_the_code_has_it(number: int, week: int, works: str) -> None:
    code = f"KM26{week:02}{works}{number:03}"

    assert _decided(Conditions(signs=(Sign(place=8, one_of="04"),)), code) is (code[7] in "04")


def test_a_listed_code_is_affected_and_a_slip_from_it_is_near() -> None:
    by = Judge(layout=LAYOUT, rules=(Rule(name="batch", lists=(CodeList.of(["KM2612R107"]),)),))

    assert [judge(by, code) for code in ("KM-2612-R107", "KM2612R707", "KM2612R407")] == [
        Judgement(verdict=Verdict.AFFECTED, rule="batch"),
        Judgement(verdict=Verdict.CLEARED, why="by code", near=True),
        Judgement(verdict=Verdict.CLEARED, why="by code"),
    ]


def test_a_list_that_could_not_be_read_clears_nobody() -> None:
    by = Judge(layout=LAYOUT, rules=(Rule(name="batch", values={"works": ("R",)}, lists=(None,)),))

    assert [judge(by, code).verdict for code in ("KM2612R407", "KM2612S407")] == [
        Verdict.AFFECTED,
        Verdict.CLEARED,
    ]


def test_a_reworked_unit_is_cleared_and_near_while_a_slip_leads_to_one_that_was_not() -> None:
    rules = (Rule(name="works", values={"works": ("R",)}),)
    by = Judge(layout=LAYOUT, rules=rules, reworked=(CodeList.of(["KM2222R888", "KM2222R407"]),))

    assert [judge(by, code) for code in ("KM2222R888", "KM2222R407", "KM2222R406", "KM2222S888")] == [
        Judgement(verdict=Verdict.CLEARED, why="reworked"),
        Judgement(verdict=Verdict.CLEARED, why="reworked", near=True),  # 470 and 047 were not
        Judgement(verdict=Verdict.AFFECTED, rule="works"),
        Judgement(verdict=Verdict.CLEARED, why="by code"),
    ]


def test_while_all_are_affected_until_cleared_a_reworked_unit_is_cleared_by_its_code_alone() -> None:
    by = Judge(layout=LAYOUT, reworked=(CodeList.of(["KM2612R888"]),))
    no_layout = Judge(reworked=(CodeList.of(["KM2612R888"]),))

    assert judge(by, "KM2612R888").why == "reworked"
    assert judge(by, "KM2612R887").verdict is Verdict.AFFECTED
    assert judge(no_layout, "KM2612R888").verdict is Verdict.AFFECTED


WORKS_P = Rule(name="p", values={"works": ("P",)})
SPRING = Rule(name="spring", sold=(date(2026, 3, 1), date(2026, 5, 31)))
WORKS_IN_SPRING = Rule(name="works", values={"works": ("R",)}, sold=(date(2026, 3, 1), date(2026, 5, 31)))
BEFORE, WITHIN, AFTER = date(2026, 2, 28), date(2026, 5, 31), date(2026, 6, 1)
TURNED = Rule(name="turned", sold=(WITHIN, BEFORE))
MISSING = Judgement(verdict=Verdict.MISSING)
BY_DAY = Judgement(verdict=Verdict.CLEARED, why="by day of sale")


@pytest.mark.parametrize(
    ("rules", "code", "sold_on", "expected"),
    [
        ((SPRING,), None, WITHIN, Judgement(verdict=Verdict.AFFECTED, rule="spring")),
        ((SPRING,), None, BEFORE, BY_DAY),
        ((SPRING,), None, None, MISSING),
        # a code does not take a unit out of a rule that goes by the day of sale alone
        ((SPRING,), CODE, WITHIN, Judgement(verdict=Verdict.AFFECTED, rule="spring")),
        ((SPRING,), CODE, AFTER, Judgement(verdict=Verdict.CLEARED, why="by code")),
        ((SPRING,), CODE, None, Judgement(verdict=Verdict.AFFECTED, rule="spring")),
        ((SPRING,), "KM", BEFORE, Judgement(verdict=Verdict.UNREADABLE)),
        # no day of sale clears a code that is affected, and none makes a unit affected that has yet to show its code
        ((WORKS_IN_SPRING,), CODE, AFTER, Judgement(verdict=Verdict.AFFECTED, rule="works")),
        ((WORKS_IN_SPRING,), None, AFTER, BY_DAY),
        ((WORKS_IN_SPRING,), None, WITHIN, MISSING),
        ((WORKS_IN_SPRING,), None, None, MISSING),
        # one rule that only a code can decide keeps every unit without one
        ((SPRING, WORKS_P), None, BEFORE, MISSING),
        ((WORKS_P, SPRING), None, WITHIN, Judgement(verdict=Verdict.AFFECTED, rule="spring")),
        ((TURNED,), None, date(2026, 4, 1), Judgement(verdict=Verdict.AFFECTED, rule="turned")),
        ((Rule(name="one", sold=(WITHIN, WITHIN)),), None, AFTER, BY_DAY),
    ],
)  # fmt: skip
def test_the_day_of_sale_stands_in_where_there_is_no_code(
    rules: tuple[Rule, ...], code: str | None, sold_on: date | None, expected: Judgement
) -> None:
    assert judge(Judge(layout=LAYOUT, rules=rules), code, sold_on) == expected


def test_without_a_layout_units_are_judged_by_their_day_of_sale() -> None:
    by = Judge(rules=(SPRING,))

    assert [judge(by, "some number", day) for day in (WITHIN, AFTER, None)] == [
        Judgement(verdict=Verdict.AFFECTED, rule="spring"),
        BY_DAY,
        Judgement(verdict=Verdict.AFFECTED, rule="all-until-cleared"),
    ]


def test_where_the_rest_is_affected_no_day_of_sale_clears() -> None:
    by = Judge(layout=LAYOUT, rules=(SPRING,), otherwise="affected")

    assert judge(by, None, AFTER) == Judgement(verdict=Verdict.AFFECTED, rule="otherwise")


@pytest.mark.property
@given(
    st.sampled_from([None, CODE, "KM2612S407"]),
    st.none() | st.dates(),
    st.permutations([SPRING, WORKS_IN_SPRING, Rule(name="open", values={"colour": ("red",)})]),
)
def test_a_rule_that_cannot_be_decided_clears_nobody_whatever_else_is_known(
    code: str | None, sold_on: date | None, rules: list[Rule]
) -> None:
    assert judge(Judge(layout=LAYOUT, rules=tuple(rules)), code, sold_on).verdict in {
        Verdict.AFFECTED,
        Verdict.MISSING,
    }


# An iron of ours with a slash that people leave out.
SLASHED = Layout(
    parts=(
        Part(kind="text", text="BG"),
        Part(kind="separator", text="/"),
        Part(kind="digits", name="number", size=3),
    )
)


def test_a_separator_that_is_left_out_changes_neither_list_nor_place() -> None:
    by = Judge(
        layout=SLASHED,
        rules=(
            Rule(name="list", lists=(CodeList.of(["BG401"]),)),
            Rule(name="sign", signs=(Sign(place=3, one_of="7"),)),
        ),
        reworked=(CodeList.of(["BG799"]),),
    )

    assert [judge(by, code).rule for code in ("BG/401", "bg 401", "BG/712", "BG712", "BG/427")] == [
        "list",
        "list",
        "sign",
        "sign",
        "",
    ]
    assert [judge(by, code).why for code in ("BG/799", "BG799")] == ["reworked", "reworked"]


# GS1 General Specifications, 7.9: the check digit of 01234567890 is 5 (3 times the odd places, 85 to the next ten).
def test_a_list_is_read_under_the_keys_of_the_layout() -> None:
    gs1 = Layout(
        parts=(
            Part(kind="whole", name="item", element="01"),
            Part(kind="whole", name="serial", element="21"),
        )
    )
    spelt = b"Serial\n(01)00012345678905(21)A7\n]C1010001234567890521A8\nhttps://id.example/01/012345678905/21/A9\n"
    codes, findings = read_codes(spelt, "lists/a.txt", partial(key_of, gs1))
    by = Judge(layout=gs1, rules=(Rule(name="list", lists=(codes,)),))

    assert (len(codes or ()), findings) == (3, ())
    assert [
        judge(by, f"https://id.example/01/00012345678905/21/{serial}").rule
        for serial in ("A7", "A8", "A9", "B1")
    ] == [
        "list",
        "list",
        "list",
        "",
    ]
    assert read_codes(b"BG/401\nbg401\n", "lists/b.txt", partial(key_of, SLASHED))[0] == CodeList.of(
        ["BG401"]
    )
