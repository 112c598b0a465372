"""One contract for every way out: the mail server and the folder."""

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from notices.cases.outgoing import Parcel, WayOutError
from notices.sending.folder import FolderWay
from notices.sending.mail_settings import MailSettings
from notices.sending.smtp import SmtpWay
from notices.work.ways_out import WayOut
from tests.mail_servers import ScriptedServer, free_port

DATA = b"Subject: Stop\r\n\r\n.dot\r\nDo not ride. 100 % {{x}}\r\n"
Arrived = Callable[[], list[bytes]]


def a_parcel(number: int = 1, *, recipient: str = "anna@owner.example", data: bytes = DATA) -> Parcel:
    return Parcel(
        message_id=f"<p{number}@aldmere.example>",
        sender="safety@aldmere.example",
        recipient=recipient,
        data=data,
    )


@pytest.fixture(params=["smtp", "folder"])
def way_out(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[tuple[WayOut, Arrived]]:
    if request.param == "folder":
        folder = tmp_path / "mail"
        yield FolderWay(folder), lambda: [one.read_bytes() for one in sorted(folder.iterdir())]
        return
    with ScriptedServer() as server:
        settings = MailSettings(host="127.0.0.1", port=server.port, security="none")
        yield SmtpWay(settings, None), lambda: [one.replace(b"\r\n..", b"\r\n.") for one in server.messages]


@pytest.fixture(params=["smtp", "folder"])
def broken_way(request: pytest.FixtureRequest, tmp_path: Path) -> WayOut:
    if request.param == "smtp":
        return SmtpWay(MailSettings(host="127.0.0.1", port=free_port(), security="none"), None)
    (tmp_path / "file").write_bytes(b"")
    return FolderWay(tmp_path / "file")


def test_what_is_handed_over_has_arrived_byte_for_byte(way_out: tuple[WayOut, Arrived]) -> None:
    way, arrived = way_out
    line = way.open()
    outcomes = [line.hand_over(a_parcel(number)).result for number in (1, 2, 3)]
    line.close()

    assert outcomes == ["handed_over"] * 3
    assert arrived() == [DATA] * 3


def test_two_lines_stand_side_by_side(way_out: tuple[WayOut, Arrived]) -> None:
    way, arrived = way_out
    lines = [way.open(), way.open()]
    outcomes = [line.hand_over(a_parcel(number)).result for number, line in enumerate(lines)]
    for line in lines:
        line.close()

    assert outcomes == ["handed_over"] * 2
    assert arrived() == [DATA] * 2


def test_closing_twice_is_no_fault(way_out: tuple[WayOut, Arrived]) -> None:
    line = way_out[0].open()
    line.close()
    line.close()


def test_what_has_not_been_handed_over_is_never_said_to_have_arrived(way_out: tuple[WayOut, Arrived]) -> None:
    assert not way_out[0].has("<p1@aldmere.example>")


def test_what_arrived_is_known_or_unknown_but_never_denied(way_out: tuple[WayOut, Arrived]) -> None:
    way, _ = way_out
    line = way.open()
    line.hand_over(a_parcel())
    line.close()

    assert way.has("<p1@aldmere.example>") in {True, None}


def test_a_way_that_cannot_be_opened_says_what_to_do(broken_way: WayOut) -> None:
    with pytest.raises(WayOutError, match="; "):
        broken_way.open()
