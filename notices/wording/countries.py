"""Which language a country most likely reads, where nobody has said (Unicode CLDR, likely subtags)."""

from babel import Locale, UnknownLocaleError


def language_of(country: str) -> str | None:
    """Return the likely language of an ISO 3166-1 country, None where CLDR names none."""
    try:
        return Locale.parse(f"und_{country}").language
    except (ValueError, UnknownLocaleError):
        return None
