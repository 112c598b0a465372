"""Whether a notice holds what the law of its own markets asks for: each element once, with every law that asks.

No legal advice: the firm's counsel and the authority decide. Only what was read in the law, or is surely known, must be
mended; all else is to be considered. A stop warning bound by no list of elements is never held back by one: article
36(1) of Regulation (EU) 2023/988 speaks of recalls alone.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from audiences.findings import Finding, Severity
from notices.campaign.models import Market
from notices.campaign.warning_checks import OPEN
from notices.wording.elements import DETECTORS, UNSHOWN, unwritten
from notices.wording.law_tables import SURE, Element, Table, tables
from notices.wording.passages import Reading
from notices.wording.splitting import family


@dataclass(frozen=True, kw_only=True, slots=True)
class Asked:
    """An element that a table asks of a market's notices, how strongly (must or should), and whether it is *there*.

    *there* is None where another finding tells; *market* is empty where the campaign has none under this law.
    """

    table: Table
    element: Element
    market: str
    path: str
    there: bool | None
    weight: str

    def must(self, *, warning: bool) -> bool:
        """Say whether its lack holds a notice back."""
        sure = self.element.mark in SURE
        return not warning and sure and self.element.recall == "must"


def missing_elements(reading: Reading) -> Iterator[Finding]:
    """Name each element that is not there, with the laws that ask for it.

    What another finding names is left out, so that one fault is one complaint: an open fact of the ledger too, where
    the element holds nothing back.
    """
    lacking: dict[tuple[str, str], list[Asked]] = {}
    for one in asked(reading):
        if one.there is False and (one.must(warning=reading.warning) or not _open(reading, one.path)):
            lacking.setdefault((one.path, one.element.found_by or one.element.what), []).append(one)
    for (path, _), found in lacking.items():
        yield _finding(reading, path, sorted(found, key=lambda one: not one.must(warning=reading.warning)))


def _finding(reading: Reading, path: str, found: list[Asked]) -> Finding:
    """Say it in the words of the strictest law; *found* begins with that."""
    first = found[0].element
    areas = ", ".join(dict.fromkeys(one.table.title for one in found))
    detector = DETECTORS.get(first.found_by)
    return Finding(
        code="element-missing",
        **reading.at(path),
        message=f"{'campaign.yaml' if first.found_by in UNSHOWN else 'the notice'} does not say"
        f" {_what(reading, found[0])}: {areas}",
        mend=detector.mend if detector else f"write it, as: {first.words[0]}",
        severity=Severity.MUST_MEND if found[0].must(warning=reading.warning) else Severity.CONSIDER,
        source="; ".join(dict.fromkeys(_source(one.element, warning=reading.warning) for one in found)),
    )


def _what(reading: Reading, one: Asked) -> str:
    market = reading.campaign.markets.get(one.market)
    if one.element.found_by == "official_languages" and market:
        return f"it in {', '.join(unwritten(reading, market))}, official there"
    return one.element.what


def _source(element: Element, *, warning: bool) -> str:
    return f"good practice after {element.source} (to be confirmed)" if warning else element.cited


def asked(reading: Reading, *, everywhere: bool = False) -> Iterator[Asked]:
    """Yield what is asked of the notice by the tables of its own markets, or by all."""
    for table in tables(reading.laws):
        own = [(key, market) for key, market in reading.campaign.markets.items() if table.binds(market)]
        if everywhere and not own:
            own = [("", Market(countries=tuple(sorted(table.countries)), headline="-"))]
        for key, market in own:
            for element in table.elements:
                if element.asked(warning=reading.warning):
                    yield _asked(reading, table, element, key, market)


def _asked(reading: Reading, table: Table, element: Element, key: str, market: Market) -> Asked:
    path = _path(element, key)
    return Asked(
        weight=element.asked(warning=reading.warning),
        table=table,
        element=element,
        market=key,
        path=path,
        there=_there(reading, element, market, path),
    )


def _path(element: Element, key: str) -> str:
    own = DETECTORS[element.found_by].path if element.found_by else "headline"
    return f"markets.{key}.headline" if own == "headline" else own


def _there(reading: Reading, element: Element, market: Market, path: str) -> bool | None:
    if element.said_by:
        return None
    if element.words:
        return _stands(reading, element.words)
    return bool(DETECTORS[element.found_by].has(reading, market)) or (
        bool(element.unless) and _excused(reading, path)
    )


def _stands(reading: Reading, words: tuple[str, ...]) -> bool:
    """Say whether one of the words stands in what English-speaking owners read."""
    said = [passage.text.casefold() for passage in reading.passages() if family(passage.language) == "en"]
    return any(one.casefold() in text for one in words for text in said)


def _open(reading: Reading, path: str) -> bool:
    return any(fact.about == path and fact.standing in OPEN for fact in reading.campaign.ledger)


def _excused(reading: Reading, path: str) -> bool:
    """Say whether the ledger records why something is not there; while that is open, its own finding names it."""
    return any(fact.about == path for fact in reading.campaign.ledger)
