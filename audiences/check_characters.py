"""Check characters of codes: what must stand at their end if no sign was misread.

GS1 mod 10: GS1 General Specifications, section 7.9. Luhn: ISO/IEC 7812-1, annex B. The others: ISO/IEC 7064, pure
systems (MOD 11-2, MOD 37-2, MOD 97-10) and hybrid systems (MOD 11,10 and MOD 37,36). In MOD 97-10 a letter counts as
two digits, A = 10 to Z = 35, as ISO 17442 and ISO 13616 have it.
"""

from collections.abc import Mapping
from typing import Literal, get_args

Scheme = Literal["gs1_mod_10", "luhn", "mod_11_2", "mod_11_10", "mod_37_2", "mod_37_36", "mod_97_10"]
SCHEMES: tuple[Scheme, ...] = get_args(Scheme)

DIGITS = "0123456789"
ALPHANUMERIC = DIGITS + "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
_VALUES: Mapping[str, int] = {sign: value for value, sign in enumerate(ALPHANUMERIC)}
_DOUBLED = (0, 2, 4, 6, 8, 1, 3, 5, 7, 9)  # digit sum of twice the digit

CHECKED: Mapping[Scheme, str] = {
    "gs1_mod_10": DIGITS,
    "luhn": DIGITS,
    "mod_11_2": DIGITS,
    "mod_11_10": DIGITS,
    "mod_37_2": ALPHANUMERIC,
    "mod_37_36": ALPHANUMERIC,
    "mod_97_10": ALPHANUMERIC,
}
"""The signs that each scheme counts."""

CHECKING: Mapping[Scheme, str] = {
    "gs1_mod_10": DIGITS,
    "luhn": DIGITS,
    "mod_11_2": DIGITS + "X",
    "mod_11_10": DIGITS,
    "mod_37_2": ALPHANUMERIC + "*",
    "mod_37_36": ALPHANUMERIC,
    "mod_97_10": DIGITS,
}
"""The signs that a check character of each scheme may be."""

NAMES: Mapping[Scheme, str] = {
    "gs1_mod_10": "GS1 modulo 10",
    "luhn": "Luhn",
    "mod_11_2": "ISO/IEC 7064 MOD 11-2",
    "mod_11_10": "ISO/IEC 7064 MOD 11,10",
    "mod_37_2": "ISO/IEC 7064 MOD 37-2",
    "mod_37_36": "ISO/IEC 7064 MOD 37,36",
    "mod_97_10": "ISO/IEC 7064 MOD 97-10",
}


def check_size(scheme: Scheme) -> int:
    """Return how many check characters a scheme has."""
    return 2 if scheme == "mod_97_10" else 1


def check_signs(scheme: Scheme, signs: str) -> str | None:
    """Return the check characters of *signs*, or None where one of them is not counted by the scheme."""
    if not set(signs) <= set(CHECKED[scheme]):
        return None
    values = [_VALUES[sign] for sign in signs]
    if scheme == "gs1_mod_10":
        return str(-(3 * sum(values[::-1][::2]) + sum(values[::-1][1::2])) % 10)
    if scheme == "luhn":
        return str(-(sum(_DOUBLED[value] for value in values[::-1][::2]) + sum(values[::-1][1::2])) % 10)
    if scheme == "mod_97_10":
        return f"{98 - _digits(values) * 100 % 97:02}"
    if scheme in {"mod_11_2", "mod_37_2"}:
        return CHECKING[scheme][_pure(values, 11 if scheme == "mod_11_2" else 37)]
    return CHECKING[scheme][_hybrid(values, len(CHECKING[scheme]))]


def _pure(values: list[int], modulus: int) -> int:
    """Return the value of one check character, radix 2 (ISO/IEC 7064, pure systems)."""
    product = 0
    for value in values:
        product = (product + value) * 2 % modulus
    return (1 - product) % modulus


def _hybrid(values: list[int], modulus: int) -> int:
    """Return the value of the check character (ISO/IEC 7064, hybrid systems: modulus and modulus + 1)."""
    product = modulus
    for value in values:
        product = ((product + value) % modulus or modulus) * 2 % (modulus + 1)
    return (1 - product) % modulus


def _digits(values: list[int]) -> int:
    number = 0
    for value in values:
        number = number * (10 if value < len(DIGITS) else 100) + value
    return number
