"""Rules that take nothing, too much or the same are found on their line."""

from datetime import date

import pytest

from audiences.code_lists import CodeList
from audiences.findings import Finding
from audiences.verdicts import Verdict, judge
from notices.campaign.checks import check
from notices.campaign.layouts import judge_of
from notices.campaign.loading import load
from notices.campaign.models import Campaign
from tests.stove import WHOLE, changed

_PICTURES = {"pictures/stove.png": b"\x89PNG\r\n\x1a\n", "pictures/base.png": b"\xff\xd8\xff"}
_RULE = '  - {rule: works-f, works: F, week: ["2514", "2533"]}\n'
_LISTS = {"lists/a.txt": CodeList.of(["EM2521F014", "EM2521G015", "EM2540H001"])}


def _campaign(rules: str) -> tuple[Campaign, dict[str, int]]:
    loaded = load(changed((_RULE, rules)))
    assert loaded.campaign is not None, "\n".join(map(str, loaded.findings))
    return loaded.campaign, dict(loaded.lines)


def _found(rules: str, lists: dict[str, CodeList] | None = None) -> list[Finding]:
    campaign, lines = _campaign(rules)
    return list(check(campaign, lines, _PICTURES, _LISTS if lists is None else lists))


@pytest.mark.parametrize(
    ("rules", "code", "path"),
    [
        # two conditions on one code that contradict each other
        ('{rule: a, year: "24", week: ["2514", "2533"]}', "rule-empty", "affected[0]"),
        ('{rule: a, all: [{week: ["2501", "2510"]}, {week: ["2511", "2520"]}]}', "rule-empty", "affected[0]"),
        ("{rule: a, works: F, not: {works: F}}", "rule-empty", "affected[0]"),
        ("{rule: a, works: F, any: [{works: G}, {works: H}]}", "rule-empty", "affected[0]"),
        ("{rule: a, sign: {place: 7, one_of: K}}", "rule-empty", "affected[0]"),
        ('{rule: a, sign: {place: 1, one_of: "5"}}', "rule-empty", "affected[0]"),
        ('{rule: a, number: [100, 199], sign: {place: 8, one_of: "2"}}', "rule-empty", "affected[0]"),
        ('{rule: a, codes: lists/a.txt, week: ["2530", "2539"]}', "rule-empty", "affected[0]"),
        ("{rule: a, sign: {place: 11, one_of: K}}", "rule-place-outside", "affected[0]"),
        ("{rule: a, any: []}", "rule-without-condition", "affected[0]"),
        ("{rule: a, not: {}}", "rule-without-condition", "affected[0].not"),
        ("{rule: a, any: [{works: F}, {}]}", "rule-without-condition", "affected[0].any[1]"),
        ("{rule: a, any: [{works: K}]}", "rule-value-unfit", "affected[0].any[0].works"),
        ("{rule: a, all: [{not: {line: K}}]}", "rule-field-unknown", "affected[0].all[0].not.line"),
        ("{rule: a, sold: [2025-05-01]}", "sale-days-form", "affected[0].sold"),
        ("{rule: a, sold: [2025-06-01, 2025-05-01]}", "sale-days-turned", "affected[0].sold"),
    ],
)
def test_a_rule_that_cannot_do_its_work_is_found(rules: str, code: str, path: str) -> None:
    line = WHOLE[: WHOLE.index(_RULE)].count("\n") + 1

    assert (code, line, path) in [(one.code, one.line, one.path) for one in _found(f"  - {rules}\n")]


@pytest.mark.parametrize(
    ("rules", "code", "message"),
    [
        (
            '{rule: b, works: F, week: ["2520", "2522"]}',
            "rule-unreachable",
            "every code that meets it meets an earlier rule too, as works-f, and is told so under that name",
        ),
        (
            "{rule: b, codes: lists/b.txt}",
            "rule-unreachable",
            "every code that meets it meets an earlier rule too, as works-f, and is told so under that name",
        ),
        (
            '{rule: b, sign: {place: 10, one_of: "7"}}',
            "rules-overlap",
            "some codes are affected by works-f too, and are told so under that name",
        ),
        (
            "{rule: b, codes: lists/a.txt}",
            "rules-overlap",
            "some codes are affected by works-f too, and are told so under that name",
        ),
    ],
)
def test_a_rule_that_takes_what_an_earlier_one_takes_is_found(rules: str, code: str, message: str) -> None:
    lists = _LISTS | {"lists/b.txt": CodeList.of(["EM2521F014", "EM2521F015"])}
    line = WHOLE[: WHOLE.index(_RULE)].count("\n") + 2
    found = _found(f"{_RULE}  - {rules}\n", lists)

    assert [(one.code, one.line, one.path, one.message) for one in found] == [
        (code, line, "affected[1]", message)
    ]


def test_the_one_code_of_a_long_list_that_only_its_rule_takes_is_not_overlooked() -> None:
    inside = [f"EM2521F{number:03}" for number in range(1_000)] + [
        f"EM2522F{number:03}" for number in range(1_000)
    ]
    lists = {
        "lists/b.txt": CodeList.of([*inside, *(f"EM2523F{n:03}" for n in range(999)), "EM2550G001", "no"])
    }
    found = _found(f"{_RULE}  - {{rule: b, codes: lists/b.txt}}\n", lists)

    assert [one.code for one in found] == ["rules-overlap", "code-list-unread"]


@pytest.mark.parametrize(
    "rules",
    [
        '{rule: a, year: "25", week: ["2452", "2533"]}',
        '{rule: a, sign: {place: 7, one_of: FG}, not: {week: ["2514", "2533"]}}',
        '{rule: a, number: [195, 308], sign: {place: 9, one_of: "1"}}',
        "{rule: a, codes: lists/a.txt}",
        "{rule: a, any: [{works: F}, {all: [{works: G}, {not: {number: [0, 99]}}]}]}",
    ],
)
def test_a_sound_rule_has_no_finding(rules: str) -> None:
    assert _found(f"  - {rules}\n") == []


@pytest.mark.parametrize(
    "rules",
    ["{rule: a, sold: [2025-05-01, 2025-05-01]}", "{rule: a, works: F, sold: [2025-05-01, 2025-07-31]}"],
)
def test_where_days_of_sale_clear_the_cleared_text_has_to_fit(rules: str) -> None:
    text = changed((_RULE, f"  - {rules}\n"))
    [finding] = _found(f"  - {rules}\n")

    assert (finding.code, finding.line, finding.severity) == (
        "cleared-without-code",
        text[: text.index("  cleared: As far")].count("\n") + 1,
        "consider",
    )
    assert _found(f"  - {rules}\n{_RULE.replace('works-f', 'b').replace('F', 'G')}") == []


def test_days_of_sale_that_two_rules_name_are_found() -> None:
    rules = "".join(
        f"  - {{rule: {name}, sold: [{first}, {last}]}}\n"
        for name, first, last in (
            ("spring", "2025-03-01", "2025-05-31"),
            ("may", "2025-05-01", "2025-05-31"),
            ("early", "2025-05-31", "2025-07-01"),
            ("late", "2025-07-02", "2025-08-01"),
        )
    )
    found = _found(f"{_RULE}{rules}  - {{rule: b, works: G, sold: [2025-03-01, 2025-05-31]}}\n")

    assert [(one.code, one.path, one.message.split(" days")[0]) for one in found] == [
        ("sale-days-overlap", "affected[2].sold", "all of these"),
        ("sale-days-overlap", "affected[3].sold", "some of these"),
        ("sale-days-overlap", "affected[3].sold", "some of these"),
    ]
    assert found[0].line == WHOLE[: WHOLE.index(_RULE)].count("\n") + 3


def test_a_field_that_is_called_like_a_key_of_a_rule_is_found() -> None:
    text = changed(
        ("{field: number, digits: 3}", "{field: sold, digits: 3}"), ("works: F, number: 14}", "works: F}")
    )
    loaded = load(text)
    assert loaded.campaign is not None
    line = text[: text.index("  layout:")].count("\n") + 1

    [finding] = check(loaded.campaign, loaded.lines, _PICTURES)

    assert (finding.code, finding.line, finding.path) == ("layout-field-reserved", line, "code.layout")


@pytest.mark.parametrize(
    ("rules", "severity"),
    [("  - {rule: a, codes: lists/a.txt}\n", "must mend"), (f"{_RULE}reworked: [lists/a.txt] #", "consider")],
)
def test_a_code_of_a_list_that_the_layout_cannot_read_is_found(rules: str, severity: str) -> None:
    text = (
        changed((_RULE, rules), ("reworked: []", "# x")) if "reworked" in rules else changed((_RULE, rules))
    )
    loaded = load(text)
    assert loaded.campaign is not None
    lists = {"lists/a.txt": CodeList.of(["EM2521F014", "EM2560F014", "EM252F014"])}

    [finding] = check(loaded.campaign, loaded.lines, _PICTURES, lists)

    assert (finding.code, finding.line, finding.severity) == (
        "code-list-unread",
        text[: text.index("lists/a.txt")].count("\n") + 1,
        severity,
    )
    assert "2 of 3 codes in lists/a.txt, as EM252F014" in finding.message


def test_without_a_layout_nothing_is_said_of_the_codes_of_a_list() -> None:
    campaign, lines = _campaign("  - {rule: a, codes: lists/a.txt}\n")
    without = campaign.model_copy(update={"code": None})

    assert [one.code for one in check(without, lines, _PICTURES, _LISTS)] == ["rule-without-layout"]


def test_a_rule_by_day_of_sale_needs_no_layout() -> None:
    campaign, lines = _campaign("  - {rule: a, sold: [2025-05-01, 2025-07-31]}\n")

    found = check(campaign.model_copy(update={"code": None}), lines, _PICTURES)

    assert [one.code for one in found] == ["cleared-without-code"]


def test_a_rule_is_judged_by_as_it_is_written() -> None:
    campaign, _ = _campaign(
        "  - rule: a\n"
        "    any:\n"
        "      - {codes: lists/a.txt, works: [G, H]}\n"
        '      - {sign: {place: 7, one_of: F}, not: {week: ["2501", "2530"]}}\n'
        "  - {rule: b, all: [{works: H}], number: [7, 7], sold: [2025-05-01, 2025-07-31]}\n"
    )
    by = judge_of(campaign, _LISTS)
    codes = ("EM2521G015", "EM2521F014", "EM2531F014", "EM2540H001", "EM2540H007", "EM2540H008")

    assert [judge(by, code).rule for code in codes] == ["a", "", "a", "a", "b", ""]
    assert judge(by, None, date(2025, 8, 1)).verdict is Verdict.MISSING
