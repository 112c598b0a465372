"""Every message of the demo, as a mail program at the other end reads it."""

from collections.abc import Iterator
from email import message_from_bytes
from email.header import decode_header, make_header
from email.message import EmailMessage
from email.parser import BytesHeaderParser
from email.policy import SMTP, compat32
from email.utils import parseaddr

from notices.cases.records import Posting
from notices.compose.filling import Filled, fill
from notices.demo.mail_server import Received
from tests.demo_runs import Told


def pairs(told: Told) -> Iterator[tuple[Received, EmailMessage, Posting, Filled]]:
    """Yield each message with the posting of the same Message-ID, and with what the register says was in it."""
    with told.world() as world, world.register.look() as tx:
        postings = {one.message_id: one for one in tx.outbox.postings()}
        variants = tx.variants.get(sorted({one.fingerprint for one in postings.values()}))
        for received in told.story.server.received:
            message = message_from_bytes(received.data, _class=EmailMessage, policy=SMTP)
            posting = postings[str(message["Message-ID"])]
            yield received, message, posting, fill(variants[posting.fingerprint].content, posting.fill)


def display_name(received: Received) -> str:
    """Return whom a message names, by the library's older parser.

    The newer one of Python 3.11 keeps a space between two encoded words of a name (RFC 2047, 6.2 has it ignored).
    """
    head = message_from_bytes(received.data, policy=compat32)
    name, _ = parseaddr(" ".join(str(head["To"]).split()))
    return str(make_header(decode_header(name)))


def test_each_is_read_back_with_the_subject_addresses_and_words_that_the_register_holds(told: Told) -> None:
    count = 0
    for received, message, posting, filled in pairs(told):
        count += 1
        to, sender = message["To"].addresses, message["From"].addresses
        text, html = message.get_body(("plain",)), message.get_body(("html",))

        assert text is not None
        assert html is not None
        assert message["Subject"] == filled.subject
        assert [one.addr_spec for one in to] == [posting.address] == [received.recipient]
        assert display_name(received) == " ".join(filled.to_name.split())
        assert [(one.display_name, one.addr_spec) for one in sender] == [
            ("Aldmere Trading", "safety@aldmere.example")
        ]
        assert received.sender == "safety@aldmere.example"
        assert text.get_content().splitlines() == filled.text.splitlines()
        assert html.get_content().splitlines() == filled.html.splitlines()
        assert [part.defects for part in message.walk() if part.defects] == []

    assert count > 900


def test_no_line_is_longer_than_a_line_may_be_and_each_ends_as_it_must(told: Told) -> None:
    """RFC 5322, 2.1.1: at most 998 characters without CRLF; 2.3: CR and LF only together; header lines in ASCII."""
    for received in told.story.server.received:
        head, _, _ = received.data.partition(b"\r\n\r\n")
        bare = received.data.replace(b"\r\n", b"")

        assert max(len(line) for line in received.data.split(b"\r\n")) <= 998
        assert b"\r" not in bare
        assert b"\n" not in bare
        assert max(len(line) for line in head.split(b"\r\n")) <= 998
        assert head.isascii()


def test_no_message_id_came_twice_and_each_message_has_one_recipient(told: Told) -> None:
    read = BytesHeaderParser(policy=SMTP)
    heads = [read.parsebytes(one.data.partition(b"\r\n\r\n")[0]) for one in told.story.server.received]
    names = [one["Message-ID"] for one in heads]

    assert len(set(names)) == len(names)
    assert all(len(one["To"].addresses) == 1 for one in heads)
    assert not any(one[field] for one in heads for field in ("Cc", "Bcc"))


def test_who_reads_arabic_gets_it_from_right_to_left(told: Told) -> None:
    """HTML Living Standard, the dir attribute; RFC 3282, Content-Language."""
    readers = [one.owner for one in told.story.people if one.owner.language == "ar"]
    received = [
        next(told.story.server.to(owner.email.replace("lastenräder", "xn--lastenrder-w5a"))).message
        for owner in readers
    ]
    bodies = [one.get_body(("html",)) for one in received]

    assert len(received) == 2
    assert all(one["Content-Language"] == "ar" for one in received)
    assert all(body is not None and 'dir="rtl"' in body.get_content() for body in bodies)


def test_whose_language_no_list_says_is_written_to_in_the_countrys(told: Told) -> None:
    by_country = {"IE": "en", "GB": "en", "DE": "de", "FR": "fr", "NL": "nl", "BE": "nl", "ES": "es"}
    by_country |= {"IT": "it", "PL": "pl", "US": "en-US"}
    found: dict[str, set[str]] = {}
    for owner in (one.owner for one in told.story.people if not one.owner.language):
        address = owner.email.replace("lastenräder", "xn--lastenrder-w5a")
        for received in told.story.server.to(address):
            found.setdefault(owner.country, set()).add(received.message["Content-Language"])

    assert found == {country: {language} for country, language in by_country.items()}
