"""The bytes of a message, read back by the standard library and held against the limits of the standards."""

import email
import email.policy
import re
from datetime import UTC, datetime, timedelta, timezone
from email.header import decode_header, make_header
from email.message import Message
from email.utils import parseaddr, parsedate_to_datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from audiences.segments import Segment
from audiences.verdicts import Verdict
from notices.compose.filling import Filled
from notices.compose.mail import message_bytes
from notices.compose.messages import written
from notices.compose.pictures import by_digest
from tests.composing import LANGUAGES, PICTURES, composed, demo, filled, key, owner, values

NOW = datetime(2026, 3, 3, 9, 30, tzinfo=timezone(timedelta(hours=1)))
IMAGES = by_digest(PICTURES)


def written_to(mail: Filled, *, test: bool = False) -> bytes:
    """Write a mail to an invented owner."""
    return written(
        mail, to="ada@owner.example", date=NOW, message_id="<p1@aldmere.example>", pictures=IMAGES, test=test
    )


def read(data: bytes) -> Message:
    """Read a message as the standard library does, without its modern headers, which misread long names."""
    return email.message_from_bytes(data, policy=email.policy.compat32)


def plain(subject: str = "s", name: str = "", text: str = "t\n", html: str = "<p>h</p>") -> Filled:
    """Make the smallest mail."""
    return Filled(
        subject=subject,
        preheader="",
        rich=(html,),
        text=text,
        to_name=name,
        from_name="Aldmere Trading",
        from_address="safety@aldmere.example",
        reply_to="safety@aldmere.example",
        language="en",
        automatic=False,
        pictures=(),
    )


def header(message: Message, name: str) -> str:
    """Return a header as a reader sees it (RFC 2047)."""
    unfolded = re.sub(r"\r?\n(?=[ \t])", "", str(message[name]))
    return str(make_header(decode_header(unfolded)))


def bodies(message: Message) -> dict[str, str]:
    """Return the text of each text part by its type."""
    return {
        part.get_content_type(): part.get_payload(decode=True).decode("utf-8")  # type: ignore[union-attr] # a leaf
        for part in message.walk()
        if part.get_content_maintype() == "text"
    }


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize("verdict", list(Verdict))
@pytest.mark.parametrize("kind", ["stop", "first", "remind", "correct"])
def test_every_message_reads_back_as_it_was_written(kind: str, verdict: Verdict, language: str) -> None:
    mail = filled(demo(0 if kind == "stop" else 1, language), key(kind, verdict, language=language))
    data = written_to(mail)
    message = read(data)
    found = bodies(message)

    assert message.defects == []
    assert header(message, "Subject") == mail.subject
    assert parseaddr(header(message, "To")) == ("Ada Quell", "ada@owner.example")
    assert parseaddr(header(message, "From")) == ("Aldmere Trading", "safety@aldmere.example")
    assert message["Reply-To"] == "safety@aldmere.example"
    assert message["Message-ID"] == "<p1@aldmere.example>"
    assert message["Content-Language"] == language
    assert parsedate_to_datetime(message["Date"]) == NOW
    assert found["text/plain"].replace("\r\n", "\n") == mail.text
    assert found["text/html"].replace("\r\n", "\n") == mail.html


@pytest.mark.parametrize("language", LANGUAGES)
def test_no_line_is_longer_than_the_standards_allow(language: str) -> None:
    """RFC 5322, 2.1.1: 78 signs should, 998 must; RFC 2045, 6.7 and 6.8: encoded lines have at most 76."""
    data = written_to(filled(demo(1, language), key(language=language)))
    lines = data.split(b"\r\n")

    assert max(map(len, lines)) <= 78
    assert b"\n" not in data.replace(b"\r\n", b"")
    assert b"\r" not in data.replace(b"\r\n", b"")
    assert data.isascii()


def test_parts_are_nested_as_mail_programs_expect() -> None:
    """RFC 2046, 5.1.4: the plainest first; RFC 2387: related holds the page and its pictures."""
    message = read(written_to(filled(demo(1), key(segment=Segment.UNRIDDEN))))
    alternative = [part.get_content_type() for part in message.walk()]
    images = [part for part in message.walk() if part.get_content_maintype() == "image"]

    assert alternative == [
        "multipart/alternative",
        "text/plain",
        "multipart/related",
        "text/html",
        "image/png",
        "image/png",
    ]
    assert [image.get_payload(decode=True) for image in images] == list(PICTURES.values())
    for image in images:
        assert f"cid:{image['Content-ID'].strip('<>')}" in bodies(message)["text/html"]


def test_without_pictures_there_is_nothing_related() -> None:
    types = [part.get_content_type() for part in read(written_to(plain())).walk()]

    assert types == ["multipart/alternative", "text/plain", "text/html"]


def test_only_a_reminder_says_that_it_was_made_by_a_machine() -> None:
    """RFC 3834, section 5: auto-generated is for what no person sends by hand."""
    of = demo(1)

    assert read(written_to(filled(of, key("remind"))))["Auto-Submitted"] == "auto-generated"
    assert read(written_to(filled(of, key("first"))))["Auto-Submitted"] is None


def test_a_test_says_so_in_its_subject_and_at_the_top_of_both_bodies() -> None:
    message = read(written_to(filled(demo(1), key()), test=True))
    found = bodies(message)

    assert header(message, "Subject").startswith("TEST: Do not ride")
    assert found["text/plain"].startswith("TEST\r\n")
    assert re.search(r"<body[^>]*><div [^>]*>TEST</div>", found["text/html"])


def test_the_same_posting_gives_the_same_bytes() -> None:
    of = demo(1)
    both = {
        message_bytes(
            composed(of, key()).content,
            values(of),
            to="a@b.example",
            date=NOW,
            message_id="<a@b.example>",
            pictures=PICTURES,
        )
        for _ in range(2)
    }

    assert len(both) == 1


@pytest.mark.parametrize(
    "name",
    [
        'Quell, "Ada" \\ (junior)',
        "Ada\r\nBcc: all@example.org",
        "Ä" * 40,
        "أدا كويل من ميناء ألدمير",
        "=?utf-8?q?x?=",
        "Ada <eve@evil.example>",
        "ada@owner.example",
        "n\u00fcr ein  Name",
        "\u202eadA",
    ],
)
def test_a_hostile_name_stays_one_name(name: str) -> None:
    data = written_to(filled(demo(1), key(), owner(name)))
    message = read(data)
    shown = " ".join(name.replace("\r\n", " ").replace("\u202e", "").split())

    assert message.get_all("Bcc") is None
    assert parsed_name(message) == (shown, "ada@owner.example")
    assert b"\r\nBcc" not in data


def parsed_name(message: Message) -> tuple[str, str]:
    """Return name and address of the only recipient, the name decoded after it was parsed (RFC 2047, section 5)."""
    found, address = parseaddr(re.sub(r"\r?\n(?=[ \t])", "", str(message["To"])))
    quoted = str(message["To"]).startswith('"')
    return (found if quoted else str(make_header(decode_header(found)))), address


def test_a_name_of_a_thousand_signs_is_cut_and_still_read() -> None:
    data = written_to(plain(name="Ä" * 1000))
    name, address = parsed_name(read(data))

    assert (len(name), name[-1], address) == (120, "…", "ada@owner.example")
    assert max(map(len, data.split(b"\r\n"))) <= 78


def test_no_name_leaves_the_bare_address() -> None:
    assert read(written_to(plain(name=" \u200b ")))["To"] == "ada@owner.example"


@pytest.mark.parametrize(
    "address",
    ["a b@c.example", "a@b@c.example", "<a@b.example>", "ä@b.example", "a@b.example\r\nX: y", "nobody"],
)
def test_an_address_that_cannot_stand_in_a_header_is_refused(address: str) -> None:
    with pytest.raises(ValueError, match="an address in a header"):
        written(plain(), to=address, date=NOW, message_id="<a@b.example>", pictures={})


@pytest.mark.parametrize("message_id", ["a@b.example", "<a b@c.example>", "<a@b>\r\nX: y", "<ab>"])
def test_a_message_id_is_as_the_standard_wants_it(message_id: str) -> None:
    """RFC 5322, section 3.6.4."""
    with pytest.raises(ValueError, match="a Message-ID is"):
        written(plain(), to="a@b.example", date=NOW, message_id=message_id, pictures={})


def test_an_encoded_subject_is_as_published() -> None:
    """RFC 2047, section 4.1, "B" encoding; the value is the standard library's own for this text."""
    message = read(written_to(plain(subject="Grüße aus Köln")))

    assert str(message["Subject"]) == "=?utf-8?b?R3LDvMOfZSBhdXMgS8O2bG4=?="


@pytest.mark.property
@given(st.text(st.characters(exclude_categories=("Cs", "Cc", "Cn", "Zl", "Zp")), max_size=300))
def test_any_subject_reads_back_with_every_space(subject: str) -> None:
    """RFC 2047, section 2: an encoded word has at most 75 signs, its line at most 76."""
    data = written_to(plain(subject=subject))
    lines = data.partition(b"\r\n\r\n")[0].split(b"\r\n")
    kept = "".join(sign for sign in subject if sign not in "\u202a\u202b\u202c\u202d\u202e")

    assert header(read(data), "Subject").strip(" ") == kept.strip(" ")
    assert max(map(len, lines)) <= 78


@pytest.mark.property
@given(st.text(st.characters(exclude_categories=["Cs"]), max_size=400))
def test_any_body_reads_back_line_by_line(text: str) -> None:
    data = written_to(plain(text=text, html=f"<body>{text}</body>"))
    lines = text.replace("\r\n", "\n").replace("\r", "\n")

    assert bodies(read(data))["text/plain"].replace("\r\n", "\n") == lines
    assert all(
        len(line) <= 76 for line in data.partition(b"\r\n\r\n")[2].split(b"\r\n") if b"boundary" not in line
    )


def test_a_date_bears_its_zone() -> None:
    """RFC 5322, section 3.3."""
    assert read(written_to(plain()))["Date"] == "Tue, 03 Mar 2026 09:30:00 +0100"
    assert NOW.astimezone(UTC).hour == 8
