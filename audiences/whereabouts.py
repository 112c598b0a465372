"""What a country tells of an owner, and how surely: which language they read, in which time zone they live.

Languages by Unicode CLDR (likely subtags, territory languages); zones by the IANA database, those with the same clock
now taken together (CLDR metazones).
"""

from collections.abc import Iterable, Iterator
from functools import lru_cache

from babel import Locale, UnknownLocaleError
from babel.core import get_global

from audiences.findings import Finding, Severity
from audiences.owners import ListedRow

_SPOKEN = 15  # percent of a country who use another official language, from which the likeliest is a guess
_BY_ALL = 95  # percent who use the likeliest, from which it is none
_OFFICIAL = frozenset({"official", "de_facto_official"})


@lru_cache(maxsize=512)
def language_of(country: str) -> str | None:
    """Return the likely language of an ISO 3166-1 country, None where CLDR names none."""
    try:
        return Locale.parse(f"und_{country}").language
    except (ValueError, UnknownLocaleError):
        return None


@lru_cache(maxsize=512)
def several_languages(country: str) -> bool:
    """Say whether the likely language of a country is a guess, for many there read another official one."""
    likely = language_of(country)
    spoken = get_global("territory_languages").get(country, {})
    if spoken.get(likely, {}).get("population_percent", 0) >= _BY_ALL:
        return False
    return any(
        language.partition("_")[0] != likely
        and use["official_status"] in _OFFICIAL
        and use["population_percent"] >= _SPOKEN
        for language, use in spoken.items()
    )


@lru_cache(maxsize=512)
def time_zone(country: str) -> str | None:
    """Return the IANA time zone of a country, None where it has several or none is known."""
    found: dict[str, str] = {}
    for zone in _zones().get(country, ()):
        found.setdefault(get_global("meta_zones").get(zone, zone), zone)
    return next(iter(found.values())) if len(found) == 1 else None


def several_time_zones(country: str) -> bool:
    """Say whether a country spreads over several time zones."""
    return country in _zones() and time_zone(country) is None


@lru_cache(maxsize=1)
def _zones() -> dict[str, list[str]]:
    found: dict[str, list[str]] = {}
    for zone, country in sorted(get_global("zone_territories").items()):
        found.setdefault(country, []).append(zone)
    return found


def uncertain(rows: Iterable[ListedRow], file: str) -> Iterator[Finding]:
    """Say once a list of how many owners the country does not tell the language, or the time zone to call them in."""
    languages: dict[int, str] = {}
    zones: dict[int, str] = {}
    for row in rows:
        if row.country is None:
            continue
        if row.language is None and several_languages(row.country):
            languages[row.place.row] = row.country
        if row.phone and row.phone.fault is None and several_time_zones(row.country):
            zones[row.place.row] = row.country
    if languages:
        yield Finding(
            code="language-of-several",
            file=file,
            line=next(iter(languages)),
            message=f"{_rows(languages)} no language, and the country has several; the likeliest is taken",
            mend="add a column of languages where they are known; each owner can choose another one on the page",
            severity=Severity.CONSIDER,
            source="Unicode CLDR",
        )
    if zones:
        yield Finding(
            code="time-zone-of-several",
            file=file,
            line=next(iter(zones)),
            message=f"{_rows(zones)} a telephone number and no time zone, and the country has several",
            mend="look at the town before you call, so that nobody is called at night",
            severity=Severity.CONSIDER,
            source="IANA time zone database",
        )


def _rows(found: dict[int, str]) -> str:
    countries = ", ".join(sorted(set(found.values())))
    return (
        f"this row ({countries}) gives"
        if len(found) == 1
        else f"{len(found):,} rows ({countries}), this one first, give"
    )
