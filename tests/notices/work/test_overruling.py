"""Findings overruled by name and reason: from the check to the signature, until the passage changes."""

from dataclasses import replace
from pathlib import Path

import pytest

from audiences.findings import must_mend
from notices.cases.events import CAMPAIGN
from notices.cli import variants as shown
from notices.work import gates
from notices.work.checking import check, summary
from notices.work.overruling import OverrulingError, Place, overrule, overrulings, take_back
from notices.work.proving import needed, write_proofs
from tests.folders import LEAD, LIST, Desk, a_desk

LATE = Place(code="next-word-too-late", where="next_word")
WHY = "the laboratory is shut until then"


def late(desk: Desk) -> None:
    """Promise the next word for a day that is further away than is usual."""
    desk.take()
    desk.edit("next_word: 2026-03-10", "next_word: 2026-03-20")


def test_an_overruled_finding_holds_back_neither_check_nor_proof_nor_signature(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c", revision=1) as desk:
        late(desk)
        before = desk.sign()
        overrule(desk.world, LATE, by=LEAD, reason=WHY)
        checked = check(desk.world).findings
        signed = desk.sign()

    assert (before.adopted, before.signed) == (False, 0)
    assert [one.overruled for one in checked if one.code == LATE.code] == [f"{LEAD}: {WHY}"]
    assert summary(checked).endswith("to consider, 1 overruled.")
    assert (signed.adopted, signed.held, signed.signed) == (True, (), 3)


def test_it_stands_on_the_proof_in_the_record_and_with_the_signature(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c", revision=1) as desk:
        late(desk)
        (found,) = overrule(desk.world, LATE, by=LEAD, reason=WHY)
        write_proofs(desk.world)
        name = needed(desk.world).items[0].name
        listed = shown.listed(needed(desk.world).items)
        page = (desk.root / "out/proofs" / name / "index.html").read_text("utf-8")
        desk.sign()
        with desk.world.register.look() as tx:
            events = {one.kind: one for one in tx.events.stream(CAMPAIGN)}
            signatures = {one.overruled for one in tx.variants.signatures()}
            (key,) = overrulings(tx)
            text = tx.papers.texts([str(events["finding_overruled"].payload["text"])])

    said = f"campaign.yaml next_word [next-word-too-late] {key}"
    assert found.line == 6
    assert listed.count(", not signed; 1 finding overruled") == 3
    assert "<strong>overruled</strong>" in page
    assert f"{LEAD}: {WHY}" in page
    assert events["finding_overruled"].actor == LEAD
    assert [one.body for one in text.values()] == [WHY]
    assert WHY not in str(events["finding_overruled"].payload)
    assert events["variant_signed"].payload["overruled"] == said
    assert signatures == {said}


def test_a_changed_passage_has_its_finding_back(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c", revision=1) as desk:
        late(desk)
        overrule(desk.world, LATE, by=LEAD, reason=WHY)
        desk.edit("next_word: 2026-03-20", "next_word: 2026-03-21")
        signed = desk.sign()

    assert not signed.adopted
    assert [one.code for one in must_mend(signed.findings)] == [LATE.code]


def test_who_overruled_can_take_it_back_with_a_reason(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c", revision=1) as desk:
        late(desk)
        with pytest.raises(OverrulingError, match="nobody has overruled"):
            take_back(desk.world, LATE, by=LEAD, reason="it opens sooner")
        overrule(desk.world, LATE, by=LEAD, reason=WHY)
        take_back(desk.world, LATE, by=LEAD, reason="it opens sooner")
        with desk.world.register.look() as tx:
            kinds = [one.kind for one in tx.events.stream(CAMPAIGN)]

        assert kinds[-2:] == ["finding_overruled", "overruling_taken_back"]
        assert [one.code for one in must_mend(check(desk.world).findings)] == [LATE.code]


def test_a_part_that_is_missing_can_be_judged_to_stand_elsewhere(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c", revision=1) as desk:
        desk.take()
        desk.edit("\nfree: ", "\nx-free: ")
        text = (desk.root / "campaign.yaml").read_text("utf-8").splitlines()
        (desk.root / "campaign.yaml").write_text(
            "\n".join(line for line in text if not line.startswith("x-free")) + "\n", encoding="utf-8"
        )
        silent = needed(desk.world).items
        overrule(desk.world, Place(code="free-missing", where="free"), by=LEAD, reason="the repair says so")

        assert silent == ()
        assert len(needed(desk.world).items) == 3


@pytest.mark.parametrize(
    ("place", "by", "reason", "fault"),
    [
        (LATE, " ", WHY, "with a name and a reason"),
        (LATE, LEAD, " ", "with a name and a reason"),
        (Place(code="hazard-missing", where="hazard.what"), LEAD, WHY, "is never overruled"),
        (Place(code="picture-absent", where="product"), LEAD, WHY, "is no judgement"),
        (Place(code="free-missing", where="free"), LEAD, WHY, "it must at: nowhere"),
        (
            Place(code="next-word-too-late", where="next_word", language="de"),
            LEAD,
            WHY,
            "it must at: campaign.yaml:6 next_word",
        ),
    ],
)
def test_what_cannot_be_overruled_is_refused_with_the_reason(
    tmp_path: Path, place: Place, by: str, reason: str, fault: str
) -> None:
    with a_desk(tmp_path / "c", revision=1) as desk:
        late(desk)
        with pytest.raises(OverrulingError, match=fault):
            overrule(desk.world, place, by=by, reason=reason)
        with desk.world.register.look() as tx:
            assert overrulings(tx) == {}


def test_a_line_names_the_finding_too(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c", revision=1) as desk:
        late(desk)
        place = Place(code="next-word-too-late", where="campaign.yaml:6", language="en")

        assert len(overrule(desk.world, place, by=LEAD, reason=WHY)) == 1


def test_a_file_that_cannot_be_read_has_nothing_to_overrule(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c", revision=1) as desk:
        desk.edit("issuer:", "issuer: [")
        with pytest.raises(OverrulingError, match="cannot be read"):
            overrule(desk.world, LATE, by=LEAD, reason=WHY)


def test_a_new_folder_without_anything_to_judge_gets_no_register_by_a_check(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c", revision=1) as desk:
        check(desk.world)

    assert not (tmp_path / "c" / "register.db").exists()


def test_a_fault_of_the_remedy_holds_back_no_stop_warning_in_a_market_that_waits(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c", revision=1) as desk:
        desk.take(LIST)
        gates.wait(desk.world, "GB", by=LEAD, reason="counsel reads it")
        desk.edit("by: [mechanic, owner]", "by: [owner, mechanic]")
        proofs = {item.name: item.may_go for item in needed(desk.world).items}

    assert proofs["stop-affected-unknown-GB-en"]
    assert not proofs["first-affected-unknown-GB-en"]


def test_a_fault_in_the_translation_of_a_remedy_holds_back_no_stop_warning_either(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c", revision=1) as desk:
        desk.take(LIST)
        gates.wait(desk.world, "EU", by=LEAD, reason="counsel reads it")
        desk.edit("\nfree: You pay", "\nfree: You never pay")
        proofs = {item.name: item.may_go for item in needed(desk.world).items}

    assert proofs["stop-affected-unknown-EU-de"]
    assert not proofs["first-affected-unknown-EU-de"]


def test_a_forbidden_expression_is_overruled_word_by_word_in_its_language(tmp_path: Path) -> None:
    """The words are those that Regulation (EU) 2023/988, article 36(2)(c), names; a street may bear one of them."""
    street = Place(code="expression-forbidden", where="share", language="de")
    with a_desk(tmp_path / "c", revision=1) as desk:
        desk.take(LIST)
        desk.edit(
            'msgstr "Kennen Sie jemanden',
            'msgstr "Freiwillig oder vorsorglich: Kennen Sie jemanden',
            "translations/de.po",
        )
        with pytest.raises(OverrulingError, match="say which is meant"):
            overrule(desk.world, street, by=LEAD, reason="a greeting")
        (first,) = overrule(desk.world, replace(street, says='"Freiwillig"'), by=LEAD, reason="a greeting")
        held = {item.key.language for item in needed(desk.world).items if not item.may_go}
        overrule(desk.world, replace(street, says='"vorsorglich"'), by=LEAD, reason="a greeting")
        after = {item.key.language for item in needed(desk.world).items if not item.may_go}

    assert (first.file, first.overruled) == ("translations/de.po", f"{LEAD}: a greeting")
    assert (held, after) == ({"de"}, set())
