"""Whether each text is made of short sentences, and says days so that every reader reads the same."""

import re
from collections.abc import Iterator

from audiences.findings import Finding, Severity
from notices.wording.counting import Sentence, sentences
from notices.wording.passages import Reading

LONGEST_SENTENCE = 20  # words
LONGEST_TEXT = 5  # sentences
_SHOWN = 8  # words of a sentence that a finding repeats
_PLAIN_WRITING = "US Plain Writing Act of 2010, one-page rule of the health department"
_DATE = re.compile(
    r"(?<![\w.,/-])(?:(\d{1,2})([./-])\s?(\d{1,2})\2\s?(?:\d{4}|\d{2})|(\d{4})-(\d{1,2})-(\d{1,2}))(?![\w/-]|[.,]\d)"
)
_MONTH_NAMES = (
    *("January", "February", "March", "April", "May", "June"),
    *("July", "August", "September", "October", "November", "December"),
)
_DAYS, _MONTHS = 31, len(_MONTH_NAMES)


def long_sentences(reading: Reading) -> Iterator[Finding]:
    """Name each sentence of more than twenty words; no law sets a length, so that none must be mended."""
    for passage in reading.passages():
        for one in sentences(passage.text, passage.language):
            if len(one.words) > LONGEST_SENTENCE:
                yield Finding(
                    code="sentence-long",
                    **passage.where,
                    message=f"this sentence has {len(one.words)} words: {shown(one)}",
                    mend=f"make two or more of it, of at most {LONGEST_SENTENCE} words each",
                    severity=Severity.CONSIDER,
                    source=_PLAIN_WRITING,
                )


def long_texts(reading: Reading) -> Iterator[Finding]:
    """Name each text of more than five sentences, which is one paragraph to its reader."""
    for passage in reading.passages():
        count = len(sentences(passage.text, passage.language))
        if count > LONGEST_TEXT:
            yield Finding(
                code="paragraph-long",
                **passage.where,
                message=f"this paragraph has {count} sentences",
                mend=f"keep to {LONGEST_TEXT}; leave out what is said elsewhere in the notice",
                severity=Severity.CONSIDER,
                source=_PLAIN_WRITING,
            )


def dates_in_figures(reading: Reading) -> Iterator[Finding]:
    """Name each day that is written in figures alone."""
    for passage in reading.passages():
        for found in _DATE.finditer(passage.text):
            if _is_day(found):
                yield Finding(
                    code="date-in-figures",
                    **passage.where,
                    message=f"{found[0]} {_read_as(found)}",
                    mend="write the month as a word, as 5 March 2026, or %(day)s where that day is meant",
                    severity=Severity.CONSIDER,
                    source="common practice, no source",
                )


def shown(one: Sentence) -> str:
    """Return the beginning of a sentence, as a finding repeats it."""
    words = one.text.split()
    return " ".join(words[:_SHOWN]) + (" …" if len(words) > _SHOWN else "")


def _pair(found: re.Match[str]) -> tuple[int, int]:
    """Return the two figures that can be day and month."""
    return (int(found[1]), int(found[3])) if found[1] else (int(found[6]), int(found[5]))


def _is_day(found: re.Match[str]) -> bool:
    low, high = sorted(_pair(found))
    return 1 <= low <= _MONTHS and high <= _DAYS


def _read_as(found: re.Match[str]) -> str:
    low, high = sorted(_pair(found))
    if found[1] and low != high <= _MONTHS:
        return (
            f"is {low} {_MONTH_NAMES[high - 1]} to some readers, and {high} {_MONTH_NAMES[low - 1]} to others"
        )
    return "is a day in figures, which not every reader knows how to read"
