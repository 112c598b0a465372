"""Signing, and what may go out afterwards: the signed revision, and nothing else."""

from collections.abc import Callable
from contextlib import AbstractContextManager
from dataclasses import dataclass, replace
from datetime import timedelta
from pathlib import Path

import pytest

from audiences.findings import must_mend
from notices.cases.records import PostingState
from notices.cli import variants as shown
from notices.work import signing
from notices.work.hearing import Word, hear
from notices.work.looking import due
from notices.work.ports import Register, Transaction
from notices.work.proving import needed
from tests.folders import LIST, RECALLED, Desk, a_desk

CODE = "QM-2534-B0172"


def test_only_variants_that_somebody_gets_next_are_proved_most_owners_first(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk:
        desk.take(LIST + "7,Carl Braun,carl@post.example,,,,DE,de,QM-2533-B0007,2025-10-10,DE\n")
        proofs = needed(desk.world)

    assert [(item.name, item.owners) for item in proofs.items] == [
        ("stop-affected-unknown-EU-de", 2),
        ("stop-affected-unknown-GB-en", 1),
        ("stop-missing-unknown-EU-ar", 1),
    ]
    assert proofs.no_address == 1


def test_signing_adopts_judges_and_signs_and_a_second_time_does_nothing(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk:
        desk.take()
        first, second = desk.sign(), desk.sign()

        assert (first.adopted, first.signed, first.already) == (True, 3, 0)
        assert (second.adopted, second.signed, second.already) == (False, 0, 3)
        assert desk.kinds(desk.case(CODE)) == ["unit_listed", "verdict_given"]


def test_one_owner_with_two_units_owed_the_same_gets_one_message(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk:
        desk.take()
        desk.sign()
        prepared = desk.post()
        again = desk.post()

        assert (prepared.made, prepared.no_address, again.made) == (3, 1, 0)
        assert desk.states()["bernd@post.example"] == ["waiting"]


def test_the_recall_notice_follows_the_warning_and_tells_the_cleared_unit_apart(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk:
        desk.take()
        desk.sign()
        desk.post()
        desk.send()
        desk.now = RECALLED
        desk.wording(1)
        signed = desk.sign()
        desk.post()
        desk.send()

        assert (signed.adopted, signed.signed) == (True, 4)
        assert desk.states()["bernd@post.example"] == ["handed_over"] * 3
        assert desk.case("QM-2540-D0144").verdict == "cleared"


def test_a_stop_warning_still_waiting_is_withdrawn_by_the_recall(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk:
        desk.take()
        desk.sign()
        desk.post()
        desk.now = RECALLED
        desk.wording(1)
        desk.sign()
        desk.post()
        sent = desk.send()

        assert sorted(desk.states()["anna@mail.example"]) == ["handed_over", "withdrawn"]
        assert sorted(desk.states()["bernd@post.example"]) == ["handed_over", "withdrawn"]
        assert sent.handed_over == 3


def test_a_mended_comma_before_sending_makes_the_same_message_anew(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk:
        desk.take()
        desk.sign()
        desk.post()
        desk.edit("Then you cannot steer.", "Then you can not steer.")
        signed = desk.sign()
        made = desk.post().made

        assert (signed.adopted, signed.signed, made) == (True, 1, 1)
        assert sorted(desk.states()["anna@mail.example"]) == ["waiting", "withdrawn"]


@dataclass
class _Overtaken:
    """A register to which, before the first change, something happens."""

    register: Register
    first: Callable[[], object] | None

    def change(self) -> AbstractContextManager[Transaction]:
        """Let it happen, then begin."""
        first, self.first = self.first, None
        if first:
            first()
        return self.register.change()

    def look(self) -> AbstractContextManager[Transaction]:
        """Begin a view."""
        return self.register.look()

    def close(self) -> None:
        """Leave it to whoever opened it."""


def test_what_a_run_sends_while_somebody_signs_stays_handed_over(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk:
        desk.take()
        desk.sign()
        desk.post()
        desk.edit("Then you cannot steer.", "Then you can not steer.")
        overtaken = _Overtaken(desk.world.register, desk.send)
        signing.sign(replace(desk.world, register=overtaken), by="Ines Hall", unread_too=True)

        assert desk.states()["anna@mail.example"] == ["handed_over"]


def test_once_something_has_gone_out_another_text_needs_a_higher_number_and_a_reason(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk:
        desk.take()
        desk.sign()
        desk.post()
        desk.send()
        desk.edit("Then you cannot steer.", "Then you can not steer.")
        refused = desk.sign()
        desk.edit("revision: {number: 0", "revision: {number: 1")
        accepted = desk.sign()

    assert not refused.adopted
    assert [(one.code, one.line) for one in refused.findings if one.path == "revision.number"] == [
        ("revision-number-used", 5)
    ]
    assert accepted.adopted


def test_a_half_translated_language_holds_back_only_itself(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk:
        desk.take()
        (desk.root / "translations" / "ar.po").write_text(
            'msgid ""\nmsgstr ""\n"Language: ar\\n"\n', encoding="utf-8"
        )
        signed = desk.sign()
        prepared = desk.post()

    assert [item.key.language for item in signed.held] == ["ar"]
    assert signed.signed == 2
    assert (prepared.made, dict(prepared.unsigned)) == (2, {"stop-missing-unknown-EU-ar": 1})


def test_signing_one_variant_by_name_signs_that_one(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk:
        desk.take()
        one = signing.sign(desk.world, by="Ines Hall", which=["stop-affected-unknown-GB-en", "nonsense"])
        prepared = desk.post()

    assert (one.signed, one.unknown) == (1, ("nonsense",))
    assert prepared.made == 1


def test_a_half_edited_folder_stops_no_sending(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk:
        desk.take()
        desk.sign()
        (desk.root / "campaign.yaml").write_text("issuer: [", encoding="utf-8")
        desk.post()
        sent = desk.send()

    assert sent.handed_over == 3


def test_a_posting_whose_owner_no_longer_has_the_unit_is_withdrawn_at_its_try(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk:
        desk.take()
        desk.sign()
        desk.post()
        hear(desk.world, CODE, Word(what="passed-on", by="Tom", via="phone"))
        sent = desk.send()

        assert sent.withdrawn == 1
        assert desk.states()["anna@mail.example"] == ["withdrawn"]


def test_a_reminder_falls_due_is_signed_and_goes_once(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c", revision=1) as desk:
        desk.take()
        desk.sign()
        desk.post()
        desk.send()
        early = desk.post().made
        desk.now = RECALLED + timedelta(days=3)
        unsigned = desk.post().unsigned
        signed = desk.sign()
        desk.post()
        sent = desk.send()
        desk.now += timedelta(days=1)
        again = desk.post().made
        subjects = [str(mail["Subject"]) for mail in desk.mails() if "anna@" in str(mail["To"])]

    assert (early, again) == (0, 0)
    assert set(unsigned) == {
        "remind-affected-unknown-EU-de",
        "remind-affected-unknown-GB-en",
        "remind-missing-unknown-EU-ar",
    }
    assert not signed.adopted
    assert (signed.signed, sent.handed_over) == (3, 3)
    assert len(set(subjects)) == 2


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("{field: week, iso_week: true}", "{field: week, iso_weak: true}"),
        ("hidden: 4", "hidden: four"),
        ("price: {cents: 429000", "price: {cents: much"),
        ("follow_up:\n", "affected: [{rule: 7, line: {a: b}}]\nfollow_up:\n"),
    ],
)
def test_a_fault_of_code_rule_or_price_holds_back_no_stop_warning(
    tmp_path: Path, before: str, after: str
) -> None:
    with a_desk(tmp_path / "c") as desk:
        desk.take()
        desk.edit(before, after)
        signed = desk.sign()
        desk.post()
        sent = desk.send()

    assert must_mend(signed.findings)
    assert (signed.adopted, signed.held, sent.handed_over) == (True, (), 3)


def test_the_same_fault_holds_back_a_recall_notice(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c", revision=1) as desk:
        desk.take()
        desk.edit("hidden: 4", "hidden: four")
        signed = desk.sign()

    assert not signed.adopted


def test_a_sender_with_letters_of_its_own_gets_message_ids_that_every_server_takes(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk:
        desk.take()
        desk.edit("email: safety@aldmere.example", "email: safety@müller-räder.example")
        desk.sign()
        desk.post()
        desk.send()
        ids = {str(mail["Message-ID"]).rpartition("@")[2] for mail in desk.mails()}

    assert [one.isascii() and one.startswith("xn--") for one in ids] == [True]


def test_before_any_list_a_fault_of_price_keeps_no_stop_warning_off_the_page(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk:
        desk.edit("price: {cents: 429000", "price: {cents: much")

        assert desk.sign().adopted


@pytest.mark.parametrize("told", ["QM-2520-D4258", "QM-2541-D0999"])
def test_a_code_known_by_word_alone_that_lies_near_an_affected_one_is_never_cleared_by_a_revision(
    tmp_path: Path, told: str
) -> None:
    with a_desk(tmp_path / "c") as desk:
        desk.take()
        desk.sign()
        hear(desk.world, "samir@post.example", Word(what="code", by="Tom", via="phone", value=told))
        before = desk.case(told).verdict
        desk.now = RECALLED
        desk.wording(1)
        desk.sign()
        after = desk.case(told)
        hear(desk.world, "samir@post.example", Word(what="seen-code", by="Tom", via="mail", value=told))

        assert (before, after.verdict, after.aside_on) == ("affected", "missing", RECALLED.date())
        assert desk.case(told).verdict == "cleared"


def test_the_firms_own_list_is_believed_where_a_code_lies_near(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk:
        desk.take()
        desk.sign()
        hear(desk.world, "QM-2540-D0144", Word(what="code", by="Tom", via="phone", value="QM-2540-D0144"))
        desk.now = RECALLED
        desk.wording(1)
        desk.sign()

        assert desk.case("QM-2540-D0144").verdict == "cleared"


def test_a_warning_and_a_recall_are_each_reminded_of(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk:
        desk.take()
        desk.sign()
        desk.post()
        desk.send()
        desk.now += timedelta(days=5)
        desk.sign()
        desk.post()
        warned = desk.send().handed_over
        desk.now += timedelta(hours=1)
        desk.wording(1)
        desk.sign()
        desk.post()
        desk.send()
        desk.now += timedelta(days=5)
        desk.sign()
        desk.post()
        recalled = desk.send().handed_over

    assert (warned, recalled) == (3, 3)


D_LINE = "QM-2540-D0144"


def cleared_and_told(desk: Desk) -> None:
    """Warn, then send the recall notice, by which a bicycle of line D is cleared and its owner told so."""
    desk.take()
    for revision in (0, 1):
        desk.wording(revision)
        desk.sign()
        desk.post()
        desk.send()
        desk.now += timedelta(days=5)


def test_a_signature_says_whom_to_call_for_they_were_safe_by_our_word(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk:
        cleared_and_told(desk)
        desk.wording(4)
        planned = signing.plan(desk.world)
        desk.sign()
        case = desk.case(D_LINE)
        calls = [step.unit_id for step in due(desk.world).steps if step.step == "call-now"]

    assert (planned.calls, planned.verdicts["affected"]) == (1, 1)
    assert "  1 unit were safe by our word" not in shown.plan(planned)
    assert "  1 unit was safe by our word: call its owner today (notices due)" in shown.plan(planned)
    assert (case.alarm, case.ending, calls) == ("told_safe", None, [case.unit_id])


def test_who_was_told_safe_gets_a_message_apart_from_who_is_corrected_otherwise(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk:
        cleared_and_told(desk)
        desk.wording(4)
        desk.sign()
        desk.post()
        with desk.world.register.look() as tx:
            waiting = list(tx.outbox.postings(state=PostingState.WAITING))
            kinds = {
                one.kind: one.fingerprint
                for one in tx.variants.get([w.fingerprint for w in waiting]).values()
            }
        ranks = {one.fingerprint: one.rank for one in waiting}

    assert {kind: ranks[fingerprint] for kind, fingerprint in kinds.items()} == {
        "correct-safe": 0,
        "correct": 10,
    }


@pytest.mark.parametrize("ending", ["fixed", "refused_by_owner"])
def test_a_case_that_ended_opens_again_when_its_unit_is_affected_after_all(
    tmp_path: Path, ending: str
) -> None:
    with a_desk(tmp_path / "c") as desk:
        desk.take()
        desk.sign()
        word = Word(what="confirmed", by="Tom", via="phone")
        if ending != "fixed":
            word = Word(what="closed", by="Tom", via="phone", value=ending)
        hear(desk.world, D_LINE, word)
        for revision in (1, 4):
            desk.wording(revision)
            desk.sign()
        case, kinds = desk.case(D_LINE), desk.kinds(desk.case(D_LINE))

    assert (case.verdict, case.ending, case.alarm) == ("affected", None, "was_cleared")
    assert kinds[-2:] == ["verdict_given", "case_reopened"]


def test_a_unit_that_came_back_to_the_firm_stays_where_it_is(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk:
        desk.take()
        desk.sign()
        word = Word(what="closed", by="Tom", via="counter", value="refunded", text="Receipt 7.")
        hear(desk.world, D_LINE, word)
        for revision in (1, 4):
            desk.wording(revision)
            desk.sign()
        case = desk.case(D_LINE)

    assert (case.ending, case.urgent_on) == ("refunded", None)
