"""The demo's mail server takes, keeps and refuses as it is told, over real SMTP (RFC 5321, RFC 3463)."""

import smtplib
from datetime import UTC, datetime

import pytest

from notices.demo.mail_server import MailServer

NOON = datetime(2026, 3, 3, 12, tzinfo=UTC)
MAIL = b'Subject: a\r\nContent-Type: text/html\r\n\r\n<a href="https://a.example/x">x</a><a href="mailto:b">b</a>\r\n'


def server() -> MailServer:
    return MailServer(dead=["Gone@Mail.example"], refusing="strict.example", now=lambda: NOON)


def refusal_of(recipient: str) -> tuple[int, bytes]:
    with (
        server() as running,
        smtplib.SMTP("127.0.0.1", running.port) as line,
        pytest.raises(smtplib.SMTPRecipientsRefused) as refused,
    ):
        line.sendmail("safety@aldmere.example", [recipient], MAIL)

    assert running.received == []
    return refused.value.recipients[recipient]


def test_what_is_taken_is_kept_byte_for_byte_with_its_envelope_and_moment() -> None:
    with server() as running, smtplib.SMTP("127.0.0.1", running.port) as line:
        line.sendmail("safety@aldmere.example", ["anna@mail.example"], MAIL)
        kept = running.received[0]

    assert (kept.sender, kept.recipient, kept.data, kept.at) == (
        "safety@aldmere.example",
        "anna@mail.example",
        MAIL,
        NOON,
    )
    assert kept.links == ["https://a.example/x"]
    assert list(running.to("Anna@mail.example")) == [kept]


def test_a_dead_mailbox_is_refused_as_unknown() -> None:
    assert refusal_of("gone@mail.example") == (550, b"5.1.1 no such mailbox here")


def test_one_provider_refuses_by_policy() -> None:
    assert refusal_of("anna@STRICT.example") == (550, b"5.7.1 refused by the policy of this provider")
