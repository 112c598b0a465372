"""The tables of what no notice says: ``rules.toml`` has why and by which law, ``TAG.toml`` the words of a language."""

import re
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, Literal

from notices.wording import languages, notation, signs
from notices.wording.splitting import family

Known = Literal["read", "unverified", "from memory"]
"""How a language's words are known: read in the law's own text; in a translation that is none of it; neither."""

Kind = Literal["risk", "selling", "address"]
EVERYWHERE = "*"


@dataclass(frozen=True, kw_only=True, slots=True)
class Law:
    """Who says so in a *market*, ``*`` all others; *must* where the law itself names the words and was read."""

    market: str
    source: str
    must: bool = False


@dataclass(frozen=True, kw_only=True, slots=True)
class Rule:
    """Why an expression harms, what to write instead, and who says so.

    *not_in* are the markets that ask for it; what is *affected_only* may be said to whoever's unit is cleared.
    """

    kind: Kind
    what: str
    mend: str
    law: tuple[Law, ...]
    not_in: frozenset[str]
    affected_only: bool

    def of(self, markets: frozenset[str]) -> Law | None:
        """Return the first law that holds in one of the *markets*, in any where none is known; None where none does."""
        left = markets - self.not_in
        if markets and not left:
            return None
        return next((law for law in self.law if law.market in {EVERYWHERE, *left}), None)

    def all_of(self, markets: frozenset[str]) -> tuple[Law, ...]:
        """Return the law of each of the *markets*, what holds everywhere where none has its own."""
        return tuple(law for law in self.law if law.market in markets) or self.law[-1:]


@dataclass(frozen=True, kw_only=True, slots=True)
class Form:
    """An expression as a table has it; *named* where the law itself names it."""

    concept: str
    expression: str
    named: bool


@dataclass(frozen=True, kw_only=True, slots=True)
class Hit:
    """An expression as it was found: *words* as they stand in the text."""

    concept: str
    words: str
    named: bool


@dataclass(frozen=True, kw_only=True, slots=True, eq=False)
class Words:
    """One language's expressions, compiled once; *innocent* finds what only looks like one."""

    language: str
    known: Known
    forms: tuple[Form, ...]
    innocents: tuple[str, ...]
    finder: re.Pattern[str]
    innocent: re.Pattern[str] | None


@lru_cache(maxsize=32)
def read_rules(text: str) -> Mapping[str, Rule]:
    """Read ``rules.toml``: each concept's rule, in the order of the file."""
    return {
        concept: Rule(
            kind=entry["kind"],
            what=entry["what"],
            mend=entry["mend"],
            law=tuple(Law(**law) for law in entry["law"]),
            not_in=frozenset(entry.get("not_in", ())),
            affected_only=entry.get("affected_only", False),
        )
        for concept, entry in tomllib.loads(text).items()
    }


@lru_cache(maxsize=64)
def read_words(text: str) -> Words:
    """Read the table of one language."""
    table = tomllib.loads(text)
    own, before = table["language"], table.get("before", "")
    forms = sorted(_forms(table), key=lambda form: (not form.named, -len(form.expression)))
    innocents = tuple(one for entry in _concepts(table).values() for one in entry.get("innocent", ()))
    return Words(
        language=own,
        known=table["known"],
        forms=tuple(forms),
        innocents=innocents,
        finder=notation.any_of([form.expression for form in forms], own, before),
        innocent=notation.any_of(innocents, own, before) if innocents else None,
    )


def _concepts(table: Mapping[str, Any]) -> Mapping[str, Any]:
    return {key: entry for key, entry in table.items() if isinstance(entry, dict) and key != "asking"}


def _forms(table: Mapping[str, Any]) -> Iterator[Form]:
    for concept, entry in _concepts(table).items():
        for named, key in ((True, "named"), (False, "like")):
            for expression in entry.get(key, ()):
                yield Form(concept=concept, expression=expression, named=named)


def table_of(tables: Mapping[str, str], tag: str) -> str | None:
    """Return the text of the table that serves a language, None where there is none."""
    return next(
        (tables[one] for one in languages.fallbacks(languages.canonical(tag)) if one in tables),
        tables.get(family(tag)),
    )


@lru_cache(maxsize=16_384)
def hits(text: str, words: Words) -> tuple[Hit, ...]:
    """Return what is found in a text, in its order, each wording once; remembered, for drafts are read often."""
    whole = signs.joined(text)
    found = list(_hits(whole, words))
    unhyphened = signs.without_hyphens(whole)
    if unhyphened != whole:
        found += _hits(unhyphened, words)
    return tuple(dict.fromkeys(found))


def _hits(text: str, words: Words) -> Iterator[Hit]:
    plain = signs.folded(text, words.language)
    match = words.finder.search(plain)
    innocent = _innocent(plain, words) if match else []
    told: dict[str, int] = {}
    while match:
        start, end = match.span()
        form = words.forms[notation.place_of(match)]
        passed_over = any(first < end and start < last for first, last in innocent)
        if not passed_over and (form.named or start >= told.get(form.concept, 0)):
            told[form.concept] = max(end, told.get(form.concept, 0))
            found = signs.between(text, words.language, start, end)
            yield Hit(concept=form.concept, words=" ".join(found.split()), named=form.named)
        match = words.finder.search(plain, start + 1)


def _innocent(plain: str, words: Words) -> list[tuple[int, int]]:
    return [match.span() for match in words.innocent.finditer(plain)] if words.innocent else []
