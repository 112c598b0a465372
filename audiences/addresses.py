"""Whether an e-mail address, a telephone number or a postal address can be used, and in which form it is kept.

E-mail: RFC 5321 and 5322 with IDNA 2008 names; telephone: ITU-T E.164, printed by E.123, linked by RFC 3966.
"""

import re
from collections.abc import Iterable, Mapping
from functools import lru_cache
from types import MappingProxyType

import phonenumbers
from email_validator import EmailNotValidError, validate_email
from phonenumbers import PhoneNumber, PhoneNumberFormat, ValidationResult

from audiences.cleaning import lines, narrow, one_line
from audiences.owners import ContactPoint

FAULTS: Mapping[str, str] = MappingProxyType(
    {
        "no-at-sign": "it has no @",
        "several-addresses": "it holds more than one @, perhaps two addresses",
        "local-part-wrong": "what stands before the @ cannot be an address",
        "local-part-not-ascii": "what stands before the @ has letters that many mail servers refuse",
        "domain-wrong": "what stands after the @ is no name of a mail domain",
        "address-too-long": "it is longer than an address may be",
        "phone-not-a-number": "it is no telephone number",
        "phone-country-unknown": "it begins with no country code, and the country is not known",
        "phone-too-short": "it has too few digits",
        "phone-too-long": "it has too many digits",
        "phone-local-only": "its area code is missing",
        "letter-empty": "it has no lines",
        "letter-one-line": "it has one line only; street or town is missing",
        "letter-country-unknown": "its country is not known",
    }
)
"""Why a contact point cannot be used: the stable reason, and the same as the end of a sentence."""

_DOT_ATOM = re.compile(
    r"[A-Za-z0-9!#$%&'*+/=?^_`{|}~-]+(?:\.[A-Za-z0-9!#$%&'*+/=?^_`{|}~-]+)*"
)  # RFC 5322, 3.2.3
_IN_BRACKETS = re.compile(r"[^<>]*<([^<>]*)>")
_LONGEST_LOCAL = 64  # RFC 5321, 4.5.3.1.1
_LONGEST_ADDRESS = 254  # RFC 5321, 4.5.3.1.3: a path of 256 with its brackets
_REMARK = re.compile(
    r"[(\[][^()\[\]]*[^\W\d_][^()\[\]]*[)\]]"
)  # "(evenings)": letters would be dialled as digits
_EXTENSION = re.compile(r"\s*(?:extension|ext\.?|x|durchwahl|dw\.?)\s*\d{1,6}$", re.IGNORECASE)
_DIALLED = re.compile(r"(?:tel:|tel\.?|phone)?\s*(\+?[\d\s()./\u2010-\u2015-]+)", re.IGNORECASE)
_LONGEST_PHONE = 60  # as typed
_LONGEST_E164 = len("+") + 15  # ITU-T E.164, 6.2; some plans as the library knows them reach further


def email(text: str) -> ContactPoint:
    """Return the e-mail address in *text*, its domain as IDNA 2008 A-labels, with a fault where it is unusable."""
    typed = narrow(one_line(text)).removeprefix("mailto:").strip(" ,;")
    bracketed = _IN_BRACKETS.fullmatch(typed)
    address = bracketed[1].strip() if bracketed else typed
    local, at, domain = address.rpartition("@")
    if not at:
        return _email(address, "no-at-sign")
    if "@" in local:
        return _email(address, "several-addresses")
    ascii_domain = _ascii_domain(domain) if len(domain) <= _LONGEST_ADDRESS else None
    if ascii_domain is None:
        return _email(address, "domain-wrong")
    value = f"{local}@{ascii_domain}"
    return _email(
        value, _local_fault(local) or ("address-too-long" if len(value) > _LONGEST_ADDRESS else None)
    )


def _email(value: str, fault: str | None) -> ContactPoint:
    return ContactPoint(channel="email", value=value, value_key=value.casefold(), fault=fault)


@lru_cache(maxsize=16384)
def _ascii_domain(domain: str) -> str | None:
    try:
        found = validate_email(f"a@{domain}", check_deliverability=False).ascii_domain
    except EmailNotValidError:
        return None
    return found.lower()


def _local_fault(local: str) -> str | None:
    if len(local) <= _LONGEST_LOCAL:
        if _DOT_ATOM.fullmatch(local):
            return None
        if not local.isascii() and _is_letters(local):
            return "local-part-not-ascii"
    return "local-part-wrong"


def _is_letters(local: str) -> bool:
    """Tell whether RFC 6531 would allow this local part; a lost sign makes it a wrong one."""
    if "\N{REPLACEMENT CHARACTER}" in local:
        return False
    try:
        validate_email(f"{local}@a.example", check_deliverability=False)
    except EmailNotValidError:
        return False
    return True


def phone(text: str, country: str | None) -> ContactPoint:
    """Return the number in *text* as E.164, dialled from *country* (ISO 3166-1) where it has no country code.

    A number that its numbering plan makes possible is usable, and doubtful where the plan gives out no such number;
    whether it is in service nobody can tell from it.
    """
    typed = _REMARK.sub("", narrow(one_line(text)[:_LONGEST_PHONE])).strip()
    dialled = _DIALLED.fullmatch(_EXTENSION.sub("", typed))
    if not dialled:
        return _phone(typed, "phone-not-a-number")
    try:
        number = phonenumbers.parse(dialled[1], country)
        e164 = phonenumbers.format_number(number, PhoneNumberFormat.E164)
        again = phonenumbers.parse(e164) if number.italian_leading_zero else number
    except phonenumbers.NumberParseException as error:
        return _phone(typed, _PARSE_FAULTS.get(error.error_type, "phone-not-a-number"))
    fault = _POSSIBLE_FAULTS.get(phonenumbers.is_possible_number_with_reason(number), "phone-not-a-number")
    if not fault and phonenumbers.format_number(again, PhoneNumberFormat.E164) != e164:
        fault = "phone-not-a-number"  # noughts that fill a cell, where the plan knows no leading 0
    if not fault and len(e164) > _LONGEST_E164:
        fault = "phone-too-long"
    if fault:
        return _phone(typed, fault)
    return _phone(e164, None, doubtful=not phonenumbers.is_valid_number(again))


def phone_of_number(digits: str, country: str | None) -> ContactPoint:
    """Return the number that a spreadsheet keeps as a number, so that its ``+`` or its first noughts are gone.

    Where it begins as numbers of *country* do abroad and is a number so, that is what it was; else it is read as
    dialled in *country* where the plan has such a number, and as one from abroad where it has not.
    """
    calling = phonenumbers.country_code_for_region(country) if country else 0
    if calling and digits.startswith(str(calling)) and _exists(abroad := phone(f"+{digits}", None)):
        return abroad
    home = phone(digits, country)
    if _exists(home):
        return home
    abroad = phone(f"+{digits}", None)
    return abroad if _exists(abroad) else home


def _exists(point: ContactPoint) -> bool:
    """Tell whether the numbering plan has numbers like this one: more than that one of its length is possible."""
    return point.fault is None and not point.doubtful


def _phone(value: str, fault: str | None, *, doubtful: bool = False) -> ContactPoint:
    return ContactPoint(
        channel="phone", value=value, value_key=value.casefold(), fault=fault, doubtful=doubtful
    )


_PARSE_FAULTS = {
    phonenumbers.NumberParseException.INVALID_COUNTRY_CODE: "phone-country-unknown",
    phonenumbers.NumberParseException.TOO_SHORT_AFTER_IDD: "phone-too-short",
    phonenumbers.NumberParseException.TOO_SHORT_NSN: "phone-too-short",
    phonenumbers.NumberParseException.TOO_LONG: "phone-too-long",
}
_POSSIBLE_FAULTS = {
    ValidationResult.IS_POSSIBLE: None,
    ValidationResult.IS_POSSIBLE_LOCAL_ONLY: "phone-local-only",
    ValidationResult.TOO_SHORT: "phone-too-short",
    ValidationResult.TOO_LONG: "phone-too-long",
    ValidationResult.INVALID_COUNTRY_CODE: "phone-country-unknown",
}


def letter(address: Iterable[str], country: str | None) -> ContactPoint:
    """Return the postal lines, top to bottom, one a line; two lines and a country make them usable.

    Where one line holds the whole address, its commas part the lines.
    """
    cleaned = [line for text in address for line in lines(text)]
    if len(cleaned) == 1:
        cleaned = [part for text in re.split("[,،]", cleaned[0]) if (part := text.strip())]
    fault = None if country else "letter-country-unknown"
    if len(cleaned) <= 1:
        fault = "letter-one-line" if cleaned else "letter-empty"
    key = " ".join([*cleaned, country or ""]).casefold().strip()
    return ContactPoint(channel="letter", value="\n".join(cleaned), value_key=key, fault=fault)


def international(e164: str) -> str:
    """Return an E.164 number as E.123 prints it abroad, spaces only; ValueError where it is no number."""
    return phonenumbers.format_number(_number(e164), PhoneNumberFormat.INTERNATIONAL).replace("-", " ")


def national(e164: str, country: str | None) -> str:
    """Return an E.164 number as *country* dials it, or as E.123 prints it abroad where it lies elsewhere."""
    number = _number(e164)
    if country is None or phonenumbers.country_code_for_region(country) != number.country_code:
        return international(e164)
    return phonenumbers.format_number(number, PhoneNumberFormat.NATIONAL)


def tel_link(e164: str) -> str:
    """Return the ``tel:`` link of an E.164 number (RFC 3966, global form); ValueError where it is no number."""
    return phonenumbers.format_number(_number(e164), PhoneNumberFormat.RFC3966)


def _number(e164: str) -> PhoneNumber:
    if not re.fullmatch(r"\+[1-9][0-9]{1,14}", e164):
        raise ValueError("a telephone number must be + and up to 15 digits (E.164)")
    try:
        return phonenumbers.parse(e164)
    except phonenumbers.NumberParseException as error:
        raise ValueError("a telephone number must begin with a country code that exists (E.164)") from error
