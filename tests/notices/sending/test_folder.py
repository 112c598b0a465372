"""A folder as a way out."""

import os
import stat
from pathlib import Path

import pytest

from notices.cases.outgoing import Parcel, WayOutError
from notices.sending.folder import FolderWay, file_name


def a_parcel(message_id: str = "<01ab@aldmere.example>", data: bytes = b"Subject: x\r\n\r\ny\r\n") -> Parcel:
    return Parcel(message_id=message_id, sender="s@aldmere.example", recipient="a@owner.example", data=data)


def test_a_message_lies_under_its_message_id_byte_for_byte(tmp_path: Path) -> None:
    way = FolderWay(tmp_path / "new" / "mail")
    outcome = way.open().hand_over(a_parcel())

    assert outcome.result == "handed_over"
    assert [one.name for one in (tmp_path / "new" / "mail").iterdir()] == ["01ab@aldmere.example.eml"]
    assert (tmp_path / "new" / "mail" / "01ab@aldmere.example.eml").read_bytes() == a_parcel().data


def test_a_full_folder_is_taken_on(tmp_path: Path) -> None:
    (tmp_path / "other.txt").write_text("kept", "utf-8")
    FolderWay(tmp_path).open().hand_over(a_parcel())
    FolderWay(tmp_path).open().hand_over(a_parcel())

    assert sorted(one.name for one in tmp_path.iterdir()) == ["01ab@aldmere.example.eml", "other.txt"]


def test_only_its_owner_may_read_a_message(tmp_path: Path) -> None:
    FolderWay(tmp_path / "mail").open().hand_over(a_parcel())
    modes = [stat.S_IMODE(one.stat().st_mode) for one in (tmp_path / "mail", *(tmp_path / "mail").iterdir())]

    assert modes == [0o700, 0o600]


def test_a_half_written_message_has_not_arrived(tmp_path: Path) -> None:
    (tmp_path / ".01ab@aldmere.example.eml.part").write_bytes(b"Subj")
    way = FolderWay(tmp_path)

    assert way.has("<01ab@aldmere.example>") is False
    assert way.open().hand_over(a_parcel()).result == "handed_over"
    assert way.has("<01ab@aldmere.example>") is True
    assert len(list(tmp_path.iterdir())) == 1


HOSTILE = [
    "<../evil@aldmere.example>",
    "<a/b@aldmere.example>",
    "<a\\b@aldmere.example>",
    "<.hidden@aldmere.example>",
    "<a\0@aldmere.example>",
    "<a\n@aldmere.example>",
    "<con:aux@aldmere.example>",
    f"<{'a' * 300}@aldmere.example>",
    "<ä@aldmere.example>",
    "",
    "<>",
    "nothing",
    "<a@b>x<c@d>",
]


@pytest.mark.parametrize("message_id", HOSTILE)
def test_a_message_id_that_is_no_safe_file_name_is_refused(tmp_path: Path, message_id: str) -> None:
    way = FolderWay(tmp_path)

    assert file_name(message_id) is None
    assert way.open().hand_over(a_parcel(message_id)).result == "refused"
    assert way.has(message_id) is False
    assert list(tmp_path.iterdir()) == []


def test_a_folder_that_cannot_be_made_is_said(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("", "utf-8")

    with pytest.raises(WayOutError, match="cannot be made"):
        FolderWay(tmp_path / "file").open()
    with pytest.raises(WayOutError, match="cannot be made"):
        FolderWay(tmp_path / "file" / "below").open()


def test_a_folder_that_vanished_stops_the_run(tmp_path: Path) -> None:
    line = FolderWay(tmp_path / "mail").open()
    (tmp_path / "mail").rmdir()

    assert line.hand_over(a_parcel()).result == "stop"


def test_a_folder_that_cannot_be_looked_into_is_a_doubt(tmp_path: Path) -> None:
    loop = tmp_path / "loop"
    os.symlink(loop, loop)  # noqa: PTH211 - a link to itself cannot be looked into, even by the administrator

    assert FolderWay(loop).has("<01ab@aldmere.example>") is None
