"""A recall in three markets, one of which may not be told of a remedy before its authority has agreed.

The rule is 16 CFR 1115.29(c), read in a copy of the Code of Federal Regulations: all aspects of a recall notice are
agreed to in writing before it is disseminated.
"""

import shutil
from collections import Counter
from email import message_from_bytes, policy
from email.message import EmailMessage

import pytest

from tests.builders import DEMO_FOLDER
from tests.commands import Desk, desk

__all__ = ["desk"]

OWNERS = """\
order,code,name,email,country,language,sold in
1,QM-2534-B0172,Anna Reed,anna@mail.example,GB,en,GB
2,QM-2534-B0173,Bernd Hain,bernd@post.example,DE,de,DE
3,QM-2534-B0174,Cora Vane,cora@mail.example,US,en,US
4,QM-2534-B0175,Dale Orr,dale@post.example,US,en,US
5,QM-2534-B0176,Eve Lisle,,US,en,US
"""
AMERICANS = {"cora@mail.example", "dale@post.example"}
OTHERS = {"anna@mail.example", "bernd@post.example"}
PARAGRAPH = "16 CFR 1115.29(c)"
AGREED = ("--by", "Ines Hall", "--reason", "agreement in writing of 10 March 2026, file 26-031")


def _recall(desk: Desk) -> None:
    """Put the recall notice into the folder in the place of the warning."""
    shutil.copy(DEMO_FOLDER / "campaign-1.yaml", desk.folder / "campaign.yaml")
    shutil.rmtree(desk.folder / "translations")
    shutil.copytree(DEMO_FOLDER / "translations-1", desk.folder / "translations")


def _mails(desk: Desk) -> Counter[tuple[str, str]]:
    """Count the messages in the folder by address and first word of the text: warning or recall."""
    found: Counter[tuple[str, str]] = Counter()
    for file in (desk.folder / "mails").glob("*.eml"):
        mail = message_from_bytes(file.read_bytes(), EmailMessage, policy=policy.default)
        body = mail.get_body(("plain",))
        assert body is not None
        first = body.get_content().split("\n", 1)[0].casefold()
        sort = "recall" if "recall" in first or "rückruf" in first else "warning"
        found[mail["To"].addresses[0].addr_spec, sort] += 1
    return found


def _send(desk: Desk) -> str:
    sent = desk.type("send", "--to-folder", "mails", "--yes")

    assert sent.status == 0, sent
    return sent.out


@pytest.fixture
def warned(desk: Desk) -> Desk:
    """Send the stop warning to everybody, then sign the recall notice."""
    desk.imported(OWNERS)
    desk.signed()
    _send(desk)
    _recall(desk)
    return desk


def test_a_stop_warning_waits_for_no_authority(warned: Desk) -> None:
    assert _mails(warned) == {(one, "warning"): 1 for one in AMERICANS | OTHERS}


def test_the_recall_goes_to_all_others_and_who_waits_is_counted_with_the_paragraph(warned: Desk) -> None:
    proofs = warned.type("proofs")
    as_json = warned.type("proofs", "--format", "json").json
    warned.signed()
    sent = _send(warned)
    status = warned.type("status")
    status_as_json = warned.type("status", "--format", "json").json

    for said in (proofs.out, sent, status.out):
        assert "2 owners in US wait: " in said
        assert PARAGRAPH in said
    assert [(one["market"], one["owners"]) for one in as_json["held"]] == [("US", 2)]
    assert status_as_json["held"] == as_json["held"]
    assert "1 owner cannot be reached by e-mail" in sent
    assert _mails(warned) == {
        **{(one, "warning"): 1 for one in AMERICANS | OTHERS},
        **{(one, "recall"): 1 for one in OTHERS},
    }


def test_one_command_releases_them_and_the_next_send_hands_them_over_nothing_twice(warned: Desk) -> None:
    warned.signed()
    before = _send(warned), _send(warned)
    without_reason = warned.type("market", "US", "release", "--by", "Ines Hall")
    without_name = warned.type("market", "US", "release", "--reason", "agreed")
    released = warned.type("market", "US", "release", *AGREED)
    after = _send(warned), _send(warned)
    status = warned.type("status", "--format", "json").json

    assert "0 messages to 0 owners can go now" in before[1]
    assert (without_reason.status, without_name.status, released.status) == (2, 2, 0)
    assert "2 messages to 2 owners can go now, 2 of them new." in after[0]
    assert "0 messages to 0 owners can go now" in after[1]
    assert "in US" not in after[0]
    assert status["held"] == []
    assert _mails(warned) == {(one, sort): 1 for one in AMERICANS | OTHERS for sort in ("warning", "recall")}


def test_who_was_never_warned_is_warned_while_the_recall_waits(desk: Desk) -> None:
    _recall(desk)
    desk.imported(OWNERS)
    desk.signed()
    sent = _send(desk)
    again = _send(desk)
    waiting = _mails(desk)
    desk.type("market", "US", "release", *AGREED)
    _send(desk)

    assert "2 owners in US wait: " in sent
    assert "0 messages to 0 owners can go now" in again
    assert waiting == {
        **{(one, "warning"): 1 for one in AMERICANS},
        **{(one, "recall"): 1 for one in OTHERS},
    }
    assert _mails(desk) == {**waiting, **{(one, "recall"): 1 for one in AMERICANS}}


def test_a_lead_lets_any_market_wait_and_what_stood_ready_for_it_goes_only_after_the_release(
    warned: Desk,
) -> None:
    warned.signed()
    held = warned.type("market", "GB", "wait", "--by", "Ines Hall", "--reason", "counsel reads it first")
    sent = _send(warned)
    standing = warned.type("market")
    as_json = warned.type("market", "--format", "json").json
    mails = _mails(warned)
    warned.type("market", "GB", "release", "--by", "Ines Hall", "--reason", "counsel has read it")
    _send(warned)

    assert held.out == "GB waits from now on. Stop warnings go all the same.\n"
    assert "1 owner in GB waits: counsel reads it first (Ines Hall)" in sent
    assert standing.out.splitlines() == [
        "EU open",
        "GB waits: counsel reads it first (Ines Hall)",
        f"US waits: the commission must agree in writing to a recall notice before it goes out ({PARAGRAPH})",
    ]
    assert [(one["market"], one["waits"], one["law"], one["by"]) for one in as_json] == [
        ("EU", False, "", ""),
        ("GB", True, "", "Ines Hall"),
        ("US", True, PARAGRAPH, ""),
    ]
    assert ("anna@mail.example", "recall") not in mails
    assert _mails(warned)["anna@mail.example", "recall"] == 1


def test_an_agreement_that_is_older_than_the_revision_is_asked_about_and_stops_nothing(warned: Desk) -> None:
    warned.type("market", "US", "release", *AGREED)
    warned.signed()
    sent = _send(warned)
    renewed = warned.type("market", "US", "release", *AGREED)
    again = _send(warned)

    assert f"Does that agreement cover what goes out now ({PARAGRAPH})?" in sent
    assert (renewed.status, "agreement" in again) == (0, False)
    assert _mails(warned)["cora@mail.example", "recall"] == 1
