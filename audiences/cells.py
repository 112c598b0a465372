"""Countries, languages and days as people write them in lists, read into ISO 3166-1, BCP 47 and ISO 8601."""

import re
from collections.abc import Mapping
from datetime import date
from functools import lru_cache
from typing import Literal

from babel import Locale
from babel.core import get_global

from audiences.cleaning import narrow
from audiences.headings import plain
from audiences.owners import Role

_NAMED_IN = ("en", "de", "ar", "fr", "nl", "es", "it", "pl")  # the languages lists are kept in
_NO_COUNTRIES = frozenset({"EU", "EZ", "UN", "XA", "XB", "QO", "ZZ"})
_OTHER_NAMES: Mapping[str, str] = {
    # distinguishing signs of vehicles, as German lists use them (Convention on Road Traffic, from memory)
    "A": "AT",
    "B": "BE",
    "D": "DE",
    "E": "ES",
    "F": "FR",
    "H": "HU",
    "I": "IT",
    "L": "LU",
    "N": "NO",
    "P": "PT",
    "S": "SE",
    # everyday names (common practice, no source)
    "England": "GB",
    "Scotland": "GB",
    "Wales": "GB",
    "Northern Ireland": "GB",
    "Great Britain": "GB",
    "Großbritannien": "GB",
    "بريطانيا": "GB",
    "United States of America": "US",
    "أمريكا": "US",
    "Republic of Ireland": "IE",
    "Eire": "IE",
    "Holland": "NL",
    "Czech Republic": "CZ",
    "BRD": "DE",
}
_ISO_DAY = re.compile(r"(\d{4})-(\d{1,2})-(\d{1,2})(?:[T ]\d{1,2}:\d{2}.*)?")
_BASIC_DAY = re.compile(r"(\d{4})(\d{2})(\d{2})")
_DOTTED_DAY = re.compile(r"(\d{1,2})\.\s?(\d{1,2})\.\s?(\d{4}|\d{2})(?: \d{1,2}:\d{2}.*)?")
_FIRST_YEAR, _LAST_YEAR = 1950, 2100  # outside them a day stands for "not known"
_FIRM = frozenset(
    map(plain, ("firm", "company", "business", "b2b", "Firma", "gewerblich", "Unternehmen", "شركة"))
)
_PERSON = frozenset(
    map(plain, ("person", "private", "consumer", "b2c", "privat", "Privatkunde", "شخص", "فرد"))
)

_NAMED_ROLES: tuple[tuple[Role, str], ...] = (
    ("keeper", "keeper, owner, user, Halter, Besitzer, Nutzer, المالك, الحائز"),
    ("buyer", "buyer, payer, bought it, Käufer, Zahler, المشتري"),
    ("rider", "rider, driver, Fahrer, Fahrerin, السائق, الراكب"),
    ("lessor", "lessor, leasing, leasing firm, hire firm, Leasinggeber, Leasing, Verleiher, المؤجر"),
    ("guardian", "guardian, parent, Vormund, Erziehungsberechtigte, Eltern, ولي الأمر, الوصي"),
    ("helper", "helper, carer, Helfer, Betreuer, Betreuerin, المساعد, المرافق"),
    ("shop", "shop, dealer, Händler, Geschäft, المتجر"),
)
_ROLES: Mapping[str, Role] = {plain(word): role for role, words in _NAMED_ROLES for word in words.split(", ")}


@lru_cache(maxsize=4096)
def country(text: str) -> str | None:
    """Return the ISO 3166-1 alpha-2 code of a country's code or name, None where it names none."""
    return _countries().get(plain(narrow(text)))


@lru_cache(maxsize=1)
def _countries() -> Mapping[str, str]:
    names = {plain(name): code for name, code in _OTHER_NAMES.items()}
    known: set[str] = set()
    for tag in _NAMED_IN:
        for code, name in Locale.parse(tag).territories.items():
            if code.isalpha() and code not in _NO_COUNTRIES:
                known.add(code)
                names.setdefault(plain(name), code)
    for alias, codes in get_global("territory_aliases").items():
        if alias.isalpha() and len(codes) == 1 and codes[0] in known:
            names[plain(alias)] = codes[0]
    names.update((plain(code), code) for code in known)
    return names


@lru_cache(maxsize=4096)
def language(text: str) -> str | None:
    """Return the BCP 47 tag of a language's tag or name, None where it names none."""
    tag = narrow(text).replace("_", "-")
    if not re.fullmatch(r"[A-Za-z]{2,3}(-[A-Za-z0-9]{2,8})*", tag):
        return _languages().get(plain(tag))
    first, *rest = tag.split("-")
    code = _languages().get(plain(first))
    return None if code is None else "-".join([code, *map(_cased, rest)])


def _cased(subtag: str) -> str:
    """Return a subtag as RFC 5646, 2.1.1 writes it: scripts with a capital, regions in capitals."""
    if len(subtag) == len("Latn") and subtag.isalpha():
        return subtag.title()
    return subtag.upper() if len(subtag) == len("DE") else subtag.lower()


@lru_cache(maxsize=1)
def _languages() -> Mapping[str, str]:
    names: dict[str, str] = {}
    codes: set[str] = set()
    for tag in _NAMED_IN:
        for code, name in Locale.parse(tag).languages.items():
            if code.isalpha():
                codes.add(code)
                names.setdefault(plain(name), code)
    for alias, code in get_global("language_aliases").items():
        if alias.isalpha() and code in codes:
            names[plain(alias)] = code
    names.update((code, code) for code in codes)
    return names


@lru_cache(maxsize=4096)
def day(text: str) -> date | None:
    """Return the day of ``yyyy-mm-dd`` (ISO 8601), ``yyyymmdd``, ``dd.mm.yyyy`` or ``dd.mm.yy``; else None.

    A time behind it is passed over. Days with slashes are not guessed: their order differs by country.
    """
    typed = narrow(text)
    if match := _ISO_DAY.fullmatch(typed) or _BASIC_DAY.fullmatch(typed):
        year, month, number = map(int, match.groups())
    elif match := _DOTTED_DAY.fullmatch(typed):
        number, month, year = map(int, match.groups())
        year += 2000 if len(match[3]) == len("yy") else 0
    else:
        return None
    try:
        return date(year, month, number) if _FIRST_YEAR <= year <= _LAST_YEAR else None
    except ValueError:
        return None


def kind(text: str) -> Literal["person", "firm"] | None:
    """Return whether a cell says person or firm, None where it says neither."""
    word = plain(text)
    if word in _FIRM:
        return "firm"
    return "person" if word in _PERSON else None


def role(text: str) -> Role | None:
    """Return which part in a unit a cell speaks of, None where it names none."""
    return _ROLES.get(plain(text))
