"""Whether a notice asks for bank data, card numbers, passwords or identity papers, which no notice ever may.

Fraud asks for just these in a firm's name. A sentence that denies it is innocent: "We never ask for passwords."
"""

import re
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache

from audiences.findings import Finding
from notices.wording import notation, signs
from notices.wording.expression_checks import quoted
from notices.wording.expression_tables import table_of
from notices.wording.passages import Reading
from notices.wording.splitting import pieces

_CLAUSE = re.compile(r"[;:–—()]|,")  # noqa: RUF001 - the signs that part clauses
_LABEL = 4  # words; "Your IBAN" above a field to fill asks for it without a verb
_FILLERS = 3
_NOTHING = re.compile(r"(?!)")


@dataclass(frozen=True, kw_only=True, slots=True, eq=False)
class Asking:
    """How one language asks: what for (*data*), by telling the reader or otherwise, and how it denies.

    *unless* before a denial makes a request of it (if you do not send it), *contrary* in its clause too (do not forget
    it); after a comma and a *then* a new request begins; *innocent* is what other people's papers are called.
    """

    language: str
    data: re.Pattern[str]
    tell: re.Pattern[str]
    ask: re.Pattern[str]
    never: re.Pattern[str]
    unless: re.Pattern[str]
    contrary: re.Pattern[str]
    then: re.Pattern[str]
    innocent: re.Pattern[str]


@lru_cache(maxsize=64)
def read_asking(text: str) -> Asking:
    """Read from the table of one language how it asks."""
    table = tomllib.loads(text)
    own, before = table["language"], table.get("before", "")
    lists: Mapping[str, list[str]] = table["asking"]
    found = {name: notation.any_of(words, own, before) for name, words in lists.items()}
    return Asking(language=own, **{"innocent": _NOTHING, **found})


def data_asked(reading: Reading) -> Iterator[Finding]:
    """Hold that nothing is asked for that fraud asks for; a stop warning and a remedy are no exception."""
    for tag in reading.languages:
        table = table_of(reading.expressions, tag)
        if table is None:
            continue
        asking = read_asking(table)
        for passage in reading.passages(tag):
            for words in asked_for(passage.text, asking):
                yield Finding(
                    code="data-asked",
                    **passage.where,
                    message=f"{quoted(words)} is asked for, and every notice says that you never ask for it",
                    mend="take the request out; a refund goes back the way it was paid, or is agreed in person",
                    source="common practice, no source: fraud asks for it in a firm's name",
                )


@lru_cache(maxsize=16_384)
def asked_for(text: str, asking: Asking) -> tuple[str, ...]:
    """Return what a text asks for, as it stands there, each once; remembered, for drafts are read often."""
    whole = signs.joined(text)
    if not asking.data.search(signs.folded(whole, asking.language)):
        return ()
    return tuple(
        dict.fromkeys(
            found for sentence in pieces(whole, asking.language) for found in _asked_in(sentence, asking)
        )
    )


def _asked_in(sentence: str, asking: Asking) -> Iterator[str]:
    plain = signs.folded(sentence, asking.language)
    innocent = [match.span() for match in asking.innocent.finditer(plain)]
    clauses = _clauses(plain, asking)
    for match in asking.data.finditer(plain):
        start, end = match.span()
        if any(first < end and start < last for first, last in innocent):
            continue
        place = max(at for at, (begin, _) in enumerate(clauses) if begin <= start)
        if _asks(plain, clauses, place, start, asking):
            yield " ".join(signs.between(sentence, asking.language, start, end).split())


def _clauses(plain: str, asking: Asking) -> list[tuple[int, int]]:
    """Return where each clause of a sentence begins and ends.

    A comma parts clauses only where a request begins behind it; in a list it does not.
    """
    begins = [0]
    for sign in _CLAUSE.finditer(plain):
        if sign[0] != "," or _begins_request(plain, begins[-1], sign.start(), asking):
            begins.append(sign.end())
    return list(zip(begins, [*begins[1:], len(plain)], strict=True))


def _begins_request(plain: str, begin: int, comma: int, asking: Asking) -> bool:
    at = _after_spaces(plain, comma + 1)
    fillers = 0
    while fillers < _FILLERS and (filler := asking.then.match(plain, at)):
        at = _after_spaces(plain, filler.end())
        fillers += 1
    if not asking.tell.match(plain, at):
        return False
    return fillers > 0 or not _has_request(plain, begin, comma, asking)


def _after_spaces(plain: str, at: int) -> int:
    return len(plain) - len(plain[at:].lstrip())


def _has_request(plain: str, begin: int, end: int, asking: Asking) -> bool:
    return any(sign.search(plain, begin, end) for sign in (asking.tell, asking.ask))


def _asks(plain: str, clauses: list[tuple[int, int]], place: int, start: int, asking: Asking) -> bool:
    """Say whether a sentence asks for what stands at *start*: by a verb, by its mark, or as the label of a field."""
    begin, end = clauses[place]
    label = len(plain[begin:end].split()) <= _LABEL
    while place > 0 and not _has_request(plain, *clauses[place], asking):
        place -= 1  # a list goes on with the request before its colon
    begin = clauses[place][0]
    if _turned(plain, begin, end, asking):
        return True
    question = plain.rstrip().endswith(("?", "؟"))
    asks = question or label or _has_request(plain, 0, len(plain), asking)
    return asks and not _denied(plain, begin, end, start, asking)


def _turned(plain: str, begin: int, end: int, asking: Asking) -> bool:
    """Say whether a denial in a clause asks all the same: do not forget it, or, if it is not sent, nothing is paid."""
    if asking.contrary.search(plain, begin, end):
        return True
    return any(
        condition.start() < no.start()
        and "," not in plain[condition.end() : no.start()]
        and not asking.ask.search(plain, no.end(), end)
        for condition in asking.unless.finditer(plain, begin, end)
        for no in asking.never.finditer(plain, begin, end)
    )


def _denied(plain: str, begin: int, end: int, start: int, asking: Asking) -> bool:
    """Say whether a clause denies before *start*, or behind it with nothing told to the reader before."""
    return any(
        no.start() < start or not asking.tell.search(plain, begin, no.start())
        for no in asking.never.finditer(plain, begin, end)
    )
