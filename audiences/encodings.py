"""Which character set a list is written in, and the list as UTF-8; what cannot be read stays a fault of its row."""

import codecs
import re
import unicodedata
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from audiences.byte_lines import LONGEST_LINE

ENCODINGS: Mapping[str, str] = MappingProxyType(
    {
        "utf-8": "UTF-8",
        "utf-16-le": "UTF-16",
        "utf-16-be": "UTF-16 (big end first)",
        "windows-1252": "Windows-1252 (Western European)",
        "windows-1250": "Windows-1250 (Central European)",
        "windows-1256": "Windows-1256 (Arabic)",
        "iso-8859-15": "ISO 8859-15 (Western European)",
    }
)
"""The encodings a list may be written in, with their names for people."""

_MARKS = (
    (codecs.BOM_UTF8, "utf-8"),
    (codecs.BOM_UTF16_LE, "utf-16-le"),
    (codecs.BOM_UTF16_BE, "utf-16-be"),
)
_ONE_BYTE = frozenset({"windows-1252", "windows-1250", "windows-1256", "iso-8859-15"})
_UTF_32 = (codecs.BOM_UTF32_LE, codecs.BOM_UTF32_BE)
_SAMPLE = 4096
_CHUNK = 1 << 20
_FEWEST_NULS = 0.1  # of the signs: separators, line ends and spaces have one in every script
_MOST_STRAYS = 0.25  # against them: a sign such as U+0100 ends in one
_HIGH = re.compile(rb"[\x80-\xff]")
_LINE_END = re.compile(rb"[\r\n]")
# A surrogate written as three bytes: some programs do it, RFC 3629 forbids it, and it is no Windows-1252.
_SURROGATE = re.compile(rb"\xed[\xa0-\xbf][\x80-\xbf]")
_WESTERN = re.compile(r"[A-Za-zÀ-ÖØ-öø-ÿŒœŠšŽžŸ€‚„…‘’“”•–—™¡-´¶-¿· ]")  # noqa: RUF001 - what Western lists hold
_LETTER = re.compile(r"[A-Za-z][À-ÖØ-öø-ýŒœŠšŽžŸ]|[À-ÖØ-öø-ýŒœŠšŽžŸ][A-Za-z]")


@dataclass(frozen=True, kw_only=True, slots=True)
class Encoding:
    """A list's encoding, the length of its mark, and whether a person should look: nothing in the file says so."""

    name: str
    mark: int = 0
    guessed: bool = False


def encoding_of(data: bytes, remembered: str = "") -> Encoding | None:
    """Return how *data* is written, None for UTF-32; *remembered* decides among encodings of one byte a sign.

    A mark decides, then the pattern of UTF-16, then whether it is UTF-8. What is not counts as Windows-1252 where
    no row speaks for UTF-8 and the signs fit; else it stays UTF-8, and the rows that are not are refused.
    """
    if data.startswith(_UTF_32):
        return None
    for mark, name in _MARKS:
        if data.startswith(mark):
            return Encoding(name=name, mark=len(mark))
    if wide := _without_mark(data):
        return Encoding(name=wide, guessed=True)
    if _is_utf_8(data):
        return Encoding(name="utf-8")
    if remembered in _ONE_BYTE:
        return Encoding(name=remembered)
    return Encoding(name="windows-1252", guessed=True) if _is_western(data) else Encoding(name="utf-8")


def as_utf_8(data: bytes, encoding: Encoding) -> bytes:
    """Return *data* as UTF-8 without a mark; what has no meaning in *encoding* becomes bytes that are no UTF-8."""
    if encoding.name == "utf-8":
        return data.removeprefix(codecs.BOM_UTF8)
    wide = encoding.name.startswith("utf-16")
    decoder = codecs.getincrementaldecoder(encoding.name)("surrogatepass" if wide else "surrogateescape")
    body = memoryview(data)[encoding.mark : len(data) - (len(data) - encoding.mark) % 2 if wide else None]
    found = bytearray()
    for start in range(0, len(body), _CHUNK):
        found += decoder.decode(body[start : start + _CHUNK]).encode("utf-8", "surrogatepass")
    found += decoder.decode(b"", final=True).encode("utf-8", "surrogatepass")
    return bytes(found)


def _is_utf_8(data: bytes) -> bool:
    decoder = codecs.getincrementaldecoder("utf-8")()
    view = memoryview(data)
    try:
        for start in range(0, len(view), _CHUNK):
            decoder.decode(view[start : start + _CHUNK])
        decoder.decode(b"", final=True)
    except UnicodeDecodeError:
        return False
    return True


def _without_mark(data: bytes) -> str | None:
    """Return the kind of UTF-16 whose line ends and separators stand in *data* as two bytes, None for none."""
    sample = data[:_SAMPLE]
    if b"\0" not in sample or len(data) % 2:
        return None
    for name, nul, other in (("utf-16-le", 1, 0), ("utf-16-be", 0, 1)):
        nuls, strays = sample[nul::2].count(0), sample[other::2].count(0)
        if nuls < max(2, _FEWEST_NULS * len(sample) / 2) or strays > nuls * _MOST_STRAYS:
            continue
        text = sample.decode(name, "replace")
        if any(sign in text for sign in "\n\r,;\t") and all(map(_is_text, text)):
            return name
    return None


def _is_text(sign: str) -> bool:
    return sign in "\n\r\t" or unicodedata.category(sign) not in {"Cc", "Cn", "Co"}


def _is_western(data: bytes) -> bool:
    """Tell whether rows that are no UTF-8 read as Western European, and no other row has signs in UTF-8."""
    speaking = False
    for line in _lines_with_high_bytes(data):
        if _SURROGATE.search(line) or _is_utf_8(line):
            return False
        text = line.decode("windows-1252", "replace")
        high = [sign for sign in text if not sign.isascii()]
        speaking = speaking or (_LETTER.search(text) is not None and all(map(_WESTERN.match, high)))
    return speaking


def _lines_with_high_bytes(data: bytes) -> Iterator[bytes]:
    """Yield the lines of a readable length that are not plain ASCII."""
    place = 0
    while high := _HIGH.search(data, place):
        start = max(
            place, data.rfind(b"\n", place, high.start()) + 1, data.rfind(b"\r", place, high.start()) + 1
        )
        end = _LINE_END.search(data, high.end())
        place = end.start() if end else len(data)
        if place - start <= LONGEST_LINE:
            yield data[start:place]
