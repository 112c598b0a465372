"""What is composed, proved and signed as one, and the name it goes by."""

from dataclasses import dataclass

from audiences.findings import Finding
from audiences.segments import Segment
from audiences.verdicts import Verdict
from notices.cases.owed import CORRECTIONS, REMIND_STOP, STOP

KINDS = (STOP, "first", "remind", REMIND_STOP, *sorted(CORRECTIONS))


@dataclass(frozen=True, kw_only=True, slots=True)
class VariantKey:
    """Who a variant is for; *language* is BCP 47, *market* a key of the campaign's markets, "" where it has none."""

    kind: str
    channel: str
    verdict: Verdict
    segment: Segment
    market: str
    language: str

    @property
    def name(self) -> str:
        """Return the key as one word, fit for a file name."""
        parts = (self.kind, self.verdict, self.segment, self.market, self.language)
        word = "-".join(part for part in parts if part)
        return "".join(sign if sign.isascii() and (sign.isalnum() or sign in "-_") else "_" for sign in word)


@dataclass(frozen=True, kw_only=True, slots=True)
class Composed:
    """A variant as composed: *content* is canonical JSON, *fingerprint* its SHA-256, *said* its saying's digest."""

    key: VariantKey
    said: str
    content: str
    fingerprint: str
    findings: tuple[Finding, ...]
