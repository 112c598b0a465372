"""What a draft or a revision changes, and for whom: the most endangered first, as numbers and as a list."""

import json
from pathlib import Path

import pytest

from notices.cases.dangers import Danger
from notices.cli import differences
from notices.work import revisions
from notices.work.checking import check
from notices.work.differing import Difference, NoSuchRevisionError, difference
from notices.work.hearing import Word, hear
from tests.folders import LIST, Desk, a_desk

MORE = (
    LIST
    + "7,Carl Braun,carl@post.example,,,,DE,de,QM-2541-D0007,2025-11-10,DE\n"
    + "8,Di Au,di@post.example,,,,DE,de,QM-2543-A0008,2025-11-10,DE\n"
)


def _compared(desk: Desk, against: int, later: int | None = None) -> Difference:
    found = difference(desk.world, against, drafted=revisions.draft(desk.world), later=later)
    assert found is not None
    return found


def _recalled(desk: Desk) -> None:
    desk.take(MORE)
    desk.sign()


def test_who_was_safe_and_is_no_longer_stands_first(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c", revision=1) as desk:
        _recalled(desk)
        hear(desk.world, "QM-2541-D0007", Word(what="use", value="symptomatic", by="Ines Hall", via="phone"))
        desk.wording(4)
        found = _compared(desk, 1)

        assert [(one.danger, one.verdicts, one.rules, one.levels) for one in found.units[:3]] == [
            (Danger.SAFE_BEFORE, ("cleared", "affected"), ("", "line-d"), (0, 3)),
            (Danger.SAFE_BEFORE, ("cleared", "affected"), ("", "line-d"), (0, 3)),
            (Danger.OTHER, ("missing", "missing"), ("", ""), (3, 3)),
        ]
        assert found.dangers == {Danger.SAFE_BEFORE: 2, Danger.OTHER: 4}
        assert (found.before, found.after, found.draft) == (1, 4, True)


def test_two_signed_revisions_are_compared_whatever_the_draft_says(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c", revision=1) as desk:
        _recalled(desk)
        desk.wording(4)
        desk.sign()
        signed = _compared(desk, 1, 4)
        back = _compared(desk, 4, 1)
        (desk.root / "campaign.yaml").write_text("issuer: [", encoding="utf-8")

        assert (signed.before, signed.after, signed.draft) == (1, 4, False)
        assert signed.dangers == {Danger.SAFE_BEFORE: 2, Danger.OTHER: 4}
        assert back.dangers == {Danger.SAFE_BEFORE: 1, Danger.OTHER: 5}
        assert _compared(desk, 1, 4) == signed
        assert difference(desk.world, 1, drafted=revisions.draft(desk.world)) is None


def test_who_was_told_to_do_less_comes_before_all_others(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c", revision=1) as desk:
        _recalled(desk)
        desk.edit(
            "{affected: 2, missing: 2, symptomatic: 3, unknown: 3",
            "{affected: 3, missing: 3, symptomatic: 3, unknown: 3",
        )
        assert _compared(desk, 1).units == ()  # nobody has said how it was used: unknown counts most
        hear(desk.world, "QM-2541-B0999", Word(what="use", value="unridden", by="Ines Hall", via="phone"))
        [unit] = _compared(desk, 1).units

        assert (unit.danger, unit.levels, unit.verdicts) == (
            Danger.LESS_BEFORE,
            (2, 3),
            ("affected", "affected"),
        )


def test_a_revision_that_nobody_signed_is_named_with_those_that_are(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c", revision=1) as desk:
        with pytest.raises(NoSuchRevisionError, match="no revision 1 is signed; signed so far: none"):
            _compared(desk, 1)
        _recalled(desk)
        with pytest.raises(NoSuchRevisionError, match="no revision 7 is signed; signed so far: 1"):
            _compared(desk, 1, 7)


def test_the_text_says_what_changed_and_for_whom(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c", revision=1) as desk:
        _recalled(desk)
        (desk.root / "lists/done.txt").write_text("QM-2534-B0172\nQM-2541-B0999", encoding="utf-8")
        desk.edit("otherwise: cleared", "reworked: [lists/done.txt]\notherwise: cleared")
        desk.edit(
            '{rule: line-c, line: C, week: ["2531", "2534"]}',
            '{rule: line-d, line: D, week: ["2540", "2540"]}',
        )
        found = _compared(desk, 1)
        text = list(differences.lines(found))

    assert text[:5] == [
        "Between revision 1 and the draft (revision 1):",
        "  affected[1].rule: line-c -> line-d",
        "  affected[1].line: C -> D",
        "  affected[1].week[0]: 2531 -> 2540",
        "  affected[1].week[1]: 2534 -> 2540",
    ]
    assert text[5:7] == [
        "  reworked[0]: - -> lists/done.txt",
        "  lists/done.txt: 2 codes more, 0 codes fewer",
    ]
    assert text[7:9] == [
        "For 4 units verdict or instruction is another.",
        "  1 was safe and no longer is: call at once",
    ]
    assert text[9].endswith("  cleared -> affected (line-d), level 0 -> 3, use unknown")
    assert text[10] == "  3 are told something else"
    assert [line.split("  ")[3] for line in text[11:]] == [
        "affected -> cleared, level 3 -> 0, use unknown"
    ] * 3


def test_a_long_list_is_cut_in_text_and_whole_in_json(tmp_path: Path) -> None:
    rows = "".join(
        f"{n},N {n},n{n}@post.example,,,,DE,de,QM-2541-D{n:04},2025-11-10,DE\n" for n in range(100, 170)
    )
    with a_desk(tmp_path / "c", revision=1) as desk:
        desk.take(LIST + rows)
        desk.sign()
        desk.wording(4)
        found = _compared(desk, 1)
        printed = json.loads(json.dumps(differences.as_json(found)))
    text = list(differences.lines(found))

    assert "  ... and 11 more; --format json lists all" in text
    assert printed["counts"] == {"safe_before": 71, "less_before": 0, "other": 4}
    assert len(printed["units"]) == 75
    assert list(differences.lines(None)) == []


def test_units_are_counted_by_rule_with_what_is_near_and_idle(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c", revision=1) as desk:
        assert check(desk.world).weighed is None
        desk.take(MORE.replace("QM-2533-C0001", "QM-2541-D0009"))
        checked = check(desk.world)
        weighed = checked.weighed
        assert weighed is not None
        text = list(differences.weighed(weighed))
        line = (desk.root / "campaign.yaml").read_text("utf-8").split("\n").index(
            '  - {rule: line-c, line: C, week: ["2531", "2534"]}'
        ) + 1  # fmt: skip

    assert weighed.rules == {"line-b": 2, "line-c": 0}
    assert weighed.verdicts == {"affected": 2, "cleared": 4, "missing": 1}
    assert (weighed.units, weighed.cleared, weighed.near) == (7, {"by code": 4}, 3)
    assert text == [
        "By this draft, of 7 units on the lists:",
        "  affected 2 (line-b 2, line-c 0)",
        "  cleared 4 (by code 4)",
        "  missing 1",
        "  one slip from an affected code: 3; an owner who types such a code is asked for a photo",
    ]
    assert [(one.code, one.line) for one in checked.findings if one.code.startswith("rule")] == [
        ("rule-without-unit", line)
    ]


def test_codes_that_were_made_after_they_were_sold_are_named_by_row(tmp_path: Path) -> None:
    rows = "".join(
        f"{n},N {n},n{n}@post.example,,,,DE,de,QM-2541-B{n:04},2025-10-05,DE\n" for n in range(100, 110)
    )
    with a_desk(tmp_path / "c") as desk:
        desk.take(LIST + rows)
        desk.take(LIST.replace("QM-2540-D0144,2025-10-10", "QM-2602-D0144,2025-10-10"), "till")
        found = [one for one in check(desk.world).findings if one.code == "code-after-sale"]

    assert [(one.file, one.line, one.message.rpartition(": ")[2]) for one in found] == [
        ("shop.csv", 7, "rows 7, 8, 9, 10, 11, 12, 13, 14 and 2 more"),
        ("till.csv", 3, "row 3"),
    ]


def test_an_empty_list_weighs_nothing(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c", revision=1) as desk:
        desk.take(LIST.split("\n")[0] + "\n")
        weighed = check(desk.world).weighed

    assert list(differences.weighed(weighed)) == list(differences.weighed(None)) == []
    assert differences.weighed_as_json(None) is None
    assert differences.as_json(None) is None


def test_units_sold_where_no_market_is_are_counted_by_country(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c", revision=1) as desk:
        desk.take(LIST.replace(",IE\n", ",CA\n").replace(",GB\n", ",US\n"))
        named = [one for one in check(desk.world).findings if one.code == "country-without-market"]
        desk.edit("  US: {countries: [US], headline: Safety recall}\n", "")
        text = (desk.root / "campaign.yaml").read_text("utf-8")
        (finding,) = [one for one in check(desk.world).findings if one.code == "country-without-market"]

    assert [one.message.split(":")[1] for one in named] == [" CA (1); another law decides what they are told"]
    assert "CA (1), US (1)" in finding.message
    assert finding.line == text[: text.index("\nmarkets:")].count("\n") + 2


def test_before_any_market_is_written_no_country_is_missed(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk:
        desk.take()
        text = (desk.root / "campaign.yaml").read_text("utf-8")
        at = text.index("markets:\n")
        rest = text[at:].split("\n")[1:]
        kept = "\n".join(rest[next(n for n, line in enumerate(rest) if not line.startswith("  ")) :])
        (desk.root / "campaign.yaml").write_text(text[:at] + kept, "utf-8")

        assert "country-without-market" not in {one.code for one in check(desk.world).findings}


def test_codes_of_a_file_that_no_sales_list_knows_are_counted(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c", revision=1) as desk:
        desk.take(LIST)
        (desk.root / "lists/done.txt").write_text(
            "QM-2534-B0172\nQM-2541-B0998\nQM-2541-B0997", encoding="utf-8"
        )
        desk.edit("otherwise: cleared", "reworked: [lists/done.txt, lists/gone.txt]\notherwise: cleared")
        text = (desk.root / "campaign.yaml").read_text("utf-8")
        [finding] = [one for one in check(desk.world).findings if one.code == "code-list-unlisted"]

    assert (finding.line, finding.path) == (text[: text.index("reworked:")].count("\n") + 1, "reworked[0]")
    assert finding.message == "2 of 3 codes in lists/done.txt are on no sales list, as QM2541B0997"
