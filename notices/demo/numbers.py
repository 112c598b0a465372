"""Telephone numbers that a regulator keeps free for fiction: no other is ever listed, typed or dialled in the demo.

Ranges from memory: GB 020 7946 0000-0999 and 07700 900000-900999 (Ofcom), DE 030 23125 000-999 (Bundesnetzagentur),
FR 01 99 00 xx xx and 06 39 98 xx xx (ARCEP), US area code and 555-0100 to 0199 (North American Numbering Plan).
"""

from collections.abc import Callable, Iterator, Mapping
from random import Random

# The firm's own numbers end in 172 or 0172; owners have others.
_FIRM = 172
_AREAS = ("206", "303", "402", "505", "512", "612", "617", "702", "773", "802")


def _gb_mobile(number: int) -> str:
    return f"07700 900{number:03}"


def _gb_london(number: int) -> str:
    return f"020 7946 0{number:03}"


def _de(number: int) -> str:
    return f"030 23125 {number:03}"


def _fr_mobile(number: int) -> str:
    return f"06 39 98 {number // 100:02} {number % 100:02}"


def _us(number: int) -> str:
    return f"({_AREAS[number // 100]}) 555-01{number % 100:02}"


_FORMS: Mapping[str, tuple[Callable[[int], str], ...]] = {
    "GB": (_gb_mobile, _gb_london),
    "DE": (_de,),
    "FR": (_fr_mobile,),
    "US": (_us,),
}


def unused(rng: Random, country: str) -> Iterator[str]:
    """Yield numbers of *country* as people write them there, none twice; none at all where no range is known."""
    forms = _FORMS.get(country, ())
    drawn = [(form, number) for form in forms for number in range(1000) if number != _FIRM]
    rng.shuffle(drawn)
    yield from (form(number) for form, number in drawn)
