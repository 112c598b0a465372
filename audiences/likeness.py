"""What of an owner is compared with another's: names and lines folded to plain words, and the keys that part them."""

import re
import unicodedata
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass

_WORD = re.compile(r"[^\W_]+")
_UMLAUTS = str.maketrans({"ä": "ae", "ö": "oe", "ü": "ue", "æ": "ae", "ø": "oe", "å": "aa"})
_TITLES = frozenset({"dr", "prof", "mr", "mrs", "ms", "miss", "herr", "frau", "fam", "familie"})
_STREET = re.compile(r"str$")  # Hauptstr., as German lists shorten it
_VOWELS = re.compile(r"(?<=.)[aeiouy]+")
_DOUBLE = re.compile(r"(.)\1+")
_BEGINNING = 4  # letters of a word that a slip behind them leaves alone
_POSTCODE = 4  # signs of a number in an address from which it says more than a house number
_WORDS = 3  # of an address, the longest
_LOCAL_PART = 6  # signs before the @ that hardly two people share


@dataclass(frozen=True, kw_only=True, slots=True)
class Person:
    """What is known of an owner, to be compared; ways to them as `addresses` keeps them.

    *letters* holds postal addresses, a newline between their lines; *numbers* pairs of who gave a number and it.
    """

    person_id: str
    name: str = ""
    emails: tuple[str, ...] = ()
    phones: tuple[str, ...] = ()
    letters: tuple[str, ...] = ()
    numbers: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, kw_only=True, slots=True)
class Address:
    """A postal address as words in order of the alphabet, its numbers apart."""

    first: str
    words: tuple[str, ...]
    figures: tuple[str, ...]
    text: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Likeness:
    """An owner as compared: the words of the name as given and sorted, and each way to them."""

    person_id: str
    names: tuple[str, ...]
    name: str
    emails: frozenset[str]
    phones: frozenset[str]
    addresses: tuple[Address, ...]
    numbers: frozenset[tuple[str, str]]


def words_of(text: str) -> tuple[str, ...]:
    """Return the words of *text*, without case and accents: Müller and Mueller are one, Hauptstr. and Hauptstraße."""
    plain = text.casefold()
    if not plain.isascii():
        plain = unicodedata.normalize("NFKD", unicodedata.normalize("NFC", plain).translate(_UMLAUTS))
        plain = "".join(sign for sign in plain if not unicodedata.combining(sign))
    return tuple(_WORD.findall(plain))


def likeness_of(person: Person) -> Likeness:
    """Return what of a person is compared."""
    names = tuple(word for word in words_of(person.name) if word not in _TITLES)
    return Likeness(
        person_id=person.person_id,
        names=names,
        name=" ".join(sorted(names)),
        emails=frozenset(email.casefold() for email in person.emails),
        phones=frozenset(person.phones),
        addresses=tuple(_address(letter) for letter in person.letters),
        numbers=frozenset(person.numbers),
    )


def _address(letter: str) -> Address:
    lines = [tuple(_STREET.sub("strasse", word) for word in words_of(line)) for line in letter.split("\n")]
    every = sorted(word for line in lines for word in line)
    return Address(
        first="".join(lines[0]),
        words=tuple(word for word in every if not _is_figure(word)),
        figures=tuple(word for word in every if _is_figure(word)),
        text=" ".join(every),
    )


def _is_figure(word: str) -> bool:
    return any(sign.isdecimal() for sign in word)


def _emails(one: Likeness) -> Iterator[str]:
    yield from one.emails
    yield from (local for email in one.emails if len(local := email.partition("@")[0]) >= _LOCAL_PART)


def _phones(one: Likeness) -> Iterator[str]:
    yield from one.phones


def _numbers(one: Likeness) -> Iterator[str]:
    yield from (f"{number} {giver}" for giver, number in one.numbers)


def _names(one: Likeness) -> Iterator[str]:
    """Yield how the parts of a name begin, and how they sound without vowels: Reed and Read, Müller and Miller."""
    begun = _beginnings(one.names)
    if len(begun) > 1:
        yield " ".join(begun)
        yield " ".join(sorted(_DOUBLE.sub(r"\1", _VOWELS.sub("", name)) for name in one.names))


def _streets(one: Likeness) -> Iterator[str]:
    yield from (address.first for address in one.addresses)


def _postcodes(one: Likeness) -> Iterator[str]:
    """Yield each postcode with each part of the name, for a town is too large a block."""
    names = _beginnings(one.names)
    for address in one.addresses:
        for figure in address.figures:
            if len(figure) >= _POSTCODE:
                yield from (f"{figure} {name}" for name in names)


def _places(one: Likeness) -> Iterator[str]:
    """Yield the longest words of an address, together and each with each number in it."""
    for address in one.addresses:
        begun = _beginnings(sorted(address.words, key=lambda word: (-len(word), word))[:_WORDS])
        if len(begun) > 1:
            yield " ".join(begun)
        yield from (f"{figure} {word}" for figure in address.figures for word in begun)


def _beginnings(words: Iterable[str]) -> list[str]:
    return sorted({word[:_BEGINNING] for word in words})


KEYS: tuple[Callable[[Likeness], Iterator[str]], ...] = (
    _emails,
    _phones,
    _numbers,
    _names,
    _streets,
    _postcodes,
    _places,
)
"""The keys under which an owner is looked for, kind by kind: two who may be the same share at least one."""
