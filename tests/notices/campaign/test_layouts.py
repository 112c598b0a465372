"""The judge of a campaign clears by a clear layout alone; whatever is unclear leaves every unit affected."""

import pytest

from audiences.codes import COMMON_MISREADS, Layout, Part
from audiences.proposing import propose
from audiences.verdicts import Judge, Rule, Verdict, judge
from notices.campaign.layouts import judge_of, layout_of
from notices.campaign.models import Code, LayoutPart
from tests.stove import a_stove, without


def test_the_stoves_judge_is_what_its_file_says() -> None:
    assert judge_of(a_stove(), {}) == Judge(
        layout=Layout(
            parts=(
                Part(kind="text", text="EM"),
                Part(kind="iso_year", name="year", size=2),
                Part(kind="iso_week", name="week", size=2),
                Part(kind="one_of", name="works", size=1, letters="FGH"),
                Part(kind="digits", name="number", size=3),
            ),
            hidden=4,
            misread=(frozenset("0ODQ"), frozenset("1IL7"), frozenset("FEP")),
        ),
        rules=(Rule(name="works-f", ranges={"week": ("2514", "2533")}, values={"works": ("F",)}),),
        otherwise="cleared",
    )


@pytest.mark.parametrize(
    ("code", "verdict"),
    [
        ("EM2521F014", Verdict.AFFECTED),
        ("EM2514F014", Verdict.AFFECTED),
        ("EM2533F014", Verdict.AFFECTED),
        ("EM2534F014", Verdict.CLEARED),
        ("EM2521G014", Verdict.CLEARED),
        ("EM2599F014", Verdict.UNREADABLE),
        ("XY2521F014", Verdict.FOREIGN),
        (None, Verdict.MISSING),
    ],
)
def test_the_judge_decides_by_the_rule(code: str | None, verdict: Verdict) -> None:
    assert judge(judge_of(a_stove(), {}), code).verdict is verdict


def test_a_list_of_letters_is_a_choice_and_no_range() -> None:
    campaign = a_stove(('works: F, week: ["2514", "2533"]', "works: [F, H]"))

    assert [judge(judge_of(campaign, {}), f"EM2521{letter}014").verdict for letter in "FGH"] == [
        Verdict.AFFECTED,
        Verdict.CLEARED,
        Verdict.AFFECTED,
    ]


def test_without_a_rule_every_unit_is_affected_until_cleared() -> None:
    campaign = a_stove(text=without("affected"))

    assert judge(judge_of(campaign, {}), "EM2521G014").rule == "all-until-cleared"


def test_without_misread_signs_the_common_ones_hold() -> None:
    campaign = a_stove(('  misread: [["0", O, D, Q], ["1", I, L, "7"], [F, E, P]]\n', ""))
    layout = judge_of(campaign, {}).layout
    assert layout is not None

    assert layout.misread == COMMON_MISREADS


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("{field: works, one_of: FGH}", "{field: works}"),
        ("{field: works, one_of: FGH}", "{field: works, one_of: FGH, digits: 1}"),
        ("{field: works, one_of: FGH}", "{one_of: FGH}"),
        ('{text: "EM"}', '{text: "EM", field: brand}'),
        ("iso_year: 2", "iso_year: 3"),
        ("{field: number, digits: 3}", "{field: works, digits: 3}"),
    ],
)
def test_an_unclear_layout_clears_nobody(old: str, new: str) -> None:
    campaign = a_stove((old, new))

    assert judge(judge_of(campaign, {}), "EM2540G014").verdict is Verdict.AFFECTED


@pytest.mark.parametrize("code", [None, Code(), Code(layout=(LayoutPart(text="EM"),))])
def test_without_a_field_no_code_clears(code: Code | None) -> None:
    campaign = a_stove().model_copy(update={"code": code})

    assert judge_of(campaign, {}).layout is None


@pytest.mark.parametrize(
    "codes",
    [
        ["QM-2534-B0172", "QM-2518-A0031", "QM-2547-D1204"],
        ["DE2403-0A1F", "DE2403-0B2G", "PL2404-00ZZ", "DE2411-19AA"],
        ["AB25K01", "AB25A02", "AB24C07", "X100", "X101"],
        ["250100018", "250301229", "251102006", "241211012", "250100175"],
        ["(01)09506000134352(10)AB1(11)250131(21)12"],
    ],
)
def test_a_proposal_written_into_the_file_is_the_layout_that_was_proposed(codes: list[str]) -> None:
    proposed = propose(codes)
    code = Code.model_validate(_tuples(proposed.as_data))

    assert proposed.layout is not None
    assert layout_of(code) == proposed.layout


def _tuples(value: object) -> object:
    """Return plain data as the reader of the file gives it: lists as tuples."""
    if isinstance(value, dict):
        return {key: _tuples(inner) for key, inner in value.items()}
    return tuple(map(_tuples, value)) if isinstance(value, list) else value
