"""Write days, months, hours, lists and places as a reader of a language writes them (Unicode CLDR, by Babel).

Days are long only: 3/9/26 is read as two different days. CLDR joins the ends of a span with a dash, which is
neither read aloud nor seen by everyone: spans are written out here, and a language without one gets the dash.
"""

import re
from collections.abc import Iterable, Mapping, Sequence
from datetime import date, time
from itertools import groupby
from typing import TypeVar

from babel import Locale
from babel.dates import format_date, format_skeleton, format_time
from babel.lists import format_list

from notices.campaign.models import Hours
from notices.wording.languages import canonical, fallbacks, locale_of
from notices.wording.placeholders import fill

_T = TypeVar("_T")

_DAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")  # ISO 8601: the week begins on Monday
_SHORTEST_SPAN = 3  # two neighbouring days are a list, "Monday and Tuesday"
_DASH = "%(first)s \N{EN DASH} %(last)s"  # CLDR's root pattern for intervals

_MONTH_SPANS: Mapping[str, str] = {
    "ar": "من %(first)s إلى %(last)s",
    "de": "%(first)s bis %(last)s",
    "en": "%(first)s to %(last)s",
    "es": "de %(first)s a %(last)s",
    "fr": "entre %(first)s et %(last)s",  # de and da would have to be joined to a vowel: d'avril, ad agosto
    "it": "tra %(first)s e %(last)s",
    "nl": "%(first)s tot en met %(last)s",
    "pl": "od %(first)s do %(last)s",
}
_DAY_SPANS: Mapping[str, str] = {
    "ar": "من %(first)s إلى %(last)s",
    "de": "%(first)s bis %(last)s",
    "en": "%(first)s to %(last)s",
    "es": "de %(first)s a %(last)s",
    "fr": "du %(first)s au %(last)s",
    "it": "da %(first)s a %(last)s",
    "nl": "%(first)s tot en met %(last)s",
    "pl": "od %(first)s do %(last)s",
}
_HOUR_SPANS: Mapping[str, str] = {
    "ar": "من الساعة %(first)s إلى الساعة %(last)s",
    "de": "%(first)s bis %(last)s Uhr",
    "en": "%(first)s to %(last)s",
    "es": "de %(first)s a %(last)s h",
    "fr": "de %(first)s à %(last)s",
    "it": "dalle %(first)s alle %(last)s",
    "nl": "%(first)s tot %(last)s uur",
    "pl": "od %(first)s do %(last)s",
}
# A whole hour, and one with minutes (UTS #35, date symbols). English and Arabic name the part of the day.
_CLOCKS: Mapping[str, tuple[str, str]] = {
    "ar": ("h BBBB", "h:mm BBBB"),
    "en": ("h a", "h:mm a"),
    "fr": ("H'\N{NO-BREAK SPACE}h'", "H'\N{NO-BREAK SPACE}h'\N{NO-BREAK SPACE}mm"),
    "pl": ("H:mm", "H:mm"),
}
# What stands after od and do is in the genitive: of months CLDR has it, as a date takes it; of days it has none.
_GENITIVE_MONTHS: Mapping[str, str] = {"pl": "MMMM y"}
_GENITIVE_DAYS: Mapping[str, tuple[str, ...]] = {
    "pl": ("poniedziałku", "wtorku", "środy", "czwartku", "piątku", "soboty", "niedzieli"),
}
_FIRST_OF_MONTH: Mapping[str, str] = {"fr": "1er", "it": "1º"}  # common practice, no source; CLDR writes 1
_SEPARATORS: Mapping[str, str] = {"ar": "، "}
_COLONS: Mapping[str, str] = {"fr": "\N{NO-BREAK SPACE}:"}

# UAX #9: an isolate keeps what stands in it together and from reordering its neighbours.
_LEFT_TO_RIGHT, _FIRST_STRONG, _POP = "\u2066", "\u2068", "\u2069"
_REORDERING = re.compile("[\u202a-\u202e\u2066-\u2069]")


def long_date(day: date, tag: str) -> str:
    """Return a day with its month in words and its year: ``3 March 2026``."""
    return _first_of_month(format_date(day, "long", locale_of(tag)), day, tag)


def day_month(day: date, tag: str) -> str:
    """Return a day with its month in words, without the year: ``10 March``."""
    return _first_of_month(format_skeleton("MMMMd", day, locale=locale_of(tag)), day, tag)


def _first_of_month(text: str, day: date, tag: str) -> str:
    ordinal = _lookup(_FIRST_OF_MONTH, tag)
    return re.sub(r"^1(?=\s)", ordinal, text) if ordinal and day.day == 1 else text


def month_span(first: str, last: str, tag: str) -> str:
    """Return two months (``YYYY-MM``) as a span, the year once where it is one: ``May to December 2025``."""
    start, end = (date.fromisoformat(f"{month}-01") for month in (first, last))
    locale = locale_of(tag)
    if start == end:
        return _with_year(end, None, locale)
    pattern, genitive = _lookup(_MONTH_SPANS, tag), _lookup(_GENITIVE_MONTHS, tag)
    if pattern and start.year == end.year:
        begins = format_date(start, "MMMM", locale)
    else:
        begins = _with_year(start, genitive, locale)
    return fill(pattern or _DASH, {"first": begins, "last": _with_year(end, genitive, locale)})


def _with_year(month: date, genitive: str | None, locale: Locale) -> str:
    return (
        format_date(month, genitive, locale) if genitive else format_skeleton("yMMMM", month, locale=locale)
    )


def listing(items: Sequence[str], tag: str) -> str:
    """Return *items* joined with the language's *and*: ``A, B and C``."""
    return format_list(items, locale=locale_of(tag)) if items else ""


def comma(tag: str) -> str:
    """Return what parts the members of an enumeration in a language, its space with it."""
    return _lookup(_SEPARATORS, tag) or ", "


def colon(tag: str) -> str:
    """Return the colon that a language ends a label with, a space before it where that is the custom."""
    return _lookup(_COLONS, tag) or ":"


def hours(opening: Hours, tag: str) -> str:
    """Return the hours of a telephone: ``Monday to Saturday, 8 am to 6 pm``."""
    # Not "stand-alone": where CLDR refers that to "format", Babel 2.18 can answer in the language asked before.
    names = locale_of(tag).days["format"]["wide"]
    runs = [_day_run(run, names, tag) for run in _runs(opening.days)]
    days = listing(runs, tag)
    clock = {"first": _clock(opening.from_, tag), "last": _clock(opening.to, tag)}
    return days + comma(tag) + fill(_pattern(_HOUR_SPANS, tag), clock)


def _runs(days: Iterable[str]) -> list[list[int]]:
    """Return the places of *days* in the week, in order, split where a day is left out."""
    places = sorted({_DAYS.index(day) for day in days})
    groups = groupby(enumerate(places), key=lambda pair: pair[1] - pair[0])
    return [[place for _, place in group] for _, group in groups]


def _day_run(run: list[int], names: Mapping[int, str], tag: str) -> str:
    if len(run) < _SHORTEST_SPAN:
        return listing([names[place] for place in run], tag)
    spanned = _lookup(_GENITIVE_DAYS, tag) or names
    return fill(_pattern(_DAY_SPANS, tag), {"first": spanned[run[0]], "last": spanned[run[-1]]})


def _clock(text: str, tag: str) -> str:
    """Return a time of day; the minutes only where there are some, if the span says that hours are meant."""
    moment = time.fromisoformat(text)
    locale = locale_of(tag)
    if _lookup(_HOUR_SPANS, tag) is None:
        return format_time(moment, "short", locale=locale)
    whole, with_minutes = _lookup(_CLOCKS, tag) or ("H", "H:mm")
    return format_time(moment, with_minutes if moment.minute else whole, locale=locale)


def _lookup(table: Mapping[str, _T], tag: str) -> _T | None:
    return next((table[candidate] for candidate in fallbacks(canonical(tag)) if candidate in table), None)


def _pattern(table: Mapping[str, str], tag: str) -> str:
    return _lookup(table, tag) or _DASH


def country_name(code: str, tag: str) -> str:
    """Return a country (ISO 3166-1 alpha-2) by its name in a language; an unknown *code* as it is."""
    name: str = locale_of(tag).territories.get(code.upper(), code)
    return name


def isolate(text: str) -> str:
    """Keep a code, number or address left to right in any text; signs in it that reorder are dropped."""
    return f"{_LEFT_TO_RIGHT}{_REORDERING.sub('', text)}{_POP}"


def isolate_name(text: str) -> str:
    """Keep a name in its own direction, whichever that is, inside a text of any direction."""
    return f"{_FIRST_STRONG}{_REORDERING.sub('', text)}{_POP}"
