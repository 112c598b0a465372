"""Whether a translation states the same facts: codes, addresses, telephone numbers, numbers, units and no tags.

Words cannot be compared by a program; what stands in a text as signs can. A torque, a code or a telephone number
that was lost on the way can hurt somebody, and no reader of the translation alone would see it.
"""

import re
import unicodedata
from collections import Counter
from collections.abc import Iterator

from audiences.findings import Finding, Severity
from notices.campaign.looking import Where
from notices.wording import placeholders

# A code has a capital letter and a figure, and no small letter: QM-2534-B, M8, EN15194.
_CODE = re.compile(
    r"(?<![\w-])(?=[A-Z0-9-]*[A-Z])(?=[A-Z0-9-]*[0-9])[A-Z0-9](?:[A-Z0-9-]*[A-Z0-9])?(?![\w-])"
)
_ADDRESS = re.compile(r"https?://[^\s<>\u2066-\u2069]+|[^\s@<>(\u2066-\u2069]+@[^\s@<>),;\u2066-\u2069]+\w")
# ITU-T E.123: groups of figures parted by spaces, hyphens or brackets; eight figures or more.
_PHONE = re.compile(r"\+?\d(?:[ \u00a0\u202f()/-]{0,2}\d){7,14}(?!\d)")
_TAG = re.compile(r"</?[A-Za-z][^<>]*>|&(?:#\w+|[A-Za-z]+);|\{\{|\}\}|\{%|%\}")
_THOUSANDS = re.compile(r"(?<!\d)(\d{1,3})((?:[.,\u00a0\u202f'\u2019\u066c ]\d{3})+)(?!\d)")
_NUMBER = re.compile(r"\d+")
_AFTERNOON = re.compile(r"(\d{1,2})(?=(?:[:.]\d\d)?\s?p\.?m\b)", re.IGNORECASE)
_NOON = 12
# SI Brochure, 9th edition, chapter 5 (from memory): the same in all languages; bar, psi and the like by use.
_UNIT = re.compile(
    r"\d[\s\u00a0\u202f]?(mm|cm|km|kg|mg|ml|N\W?m|kPa|MPa|bar|psi|kW|kN|Hz|°C|°F|%|[mgVAWN])(?![\w°])"
)
_ISOLATES = re.compile("[\u2066-\u2069]")


def differences(source: str, text: str, where: Where) -> Iterator[Finding]:
    """Yield what the translation *text* states otherwise than *source*; *where* is its place."""
    ours, theirs = _Stated(source), _Stated(text)
    lost = [*(ours.exact - theirs.exact), *(ours.phones - theirs.phones)]
    if lost:
        yield Finding(
            code="translation-code",
            **where,
            message=f"the translation lacks {_named(lost)}, which the source text holds",
            mend="write codes, addresses and telephone numbers as the source does, sign by sign",
        )
    if added := [*(theirs.exact - ours.exact), *(theirs.phones - ours.phones)]:
        yield Finding(
            code="translation-code-added",
            **where,
            message=f"the translation holds {_named(added)}, which the source text lacks",
            mend="take it out, or write it into campaign.yaml where every language has it",
        )
    lost = sorted((ours.numbers - theirs.numbers).elements())
    if not all(_later(number, ours, theirs) for number in lost):
        yield Finding(
            code="translation-number",
            **where,
            message=f"the translation lacks the number {_named(lost)}, which the source text holds",
            mend="state the same number in figures, with the decimal sign of the language",
        )
    lost = sorted((ours.units - theirs.units).elements())
    if lost and theirs.latin:
        yield Finding(
            code="translation-unit",
            **where,
            message=f"the translation lacks the unit {_named(lost)} after its number",
            mend="use the same unit and the same value: nobody converts a torque in their head",
            severity=Severity.CONSIDER,
            source="SI Brochure, 9th edition, chapter 5 (from memory): unit symbols are the same in all languages",
        )
    if tags := sorted((Counter(_TAG.findall(text)) - Counter(_TAG.findall(source))).elements()):
        yield Finding(
            code="translation-tag",
            **where,
            message=f"the translation holds the tag {_named(tags)}, which an owner would read as it stands",
            mend="take it out: a text is plain, and how it looks is not a matter of the translation",
        )


class _Stated:
    """What one text states as signs; a placeholder and what an isolate only frames count for nothing."""

    def __init__(self, text: str) -> None:
        plain = "".join(piece for piece in placeholders.split(text) if isinstance(piece, str))
        plain = _figures(_ISOLATES.sub("", plain))
        self.afternoons = set(_AFTERNOON.findall(plain))
        letters = [sign for sign in plain if sign.isalpha()]
        latin = sum(unicodedata.name(sign, "").startswith("LATIN") for sign in letters)
        self.latin = latin * 2 >= len(letters)
        self.exact = Counter(found.rstrip(".") for found in _ADDRESS.findall(plain))
        plain = _ADDRESS.sub(" ", plain)
        self.exact += Counter(_CODE.findall(plain))
        plain = _CODE.sub(" ", plain)
        self.phones = Counter(re.sub(r"[^\d+]", "", found) for found in _PHONE.findall(plain))
        plain = _PHONE.sub(" ", plain)
        self.units = Counter(found.replace("·", "").replace("⋅", "") for found in _UNIT.findall(plain))
        joined = _THOUSANDS.sub(lambda found: found[1] + re.sub(r"\D", "", found[2]), plain)
        self.numbers = Counter(_NUMBER.findall(joined))


def _later(number: str, ours: _Stated, theirs: _Stated) -> bool:
    """Say whether a number is an hour of the afternoon that the translation counts from midnight."""
    hour = str(int(number) + _NOON)
    return number in ours.afternoons and bool(theirs.numbers[hour])


def _figures(text: str) -> str:
    """Return *text* with the figures of every script as Latin ones: Arabic three is 3."""
    return "".join(str(unicodedata.decimal(sign)) if sign.isdecimal() else sign for sign in text)


def _named(found: list[str]) -> str:
    return ", ".join(dict.fromkeys(found))
