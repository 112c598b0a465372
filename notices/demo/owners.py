"""Who owns the units: invented, seeded, and in the numbers that the scenario names."""

import string
import unicodedata
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from random import Random

from notices.demo import names, numbers, units
from notices.demo.units import Stamped

LEASED, HOUSEHOLDS, UNREACHED, DEAD, REFUSED, SCANNED = 12, 6, 34, 5, 9, 14
WEB, TILL, PARTNER = "web-shop", "shop-port-aldmere", "partner-shop-one"


@dataclass(frozen=True, kw_only=True, slots=True)
class Owner:
    """One owner as the lists know them; *mailbox* says what becomes of mail: good, none, dead, refused, scanned.

    *email* and *phone* are as typed in the list, perhaps unusable; *language* is empty where the list has none.
    """

    given: str
    family: str
    country: str
    language: str
    firm: bool
    email: str
    mailbox: str
    phone: str
    street: str
    postcode: str
    town: str
    shop: str
    units: tuple[Stamped, ...]

    @property
    def name(self) -> str:
        """Return the whole name, or the firm's."""
        return f"{self.given} {self.family}".strip()

    @property
    def gets_mail(self) -> bool:
        """Say whether a mail reaches a mailbox that somebody reads."""
        return self.mailbox in {"good", "scanned"}

    @property
    def address(self) -> str:
        """Return where they live, as they would write it."""
        return f"{self.street}\n{self.postcode} {self.town}"


@dataclass(frozen=True, kw_only=True, slots=True)
class _Lot:
    """Units that one owner has, and what becomes of mail to that owner."""

    units: tuple[Stamped, ...]
    mailbox: str = "good"
    firm: bool = False


def made(rng: Random) -> list[Owner]:
    """Return the owners of all units: 448 people and one leasing firm."""
    people = _People(rng)
    return [people.owner(lot) for lot in _lots(rng)]


def _lots(rng: Random) -> Iterator[_Lot]:
    """Deal the units out; who cannot be mailed has one unit, of line B or without a code."""
    dealt = units.made(rng)
    plain = [unit for unit in dealt if unit.line == "B"]
    for mailbox, count in (("none", UNREACHED), ("dead", DEAD), ("refused", REFUSED), ("scanned", SCANNED)):
        for _ in range(count):
            unit = plain.pop(rng.randrange(len(plain)))
            dealt.remove(unit)
            yield _Lot(units=(unit,), mailbox=mailbox)
    leased = [unit for unit in dealt if unit.coded][:LEASED]
    rest = [unit for unit in dealt if unit not in leased]
    yield _Lot(units=tuple(leased), firm=True)
    for _ in range(HOUSEHOLDS):
        yield _Lot(units=(rest.pop(), rest.pop()))
    for unit in rest:
        yield _Lot(units=(unit,))


class _People:
    """Draws owners, none with the name, address or number of another."""

    def __init__(self, rng: Random) -> None:
        self._rng = rng
        self._countries = rng.sample(
            list(names.COUNTS), counts=list(names.COUNTS.values()), k=sum(names.COUNTS.values())
        )
        self._names = {country: _name_pairs(rng, country) for country in names.LANDS}
        self._phones = {country: numbers.unused(rng, country) for country in names.LANDS}
        self._awkward = list(names.AWKWARD)
        self._arabic = list(names.READERS_OF_ARABIC)
        self._mailboxes: set[str] = set()

    def owner(self, lot: _Lot) -> Owner:
        """Return the owner of a lot."""
        if lot.firm:
            firm = self._at("", names.LEASING_FIRM, "IE", "en", lot)
            return replace(firm, firm=True, shop=WEB, email="fleet@kelmora.example")
        ordinary = len(lot.units) == 1 and lot.mailbox == "good" and lot.units[0].coded
        awkward = self._taken("DE", lot) if ordinary and self._arabic else None
        if awkward:
            given, family = self._arabic.pop()
            return replace(self._at(given, family, "DE", "ar", lot), shop=WEB)
        if ordinary and self._awkward and self._taken(self._awkward[-1][2], lot):
            given, family, country, language = self._awkward.pop()
            return replace(self._at(given, family, country, language, lot), shop=WEB)
        country = self._country(lot)
        given, family = next(self._names[country])
        return self._at(given, family, country, "", lot)

    def _taken(self, country: str, lot: _Lot) -> bool:
        """Take a place in *country* for a lot that revision 1 does not clear."""
        if lot.units[0].clears or country not in self._countries:
            return False
        self._countries.remove(country)
        return True

    def _country(self, lot: _Lot) -> str:
        """Return the next country; who is to be called lives where a number is known."""
        without_us = tuple(country for country in names.COUNTS if country != "US")
        fit = {
            "refused": ("GB", "DE", "FR"),
            "none": without_us,
            "dead": ("IE", "GB", "DE", "NL", "BE"),
            "scanned": ("IE", "GB", "DE", "FR", "NL", "BE", "IT"),
        }.get(lot.mailbox, tuple(names.COUNTS) if len(lot.units) == 1 else without_us)
        place = next(at for at, country in enumerate(self._countries) if country in fit)
        return self._countries.pop(place)

    def _at(self, given: str, family: str, country: str, language: str, lot: _Lot) -> Owner:
        land = names.LANDS[country]
        called = lot.mailbox == "refused" or self._rng.random() < 0.6  # noqa: PLR2004 - most leave a number
        shop = self._shop(country)
        return Owner(
            given=given,
            family=family,
            country=country,
            language=language or self._language(land.language),
            firm=False,
            email=self._email(given, family, lot.mailbox),
            mailbox=lot.mailbox,
            phone=next(self._phones[country], "") if called else "",
            street=f"{self._rng.choice(land.streets)} {self._rng.randint(1, 140)}",
            postcode=_filled(self._rng, land.post),
            town=self._rng.choice(land.towns),
            shop=shop,
            units=lot.units,
        )

    def _shop(self, country: str) -> str:
        likely = {"IE": (TILL, 0.55), "DE": (PARTNER, 0.6), "GB": (TILL, 0.05), "PL": (PARTNER, 0.3)}
        shop, share = likely.get(country, (WEB, 1.0))
        return shop if self._rng.random() < share else WEB

    def _language(self, usual: str) -> str:
        """Say the language in some rows only, and now and then another than the country's."""
        drawn = self._rng.random()
        if drawn < 0.05:  # noqa: PLR2004 - a share of the rows
            return self._rng.choice(("en", "de", "pl"))
        return usual if drawn < 0.4 else ""  # noqa: PLR2004 - a share of the rows

    def _email(self, given: str, family: str, mailbox: str) -> str:
        domain = {"refused": names.REFUSING_DOMAIN, "scanned": names.SCANNING_DOMAIN}.get(mailbox)
        domain = domain or self._rng.choice(names.MAIL_DOMAINS)
        local = self._local(given, family)
        return f"{local}@{domain}" if mailbox != "none" else _unusable(self._rng, local, domain)

    def _local(self, given: str, family: str) -> str:
        base = ".".join(part for part in (_ascii(given), _ascii(family)) if part)[:40].strip(".") or "post"
        local, count = base, 1
        while local in self._mailboxes:
            count += 1
            local = f"{base}.{count}"
        self._mailboxes.add(local)
        return local


def _name_pairs(rng: Random, country: str) -> Iterator[tuple[str, str]]:
    land = names.LANDS[country]
    pairs = [(given, family) for given in land.given for family in land.family]
    rng.shuffle(pairs)
    yield from pairs


def _unusable(rng: Random, local: str, domain: str) -> str:
    """Return what stands in a list where no usable address does."""
    drawn: Sequence[str] = (
        "",
        "",
        "",
        f"{local}(at){domain}",
        f"{local} {domain}",
        f"{local}@@{domain}",
        f"müller.{local}@{domain}",
    )
    return rng.choice(drawn)


def _ascii(text: str) -> str:
    spread = unicodedata.normalize("NFKD", text.casefold())
    return "".join(sign for sign in spread if sign in string.ascii_lowercase + string.digits)


def _filled(rng: Random, pattern: str) -> str:
    draws = {"#": string.digits, "?": "ABCDEFGHJKLMNPRSTVWXY"}
    return "".join(rng.choice(draws[sign]) if sign in draws else sign for sign in pattern)
