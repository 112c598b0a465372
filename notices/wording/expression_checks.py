"""Whether a notice says what it must not: words that play the danger down, sell, or speak as to a friend.

No legal advice: the tables say which instrument names what, and what is to be confirmed.
"""

import re
from collections.abc import Iterator

from audiences.findings import Finding, Severity
from notices.campaign.duties import market_of
from notices.wording.expression_tables import (
    EVERYWHERE,
    Hit,
    Kind,
    Law,
    Rule,
    Words,
    hits,
    read_rules,
    read_words,
    table_of,
)
from notices.wording.passages import Passage, Reading

RULES = "rules"
_CLEARED = frozenset({"corrections.told_to_stop", "now.cleared", "subjects.cleared"})
_REMEDY = re.compile(r"(?:remedies|meanwhile|free)(?:\.|$)")
_INCENTIVE = "Regulation (EU) 2023/988, recital 91; 16 CFR 1115.27(n)(1): they are named with the remedy"
_SHOWN = 60  # signs of a wording that a message quotes


def forbidden(reading: Reading) -> Iterator[Finding]:
    """Hold that no passage plays the danger down, by the law of the markets and the words of its language."""
    markets = law_areas(reading)
    for passage, words, hit, rule in _found(reading, "risk"):
        law = rule.of(markets)
        if law is None or (rule.affected_only and passage.path in _CLEARED):
            continue
        must = law.must and hit.named and words.known == "read" and not reading.warning
        yield Finding(
            code="expression-forbidden",
            **passage.where,
            message=f"{quoted(hit.words)} {rule.what}",
            mend=rule.mend,
            severity=Severity.MUST_MEND if must else Severity.CONSIDER,
            source=law.source + ("" if must else _doubt(law, hit, words, warning=reading.warning)),
        )


def selling(reading: Reading) -> Iterator[Finding]:
    """Hold that nothing is sold; what an owner gets beside the remedy, within it, is only to be considered."""
    markets = law_areas(reading)
    for passage, _, hit, rule in _found(reading, "selling"):
        incentive = _REMEDY.match(passage.path) is not None
        yield Finding(
            code="selling-text",
            **passage.where,
            message=f"{quoted(hit.words)} {'beside the remedy can look like selling' if incentive else rule.what}",
            mend="keep it only where it helps owners to answer" if incentive else rule.mend,
            severity=Severity.CONSIDER if incentive else Severity.MUST_MEND,
            source=_INCENTIVE if incentive else "; ".join(law.source for law in rule.all_of(markets)),
        )


def familiar(reading: Reading) -> Iterator[Finding]:
    """Ask to consider where a reader is spoken to as a friend is, in a language that has a politer form."""
    for passage, _, hit, rule in _found(reading, "address"):
        yield Finding(
            code="address-familiar",
            **passage.where,
            message=f"{quoted(hit.words)} {rule.what}",
            mend=rule.mend,
            severity=Severity.CONSIDER,
            source=rule.law[0].source,
        )


def law_areas(reading: Reading) -> frozenset[str]:
    """Return the law areas whose owners read it: of the markets' countries, of the firm's before any is named."""
    campaign = reading.campaign
    countries = [country for market in campaign.markets.values() for country in market.countries]
    if not countries and campaign.issuer.country:
        countries = [campaign.issuer.country]
    return frozenset(market_of(country)[0] for country in countries)


def quoted(words: str) -> str:
    """Return the words found as a message quotes them, shortened."""
    return f'"{words if len(words) <= _SHOWN else f"{words[:_SHOWN]}…"}"'


def _found(reading: Reading, kind: Kind) -> Iterator[tuple[Passage, Words, Hit, Rule]]:
    rules = read_rules(reading.expressions.get(RULES, ""))
    for tag in reading.languages:
        table = table_of(reading.expressions, tag)
        if table is None:
            continue
        words = read_words(table)
        for passage in reading.passages(tag):
            for hit in hits(passage.text, words):
                if rules[hit.concept].kind == kind:
                    yield passage, words, hit, rules[hit.concept]


def _doubt(law: Law, hit: Hit, words: Words, *, warning: bool) -> str:
    """Return why a wording is only to be considered, for the end of the source."""
    if law.market == EVERYWHERE or not law.must:
        return ""
    if warning:
        return "; a stop warning is not bound by it"
    if words.known != "read":
        return "; its words in this language are to be confirmed"
    return "" if hit.named else "; a synonym, to be confirmed"
