"""Copies of what was sent, found by their Message-IDs in Maildirs and folders."""

import mailbox
from datetime import UTC, datetime
from pathlib import Path

import pytest

from notices.cases.outgoing import WayOutError
from notices.sending import sent_mail

SENT = datetime(2026, 3, 3, 9, 0, tzinfo=UTC)


def a_message(name: str, *, date: str = "Tue, 03 Mar 2026 10:00:00 +0100", more: str = "") -> bytes:
    fields = f"Message-ID: <{name}@aldmere.example>\r\nDate: {date}\r\n{more}"
    return f"{fields}\r\nIn the body: Message-ID: <body@aldmere.example>\r\n".encode()


def a_maildir(place: Path, *names: str) -> mailbox.Maildir:
    box = mailbox.Maildir(place)
    for name in names:
        box.add(a_message(name))
    return box


def test_what_lies_in_a_maildir_is_found_with_its_moment(tmp_path: Path) -> None:
    box = a_maildir(tmp_path / "Sent", "one", "two")
    seen = mailbox.MaildirMessage(a_message("read"))
    seen.set_subdir("cur")
    box.add(seen)
    found = sent_mail.seen([tmp_path / "Sent"], [])

    assert found == dict.fromkeys(
        ("<one@aldmere.example>", "<two@aldmere.example>", "<read@aldmere.example>"), SENT
    )


def test_a_maildir_may_hold_others(tmp_path: Path) -> None:
    a_maildir(tmp_path / "mail", "inbox")
    a_maildir(tmp_path / "mail" / ".Sent", "below")

    assert set(sent_mail.seen([tmp_path / "mail"], [])) == {
        "<inbox@aldmere.example>",
        "<below@aldmere.example>",
    }


def test_what_has_not_arrived_is_not_found(tmp_path: Path) -> None:
    a_maildir(tmp_path / "Sent")
    (tmp_path / "Sent" / "tmp" / "half").write_bytes(a_message("half"))

    assert sent_mail.seen([tmp_path / "Sent"], []) == {}


def test_a_folder_is_read_by_its_message_files(tmp_path: Path) -> None:
    (tmp_path / "a.eml").write_bytes(a_message("a"))
    (tmp_path / ".b.eml.part").write_bytes(a_message("b"))
    (tmp_path / "note.txt").write_bytes(a_message("c"))

    assert sent_mail.seen([], [tmp_path]) == {"<a@aldmere.example>": SENT}


@pytest.mark.parametrize(
    ("raw", "found"),
    [
        (b"", {}),
        (b"\xff\x00\r\n\r\nMessage-ID: <x@y>", {}),
        (b"message-id:\r\n <folded@aldmere.example>\r\n\r\n", {"<folded@aldmere.example>": None}),
        (b"Message-ID: <m@x.example>\r\nDate: yesterday\r\n\r\n", {"<m@x.example>": None}),
        (
            b"Message-ID: <m@x.example>\r\nDate: Tue, 03 Mar 2026 09:00:00 -0000\r\n\r\n",
            {"<m@x.example>": SENT},
        ),
        (
            b"Message-ID: <m@x.example>\r\nDate: Tue, 99 Mar 2026 09:00:00 +0000\r\n\r\n",
            {"<m@x.example>": None},
        ),
    ],
)
def test_strange_heads_harm_nobody(raw: bytes, found: dict[str, datetime | None], tmp_path: Path) -> None:
    (tmp_path / "a.eml").write_bytes(raw)

    assert sent_mail.seen([], [tmp_path]) == found


def test_a_place_that_is_none_is_named(tmp_path: Path) -> None:
    with pytest.raises(WayOutError, match=r"nowhere cannot be looked into \(No such file or directory\)"):
        sent_mail.seen([tmp_path / "nowhere"], [])
    with pytest.raises(WayOutError, match="nowhere cannot be looked into"):
        sent_mail.seen([], [tmp_path / "nowhere"])
    with pytest.raises(WayOutError, match="is no Maildir"):
        sent_mail.seen([tmp_path], [])
