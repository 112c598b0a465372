"""Layouts of every kind: what is unclear is named by its line, and clears nobody."""

import pytest

from audiences.codes import Parsed, read
from audiences.findings import Finding
from audiences.verdicts import Judge, Rule, Verdict, judge
from notices.campaign.checks import check
from notices.campaign.layouts import layout_of
from notices.campaign.loading import load
from notices.campaign.models import Campaign
from tests.stove import changed, without

_OLD = """\
  layout:
    - {text: "EM"}
    - {field: year, iso_year: 2}
    - {field: week, iso_week: true}
    - {field: works, one_of: FGH}
    - {field: number, digits: 3}
  example: {code: EM2521F014, year: 2025, week: 21, works: F, number: 14}
"""


def _stove(layout: str) -> tuple[Campaign, str, list[Finding]]:
    """Return the stove with another layout and no rule, its text, and what the check says of the code."""
    text = changed((_OLD, layout), text=without("affected"))
    loaded = load(text)
    assert loaded.campaign is not None, loaded.findings
    found = check(loaded.campaign, loaded.lines, {})
    return loaded.campaign, text, [one for one in found if one.path.startswith("code")]


@pytest.mark.parametrize(
    ("part", "code"),
    [
        ("{field: year, year: 1}", "layout-year-open"),
        ("{field: year, iso_year: 1}", "layout-year-open"),
        ("{field: month, month_letters: ABCDEFGHJKL}", "layout-months"),
        ("{field: month, month_letters: ABCDEFGHJKLA}", "layout-months"),
        ("{field: plant, choice: [P, PL]}", "layout-choices"),
        ("{field: plant, choice: [PL, '-']}", "layout-choices"),
        ("{field: plant, choice: [PL, PL]}", "layout-choices"),
        ('{separator: "-"}', "layout-separator"),
        ('{separator: "/A"}', "layout-separator"),
        ("{field: number, digits: 3, places: 2}", "layout-part-extra"),
        ("{field: number, digits: 3, since: 2019}", "layout-part-extra"),
        ("{field: number, digits: 3, over: [works]}", "layout-part-extra"),
        ("{field: serial, whole: true}", "layout-part-extra"),
        ("{field: serial, check: luhn}", "layout-part-unclear"),
        ('{field: a, separator: "/"}', "layout-part-unclear"),
        ("{field: year, year: 3}", "layout-part-unclear"),
    ],
)
def test_a_part_that_cannot_be_read_by_is_named_and_the_layout_is_left_out(part: str, code: str) -> None:
    campaign, text, found = _stove(f"  layout:\n    - {{field: first, digits: 1}}\n    - {part}\n")
    line = next(at for at, signs in enumerate(text.split("\n"), 1) if part in signs)

    assert [(one.code, one.path, one.line) for one in found] == [(code, "code.layout[1]", line)]
    assert layout_of(campaign.code) is None


@pytest.mark.parametrize(
    ("layout", "code", "says"),
    [
        (["{field: number, digits: 3, element: '21'}", "{text: A}"], "layout-elements-mixed", "element"),
        (["{check: luhn}", "{field: number, digits: 3}"], "layout-check-unfit", "nothing stands before it"),
        (["{text: EM}", "{field: number, digits: 3}", "{check: luhn}"], "layout-check-unfit", "E may stand"),
        (
            ["{field: number, digits: 3}", "{check: luhn, over: [nummer]}"],
            "layout-check-unfit",
            "no field nummer",
        ),
        (
            ["{field: works, one_of: FGH}", "{field: number, digits: 3}", "{check: luhn, over: [works]}"],
            "layout-check-unfit",
            "F may stand",
        ),
    ],
)
def test_parts_that_do_not_go_together_are_named(layout: list[str], code: str, says: str) -> None:
    campaign, text, found = _stove("  layout:\n" + "".join(f"    - {part}\n" for part in layout))
    line = text.split("\n").index("  layout:") + 1

    assert [(one.code, one.path, one.line) for one in found] == [(code, "code.layout", line)]
    assert says in found[0].message
    assert layout_of(campaign.code) is None


_TWO = """\
  layouts:
    until-2024:
      - {text: "EM"}
      - {field: year, year: 2}
      - {field: day, year_day: true}
      - {field: number, digits: 3}
    from-2025:
      - {text: "EM"}
      - {field: year, iso_year: 2}
      - {field: week, iso_week: true}
      - {separator: "/"}
      - {field: works, choice: [FE, GU]}
      - {field: piece, base_34: 2}
      - {check: mod_37_36}
"""


def test_a_family_may_have_several_layouts_each_with_an_example() -> None:
    campaign, _, found = _stove(
        _TWO + "  examples:\n"
        "    - {code: EM24366014, year: 2024, day: 366, number: 14}\n"
        "    - {code: EM2521/FE0AS, year: 2025, week: 21, works: FE, piece: 0A}\n"
    )
    layout = layout_of(campaign.code)

    assert [str(one) for one in found] == []
    assert layout is not None
    assert list(layout.fields) == ["year", "day", "number", "week", "works", "piece"]
    assert isinstance(read(layout, "em2521 fe0as"), Parsed)


def test_a_layout_of_the_family_without_an_example_is_asked_for() -> None:
    _, _, found = _stove(_TWO + "  example: {code: EM24366014, year: 2024, day: 366, number: 14}\n")

    assert [(one.code, one.path) for one in found] == [("example-missing", "code")]


def test_an_example_without_values_is_read_back_and_asked_about() -> None:
    _, text, found = _stove(_TWO + "  example: {code: EM2521/FE0AS}\n")
    line = next(at for at, signs in enumerate(text.split("\n"), 1) if "example:" in signs)

    one = next(one for one in found if one.code == "example-unconfirmed")

    assert (one.path, one.line) == ("code.example", line)
    assert one.message == (
        "EM2521/FE0AS reads as 2521: week 21 of 2025, EM: always the same, /: may be left out, FE: works, one of FE or "
        "GU, 0A: piece 10, counted in base 34 and S: check character, ISO/IEC 7064 MOD 37,36; nobody has said that "
        "this is right"
    )
    assert (
        one.mend
        == "if it is, write the values beside the code, as year: 2025, week: 21, works: FE, piece: 10"
    )


def test_one_field_of_two_sorts_is_named_and_clears_nobody() -> None:
    campaign, text, found = _stove(
        _TWO.replace("{field: week, iso_week: true}", "{field: day, iso_week: true}")
    )
    line = next(at for at, signs in enumerate(text.split("\n"), 1) if "layouts:" in signs)

    assert [(one.code, one.line) for one in found if one.code != "example-missing"] == [
        ("layout-fields-differ", line)
    ]
    assert layout_of(campaign.code) is None


def test_a_rule_on_a_field_that_a_code_is_built_without_does_not_clear_it() -> None:
    campaign, _, _ = _stove(_TWO)
    rules = (Rule(name="week", ranges={"week": ("2501", "2510")}),)
    judged = [
        judge(Judge(layout=layout_of(campaign.code), rules=rules), code).verdict
        for code in ("EM24366014", "EM2505FE0AS", "EM2521FE0AS")
    ]

    assert judged == [Verdict.AFFECTED, Verdict.AFFECTED, Verdict.CLEARED]
