"""Choose the language a notice is written in (RFC 4647, section 3.4, lookup)."""

import re
from collections.abc import Collection, Iterator, Sequence
from functools import lru_cache
from typing import Literal

from babel import Locale, UnknownLocaleError

Direction = Literal["ltr", "rtl"]

# Old or regional tags that lists still hold, and the tag that the same reader is served by. iw, in and ji are
# deprecated in the IANA subtag registry; for zh the script, not the region, decides what can be read.
_ALIASES = {
    "iw": "he",
    "in": "id",
    "ji": "yi",
    "no": "nb",
    "tl": "fil",
    "zh-tw": "zh-hant-tw",
    "zh-hk": "zh-hant-hk",
    "zh-mo": "zh-hant-mo",
    "zh-cn": "zh-hans-cn",
    "zh-sg": "zh-hans-sg",
}
_RTL_SCRIPTS = frozenset({"arab", "aran", "hebr", "syrc", "thaa", "nkoo", "adlm", "rohg", "samr", "mand"})
_RTL_LANGUAGES = frozenset(
    {
        "apc",
        "ar",
        "arc",
        "arz",
        "azb",
        "bal",
        "bgn",
        "bqi",
        "ckb",
        "dv",
        "fa",
        "glk",
        "he",
        "ks",
        "lrc",
        "mzn",
    }
    | {"nqo", "pnb", "ps", "rhg", "sd", "sdh", "skr", "syr", "trw", "ug", "ur", "yi"}
)
_REGION = re.compile("[a-z]{2}|[0-9]{3}")
_SCRIPT_SIZE = 4  # BCP 47: a script subtag has four letters
# Bare English is written for the world: 3 March 2026, not March 3, 2026, unless a reader asks for en-US.
_FORMATS = {"en": "en-001"}


def fallbacks(tag: str) -> Iterator[str]:
    """Yield *tag*, then each shorter tag that may stand in for it."""
    subtags = tag.split("-")
    while subtags:
        yield "-".join(subtags)
        del subtags[-1]
        if subtags and len(subtags[-1]) == 1:  # a singleton never ends a tag
            del subtags[-1]


@lru_cache(maxsize=512)  # every message asks it of each shipped language
def canonical(tag: str) -> str:
    """Return *tag* in lower case with hyphens, old or regional spellings replaced (``iw-IL``: ``he-il``)."""
    lower = tag.strip().replace("_", "-").lower()
    for prefix in fallbacks(lower):
        if prefix in _ALIASES:
            return _ALIASES[prefix] + lower[len(prefix) :]
    return lower


def choose(preferred: Sequence[str], written: Collection[str], *, default: str) -> str:
    """Return the written language that best serves an owner, else *default*.

    Lookup exhausts an owner's first preference before it tries the second.
    """
    by_canonical = {canonical(language): language for language in written}
    for tag in preferred:
        for candidate in fallbacks(canonical(tag)):
            if candidate in by_canonical:
                return by_canonical[candidate]
    return default


def direction(tag: str) -> Direction:
    """Return which way a text in *tag* runs: by its script where the tag names one, else by its language."""
    subtags = canonical(tag).split("-")
    for subtag in subtags[1:3]:  # a script may follow one extended language
        if len(subtag) == _SCRIPT_SIZE and subtag.isalpha():
            return "rtl" if subtag in _RTL_SCRIPTS else "ltr"
    return "rtl" if subtags[0] in _RTL_LANGUAGES else "ltr"


def locale_of(tag: str) -> Locale:
    """Return the nearest locale that CLDR knows for *tag*, English for the world where it knows none."""
    for candidate in fallbacks(canonical(tag)):
        try:
            return Locale.parse(_FORMATS.get(candidate, candidate), sep="-")
        except (ValueError, UnknownLocaleError):
            continue
    return Locale.parse("en_001")


def autonym(tag: str) -> str:
    """Return what a language calls itself, with a capital if its script has any; an unknown *tag* as is."""
    wanted = canonical(tag)
    for candidate in fallbacks(wanted):
        try:
            name = Locale.parse(candidate, sep="-").get_display_name()
        except (ValueError, UnknownLocaleError):
            continue
        return name[0].upper() + name[1:] if name else tag
    return tag


def choices(written: Collection[str], current: str) -> list[tuple[str, str]]:
    """Return the languages that a reader may change to, with what each calls itself: of several regions one alone.

    That is the one being read, else the first: who reads American English is not asked which English.
    """
    found: dict[str, str] = {}
    for tag in written:
        found[_without_region(tag)] = tag if tag == current else found.get(_without_region(tag), tag)
    return [(tag, autonym(language)) for language, tag in found.items()]


def _without_region(tag: str) -> str:
    """Return *tag* without its region: two letters of ISO 3166-1 or three digits of UN M.49 (BCP 47)."""
    first, *others = canonical(tag).split("-")
    return "-".join((first, *(one for one in others if not _REGION.fullmatch(one))))
