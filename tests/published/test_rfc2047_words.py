"""Encoded words as RFC 2047 has them, read by a decoder of the test's own, and base64 by the vectors of RFC 4648."""

import base64
import re
from dataclasses import replace
from datetime import UTC, datetime

import pytest

from notices.compose.filling import Filled
from notices.compose.mail import message_bytes
from notices.compose.messages import written
from tests import composing

NOW = datetime(2026, 3, 3, 9, 30, tzinfo=UTC)
# RFC 2047, section 2: encoded-word = "=?" charset "?" encoding "?" encoded-text "?=".
WORD = re.compile(r"=\?utf-8\?([bq])\?([!->@-~]+)\?=", re.IGNORECASE)
LONG = {
    "de": "Fahren Sie Ihr Drayling 2 nicht: Das Lenkgestänge kann brechen (Produktsicherheitsrückruf für alle Räder)",
    "ar": "لا تركبوا دراجة Drayling 2: قد ينكسر نظام التوجيه (استدعاء منتج لأسباب تتعلق بالسلامة)",
    "he": "אל תרכבו על Drayling 2: ההיגוי עלול להישבר (הודעת החזרה מטעמי בטיחות) 🚲🚲🚲🚲🚲🚲🚲🚲",
}


def _mail(text: str = "Stop", name: str = "Ada") -> Filled:
    return replace(composing.filled(composing.demo(1), composing.key()), subject=text, to_name=name)


def _decoded(encoding: str, text: str) -> str:
    """Decode one word alone: "B" is base64 (section 4.1), "Q" has _ for a space and =XX for an octet (4.2)."""
    if encoding.lower() == "b":
        return base64.b64decode(text, validate=True).decode("utf-8")
    octets = re.sub(
        r"=([0-9A-F]{2})|(.)", lambda found: chr(int(found[1], 16)) if found[1] else found[2], text
    )
    return octets.replace("_", " ").encode("latin-1").decode("utf-8")


def _header(mail: Filled, name: str) -> str:
    pictures = {one.digest: b"picture" for one in mail.pictures}
    data = written(mail, to="ada@owner.example", date=NOW, message_id="<p1@a.example>", pictures=pictures)
    head = data.partition(b"\r\n\r\n")[0].decode("ascii")
    found = re.search(rf"^{name}: ([^\r\n]*(?:\r\n[ \t][^\r\n]*)*)", head, re.MULTILINE)
    assert found is not None
    return found[1]


@pytest.mark.parametrize("language", sorted(LONG))
@pytest.mark.parametrize("name", ["Subject", "To"])
def test_each_encoded_word_holds_whole_signs_and_at_most_75_of_its_own(name: str, language: str) -> None:
    text = LONG[language]
    written_as = _header(_mail(text, text), name)
    words = WORD.findall(written_as)
    read = "".join(_decoded(encoding, word) for encoding, word in words)

    assert len(words) > 1
    assert max(len(found[0]) for found in WORD.finditer(written_as)) <= 75  # section 2
    assert max(map(len, f"{name}: {written_as}".split("\r\n"))) <= 76  # section 2
    assert read == text  # section 5: each word decodes alone; 6.2: the space between two of them is none
    assert WORD.sub("", written_as).replace("<ada@owner.example>", "").strip() == ""


def test_an_encoded_name_stands_in_no_quotes_and_holds_only_what_a_phrase_may() -> None:
    """RFC 2047, section 5, rule 3: not within a quoted-string; in "Q" only letters, digits and ! * + - / = _ stand."""
    written_as = _header(_mail(name='Jürgen "Öl" Ölt (Rad & Tat), a@b.example'), "To")
    words = WORD.findall(written_as)

    assert '"' not in written_as
    assert words
    assert all(re.fullmatch(r"[A-Za-z0-9!*+/=_-]+", text) for _, text in words)


# RFC 4648, section 10.
@pytest.mark.parametrize(
    ("octets", "published"),
    [(b"f", "Zg=="), (b"fo", "Zm8="), (b"foo", "Zm9v"), (b"foob", "Zm9vYg=="), (b"foobar", "Zm9vYmFy")],
)
def test_a_picture_is_written_in_base64_as_published(octets: bytes, published: str) -> None:
    mail = _mail()
    pictures = {one.digest: octets for one in mail.pictures}
    data = written(mail, to="ada@owner.example", date=NOW, message_id="<p1@a.example>", pictures=pictures)

    assert mail.pictures
    assert data.count(f"\r\n\r\n{published}\r\n--".encode()) == len(mail.pictures)


# RFC 2045, section 6.7: "=" and what is not ASCII as "=" and two upper-case hexadecimal digits (rule 1), no space
# or tab at the end of a line (rule 3), no line over 76 signs, the soft break's "=" among them (rule 5).
@pytest.mark.parametrize("language", composing.LANGUAGES)
def test_bodies_are_quoted_printable_as_published(language: str) -> None:
    of = composing.demo(1, language)
    content = composing.composed(of, composing.key(language=language)).content
    data = message_bytes(
        content,
        composing.values(of, language),
        to="ada@owner.example",
        date=NOW,
        message_id="<p1@a.example>",
        pictures=composing.PICTURES,
    )
    parts = data.split(b"Content-Transfer-Encoding: quoted-printable\r\n\r\n")[1:]
    lines = [line for part in parts for line in part.partition(b"\r\n--=_")[0].split(b"\r\n")]

    assert len(parts) == 2
    assert max(map(len, lines)) == 76
    assert [line for line in lines if line.endswith((b" ", b"\t"))] == []
    assert [line for line in lines if re.search(rb"=(?![0-9A-F]{2}|$)", line)] == []
    assert [line for line in lines if re.search(rb"[^\t -~]", line)] == []
