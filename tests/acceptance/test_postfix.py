"""A real Postfix takes what is handed over, delivers it, and refuses as real servers do."""

import mailbox
import os
import pwd
import shutil
import smtplib
import subprocess
import tempfile
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

from notices.cases.outgoing import Parcel
from notices.sending.mail_settings import MailSettings
from notices.sending.smtp import SmtpWay
from tests import needs
from tests.mail_servers import free_port

MAIN = """\
compatibility_level = 3.6
queue_directory = {root}/queue
data_directory = {root}/data
maillog_file = {root}/log/mail.log
maillog_file_prefixes = {root}/log
mail_owner = postfix
setgid_group = postdrop
myhostname = mail.aldmere.example
mydestination =
inet_interfaces = 127.0.0.1
inet_protocols = ipv4
mynetworks = 127.0.0.0/8
alias_maps =
alias_database =
local_recipient_maps =
smtpd_relay_restrictions = permit_mynetworks, reject_unauth_destination
smtpd_recipient_restrictions =
    check_recipient_access inline:{{ {{ policy@owner.example = 554 5.7.1 no }} }}
    permit_mynetworks
default_transport = error:5.4.4 nothing leaves this test
virtual_mailbox_domains = owner.example
virtual_mailbox_base = {root}/mail
virtual_mailbox_maps = inline:{{ {{ anna@owner.example = anna/ }} }}
virtual_uid_maps = static:{uid}
virtual_gid_maps = static:{gid}
message_size_limit = 200000
"""
MASTER = """\
127.0.0.1:{port} inet n - n - - smtpd
postlog unix-dgram n - n - 1 postlogd
cleanup unix n - n - 0 cleanup
qmgr unix n - n 300 1 qmgr
rewrite unix - - n - - trivial-rewrite
bounce unix - - n - 0 bounce
defer unix - - n - 0 bounce
trace unix - - n - 0 bounce
error unix - - n - - error
retry unix - - n - - error
virtual unix - n n - - virtual
proxymap unix - - n - - proxymap
anvil unix - - n - 1 anvil
verify unix - - n - 1 verify
flush unix n - n 1000? 0 flush
showq unix n - n - - showq
"""


@dataclass(frozen=True)
class Postfix:
    """A running server: its port, where it delivers, what it wrote down."""

    port: int
    mail: Path
    log: Path


@pytest.fixture(scope="module")
def postfix() -> Iterator[Postfix]:
    command = shutil.which("postfix", path=f"{os.environ.get('PATH', '')}:/usr/sbin")
    if command is None:
        needs.missing("postfix is not installed (Debian: postfix)")
    if os.geteuid() != 0:
        needs.missing("a Postfix of one's own is started as root alone; run these tests in a container")
    with tempfile.TemporaryDirectory(prefix="postfix-") as folder:
        root = Path(folder)
        root.chmod(0o755)  # the server's own account walks down to its folder
        yield from _running(command, root)


def _running(command: str, root: Path) -> Iterator[Postfix]:
    port = free_port()
    _write(root, port)
    subprocess.run([command, "-c", str(root / "etc"), "start"], check=True, capture_output=True)
    try:
        _wait_for(port)
        yield Postfix(port=port, mail=root / "mail", log=root / "log" / "mail.log")
    finally:
        subprocess.run([command, "-c", str(root / "etc"), "stop"], check=True, capture_output=True)


def _write(root: Path, port: int) -> None:
    account = pwd.getpwnam("postfix")
    for name in ("etc", "queue", "data", "log", "mail"):
        (root / name).mkdir()
    for name in ("data", "mail"):
        os.chown(root / name, account.pw_uid, account.pw_gid)
    main = MAIN.format(root=root, uid=account.pw_uid, gid=account.pw_gid)
    (root / "etc" / "main.cf").write_text(main, "utf-8")
    (root / "etc" / "master.cf").write_text(MASTER.format(port=port), "utf-8")


def _wait_for(port: int) -> None:
    for _ in range(100):
        try:
            with smtplib.SMTP("127.0.0.1", port, timeout=5):
                return
        except OSError:
            time.sleep(0.1)
    pytest.fail("Postfix was started but does not answer")


def a_parcel(recipient: str, data: bytes | None = None) -> Parcel:
    head = f"From: safety@aldmere.example\r\nTo: {recipient}\r\nMessage-ID: <p1@aldmere.example>\r\n\r\n"
    return Parcel(
        message_id="<p1@aldmere.example>",
        sender="safety@aldmere.example",
        recipient=recipient,
        data=data or head.encode() + b".Do not ride.\r\n..\r\n.\r\nEnd\r\n",
    )


def _delivered(postfix: Postfix, count: int) -> list[mailbox.MaildirMessage]:
    """Wait until so many messages lie in Anna's Maildir."""
    for _ in range(150):
        if (postfix.mail / "anna" / "new").exists():
            found = list(mailbox.Maildir(postfix.mail / "anna", create=False))
            if len(found) >= count:
                return found
        time.sleep(0.1)
    pytest.fail(f"not delivered: {postfix.log.read_text('utf-8')}")


def test_postfix_takes_delivers_and_refuses(postfix: Postfix) -> None:
    line = SmtpWay(MailSettings(host="127.0.0.1", port=postfix.port, security="none"), None).open()
    wanted = ("anna@owner.example", "nobody@owner.example", "policy@owner.example", "anna@owner.example")
    outcomes = [line.hand_over(a_parcel(recipient)) for recipient in wanted]
    too_big = line.hand_over(a_parcel("anna@owner.example", b"x: y\r\n\r\n" + b"z" * 70 + b"\r\n" * 200_000))
    line.close()
    first, second = _delivered(postfix, 2)

    assert [(one.result, one.code, one.enhanced) for one in outcomes] == [
        ("handed_over", 250, "2.0.0"),
        ("refused", 550, "5.1.1"),
        ("refused", 554, "5.7.1"),
        ("handed_over", 250, "2.0.0"),
    ]
    assert "queued as" in outcomes[0].reply
    assert (too_big.result, too_big.enhanced) == ("refused", "5.3.4")
    assert {first["Message-ID"], second["Message-ID"]} == {"<p1@aldmere.example>"}
    assert first.get_payload() == ".Do not ride.\n..\n.\nEnd\n"
    assert first["Return-Path"] == "<safety@aldmere.example>"


def test_postfix_is_spoken_to_in_groups_of_commands(postfix: Postfix) -> None:
    with smtplib.SMTP("127.0.0.1", postfix.port) as asked:
        asked.ehlo()

        assert asked.has_extn("pipelining")
