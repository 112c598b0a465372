"""Lists of single codes, reworked units and days of sale, from the folder to the verdict: what was signed judges."""

from collections import Counter
from pathlib import Path

from notices.work import revisions
from notices.work.answers import Said
from notices.work.checking import check
from notices.work.claiming import check_code
from tests.folders import LIST, RECALLED, Desk, a_desk

LINE_B = '{rule: line-b, line: B, week: ["2518", "2547"]}'
BATCH = "{rule: batch, codes: lists/batch.txt}"
CODES = ("QM-2534-B0172", "QM-2540-D0144", "QM-2541-B0999", "QM-2533-C0001")


def _recalled(desk: Desk, rule: str, *, reworked: str = "") -> None:
    """Put the recall's wording into the folder, with one rule in the place of its own."""
    desk.now = RECALLED
    desk.wording(1)
    text = (desk.root / "campaign.yaml").read_text(encoding="utf-8")
    begin, end = text.index("  - {rule: line-b"), text.index("otherwise:")
    more = f"reworked: [{reworked}]\n" if reworked else ""
    (desk.root / "campaign.yaml").write_text(
        f"{text[:begin]}  - {rule}\n{more}{text[end:]}", encoding="utf-8"
    )


def _list(desk: Desk, *codes: str, name: str = "batch") -> None:
    (desk.root / "lists").mkdir(exist_ok=True)
    (desk.root / f"lists/{name}.txt").write_text("\n".join(codes), encoding="utf-8")


def _verdicts(desk: Desk) -> dict[str | None, str]:
    with desk.world.register.look() as tx:
        units = tx.units.units()
        return {
            units[row.case.unit_id].code: f"{row.case.verdict} {row.case.why}".strip()
            for row in tx.cases.all()
        }


def test_units_on_a_list_are_affected_and_the_list_that_was_signed_is_what_judges(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk:
        desk.take()
        _recalled(desk, BATCH)
        _list(desk, "Number", "qm 2541 b0999")
        assert desk.sign().adopted
        signed = _verdicts(desk)
        _list(desk, *CODES)
        desk.take(LIST + "7,Carl Braun,carl@post.example,,,,DE,de,QM-2541-B0999,2025-10-10,DE\n")

        assert signed == {
            "QM-2534-B0172": "cleared by code",
            "QM-2540-D0144": "cleared by code",
            None: "missing",
            "QM-2541-B0999": "affected",
            "QM-2533-C0001": "cleared by code",
        }
        assert Counter(_verdicts(desk).values()) == Counter(signed.values())


def test_another_list_under_the_same_name_is_another_draft(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk:
        _recalled(desk, BATCH)
        _list(desk, *CODES)
        first = revisions.draft(desk.world).digest
        _list(desk, "Heading", *reversed(CODES))
        same = revisions.draft(desk.world).digest
        _list(desk, *CODES[1:])

        assert (same == first, revisions.draft(desk.world).digest == first) == (True, False)


def test_a_revision_with_a_list_reads_back_from_the_register(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk:
        desk.take()
        _recalled(desk, BATCH)
        _list(desk, *CODES)
        desk.sign()
        with desk.world.register.look() as tx:
            held = revisions.signed(tx)
        assert held is not None

        assert sorted(held.revision.lists["lists/batch.txt"]) == [
            code.replace("-", "") for code in sorted(CODES)
        ]


def test_a_list_that_is_not_there_is_found_on_its_line_and_clears_nobody(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk:
        desk.take()
        _recalled(desk, BATCH, reworked="../batch.txt, campaign.yaml")
        found = [one for one in check(desk.world).findings if one.code == "code-list-absent"]
        desk.sign()
        text = (desk.root / "campaign.yaml").read_text(encoding="utf-8")
        line = text[: text.index(BATCH)].count("\n") + 1

        assert [(one.line, one.path) for one in found] == [
            (line, "affected[0].codes"),
            (line + 1, "reworked[0]"),
            (line + 1, "reworked[1]"),
        ]
        assert set(_verdicts(desk).values()) == {
            "None"
        }  # a recall notice is not signed before that is mended


def test_a_list_that_cannot_be_read_is_found_where_it_is_named(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk:
        _recalled(desk, BATCH)
        _list(desk, "")
        [finding] = [one for one in check(desk.world).findings if one.code.startswith("code-list")]

        assert (finding.code, finding.file, finding.line, finding.path) == (
            "code-list-empty",
            "lists/batch.txt",
            1,
            "affected[0].codes",
        )


def test_no_list_holds_back_a_stop_warning(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk:
        desk.take()
        desk.edit("ledger:", f"affected:\n  - {BATCH}\nledger:")
        signed = desk.sign()

        assert (signed.adopted, signed.signed) == (True, 3)
        assert "cleared" not in " ".join(_verdicts(desk).values())


def test_reworked_units_are_cleared_with_why_and_by_word_only_after_a_photo(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk:
        desk.take()
        _recalled(desk, LINE_B, reworked="lists/done.txt")
        _list(desk, "QM-2534-B0172", name="done")
        desk.sign()
        typed = check_code(desk.world, None, Said(nonce="n"), "QM-2534-B0172")

        assert _verdicts(desk)["QM-2534-B0172"] == "cleared reworked"
        assert _verdicts(desk)["QM-2541-B0999"] == "affected"
        assert (typed.verdict, typed.near) == ("cleared", True)


def test_units_without_a_code_go_by_their_day_of_sale_and_are_judged_again_where_it_is_another(
    tmp_path: Path,
) -> None:
    with a_desk(tmp_path / "c") as desk:
        desk.take()
        _recalled(desk, LINE_B.replace("}", ", sold: [2025-04-15, 2025-09-30]}"))
        desk.sign()
        before = _verdicts(desk)
        desk.take(LIST.replace("ar,,2025-10-10", "ar,,2025-09-30"))
        after = _verdicts(desk)
        desk.take(LIST.replace("2025-10-10", "2025-09-29").replace("ar,,2025-09-29", "ar,,2025-09-30"))

        assert (before[None], before["QM-2541-B0999"]) == ("cleared by day of sale", "affected")
        assert after == before | {None: "missing"}
        assert _verdicts(desk) == after
        assert desk.kinds(desk.case("QM-2541-B0999")) == ["unit_listed", "verdict_given"]
