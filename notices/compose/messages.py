"""The bytes of one message (RFC 5322, MIME RFC 2045 to 2047): written by hand, ten times as fast as the library.

Quoted-printable holds every body line under 77 signs, so that the compiler's one long line of HTML can go; the
legacy header encoder folds subjects, because the modern one of Python 3.11 drops spaces in long ones.
"""

import hashlib
import re
from base64 import b64encode
from binascii import b2a_qp
from collections.abc import Iterator, Mapping, Sequence
from datetime import datetime
from email.header import Header
from email.utils import format_datetime
from functools import lru_cache

from notices.compose.filling import Filled, Inline
from notices.compose.phrases import clean
from notices.compose.pictures import ENDINGS

_LINE = 76  # RFC 2045 and RFC 2047: no encoded line is longer
_LONGEST_WORD = 60  # a longer run without a space cannot be folded, so it is encoded
_LONGEST_NAME = 120  # a display name is a courtesy; a hostile one must not fill the header
_NAME_IN_CONFUSION = re.compile("[\u200b-\u200f\u202a-\u202e\u2060-\u2069\ufeff]")
_ATOM = re.compile(r"[A-Za-z0-9!#$%&'*+/=?^_`{|}~ -]*")
# ASCII without space, < and >, and one @; the rest was checked on import.
_ADDRESS = re.compile(r"[!-;=?A-~]+@[!-;=?A-~]+")
_MESSAGE_ID = re.compile(r"<[!-;=?A-~]+@[!-;=?A-~]+>")
_TEST = "TEST"
_TEST_HTML = (
    '<div lang="en" dir="ltr" style="background:#000000;color:#ffffff;font-family:Helvetica, Arial, sans-serif;'
    f'font-size:24px;font-weight:700;text-align:center;padding:8px">{_TEST}</div>'
)
_BODY_TAG = re.compile(r"<body[^>]*>")


def written(
    filled: Filled,
    *,
    to: str,
    date: datetime,
    message_id: str,
    pictures: Mapping[str, bytes],
    test: bool = False,
) -> bytes:
    """Write one message with CRLF line ends; the same arguments always give the same bytes.

    *to* is an ASCII address, *date* aware, *message_id* ``<left@right>``, *pictures* bytes by their digest. *test*
    puts the word TEST into the subject and at the top of both bodies. Raises ValueError for what cannot stand in a
    header, KeyError for a picture that is not given.
    """
    if not _MESSAGE_ID.fullmatch(message_id):
        raise ValueError(
            "a Message-ID is <left@right>, in ASCII and without spaces (RFC 5322, section 3.6.4)"
        )
    subject = f"{_TEST}: {filled.subject}" if test else filled.subject
    headers = [
        f"Date: {format_datetime(date)}",
        f"From: {_mailbox(filled.from_name, filled.from_address)}",
        f"Reply-To: {_checked(filled.reply_to)}",
        f"To: {_mailbox(filled.to_name, to)}",
        f"Subject: {_unstructured(subject, 'Subject')}",
        f"Message-ID: {message_id}",
        "MIME-Version: 1.0",
        f"Content-Language: {filled.language}",
    ]
    if filled.automatic:
        headers.append("Auto-Submitted: auto-generated")
    boundary = "=_" + hashlib.sha256(message_id.encode()).hexdigest()[:32]  # quoted-printable never holds =_
    parts = [_text_part(filled, test=test), _rich_part(filled, boundary, pictures, test=test)]
    headers.append(f'Content-Type: multipart/alternative;\r\n boundary="{boundary}a"')
    head = "\r\n".join(headers).encode("ascii")
    return head + b"\r\n\r\n" + _together(f"{boundary}a", parts)


def _text_part(filled: Filled, *, test: bool) -> bytes:
    text = f"{_TEST}\n\n{filled.text}" if test else filled.text
    return _quoted("text/plain", text)


def _rich_part(filled: Filled, boundary: str, pictures: Mapping[str, bytes], *, test: bool) -> bytes:
    rich = filled.rich
    if test:
        rich = (_BODY_TAG.sub(lambda match: match[0] + _TEST_HTML, filled.html, count=1),)
    page = _quoted_head("text/html") + b"=\r\n".join(
        _encoded_for_all(piece) if number % 2 == 0 else _encoded_qp(piece)
        for number, piece in enumerate(rich)
        if piece
    )
    if not filled.pictures:
        return page
    head = f'Content-Type: multipart/related; type="text/html";\r\n boundary="{boundary}r"\r\n\r\n'
    images = [_picture(number, one, pictures) for number, one in enumerate(filled.pictures, start=1)]
    return head.encode("ascii") + _together(f"{boundary}r", [page, *images])


def _together(boundary: str, parts: Sequence[bytes]) -> bytes:
    """Join the parts of a multipart body (RFC 2046, section 5.1)."""
    mark = f"--{boundary}".encode("ascii")
    return b"".join(mark + b"\r\n" + part + b"\r\n" for part in parts) + mark + b"--\r\n"


def _quoted(media: str, text: str) -> bytes:
    return _quoted_head(media) + _encoded_qp(text)


def _quoted_head(media: str) -> bytes:
    head = f"Content-Type: {media}; charset=utf-8\r\nContent-Transfer-Encoding: quoted-printable\r\n\r\n"
    return head.encode("ascii")


def _encoded_qp(text: str) -> bytes:
    """Encode text; the encoder is fed line feeds only, for it takes its line end from the first it sees."""
    lines = text.replace("\r\n", "\n").replace("\r", "\n")
    return b2a_qp(lines.encode(), istext=True).replace(b"\n", b"\r\n")


@lru_cache(maxsize=4096)
def _encoded_for_all(text: str) -> bytes:
    """Encode a text of the variant, once for all its owners; a soft line break parts it from what follows."""
    return _encoded_qp(text)


def _picture(number: int, one: Inline, pictures: Mapping[str, bytes]) -> bytes:
    lines = _base64(pictures[one.digest])
    name = f"picture-{number}.{ENDINGS[one.media]}"
    head = (
        f"Content-Type: {one.media}\r\nContent-Transfer-Encoding: base64\r\nContent-ID: <{one.cid}>\r\n"
        f'Content-Disposition: inline; filename="{name}"\r\n\r\n'
    )
    return head.encode("ascii") + lines


@lru_cache(maxsize=32)
def _base64(data: bytes) -> bytes:
    encoded = b64encode(data)
    return b"\r\n".join(encoded[start : start + _LINE] for start in range(0, len(encoded), _LINE))


def _checked(address: str) -> str:
    if not _ADDRESS.fullmatch(address):
        raise ValueError("an address in a header is ASCII, with one @ and without spaces or < >")
    return address


def _mailbox(name: str, address: str) -> str:
    """Write a name and an address; a name of plain words as it is, else quoted or encoded (RFC 5322, section 3.4)."""
    checked = _checked(address)
    shown = " ".join(_NAME_IN_CONFUSION.sub("", clean(name)).split())
    if len(shown) > _LONGEST_NAME:
        shown = shown[: _LONGEST_NAME - 1].rstrip() + "…"
    if not shown:
        return checked
    if not shown.isascii() or len(shown) > _LONGEST_WORD or "=?" in shown:
        return f"{_encoded(shown, 'Reply-To')}\r\n <{checked}>"
    if _ATOM.fullmatch(shown):
        return f"{shown}\r\n <{checked}>"
    quoted = shown.replace("\\", "\\\\").replace('"', '\\"')
    return f'"{quoted}"\r\n <{checked}>'


@lru_cache(maxsize=256)  # a variant's subject is that of all its owners
def _unstructured(text: str, name: str) -> str:
    """Write a subject, folded at spaces; encoded where it is not ASCII, or could be read as encoded."""
    one_line = clean(text)
    words = one_line.split(" ")
    plain = one_line.isascii() and "=?" not in one_line and "" not in words
    if plain and all(len(word) <= _LONGEST_WORD for word in words):
        return "\r\n ".join(_folded(words, len(name) + 2))
    return _encoded(one_line, name)


def _folded(words: Sequence[str], used: int) -> Iterator[str]:
    line, room = "", _LINE - used
    for word in words:
        if line and len(line) + 1 + len(word) > room:
            yield line
            line, room = word, _LINE - 1
        else:
            line = f"{line} {word}" if line else word
    yield line


def _encoded(text: str, name: str) -> str:
    """Return encoded words (RFC 2047), folded; the legacy encoder keeps every space."""
    return Header(text, "utf-8", maxlinelen=_LINE, header_name=name).encode(linesep="\r\n")
