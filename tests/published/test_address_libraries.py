"""E-mail addresses and telephone numbers against the examples that their reference libraries publish.

Sources: README of python-phonenumbers 9, "Example Usage"; README of email-validator 2, "Usage", "Internationalized
domain names", "Return value".
"""

import phonenumbers
import pytest

from audiences.addresses import FAULTS, email, international, national, phone
from audiences.owners import ContactPoint


@pytest.mark.parametrize(
    ("typed", "country", "e164"),
    [
        ("+442083661177", None, "+442083661177"),
        ("020 8366 1177", "GB", "+442083661177"),
        ("00 1 650 253 2222", "GB", "+16502532222"),  # as dialled from GB, not a GB number
        ("510-748-8230", "US", "+15107488230"),
        ("703-4800500", "US", "+17034800500"),
        ("0431234567", "CH", "+41431234567"),
    ],
)
def test_numbers_that_phonenumbers_reads_are_read_alike(typed: str, country: str | None, e164: str) -> None:
    assert phone(typed, country) == ContactPoint(channel="phone", value=e164, value_key=e164)


def test_a_number_that_phonenumbers_calls_impossible_cannot_be_used() -> None:
    assert phone("+120012301", None).fault == "phone-too-short"  # too few digits for USA


def test_a_number_that_phonenumbers_calls_possible_and_not_valid_is_used_and_doubtful() -> None:
    point = phone("+12001230101", None)  # NPA 200 not used

    assert (point.value, point.fault, point.doubtful) == ("+12001230101", None, True)


@pytest.mark.parametrize(
    ("typed", "fault"), [("02081234567", "phone-country-unknown"), ("gibberish", "phone-not-a-number")]
)
def test_what_phonenumbers_cannot_parse_says_why(typed: str, fault: str) -> None:
    assert phone(typed, None).fault == fault
    assert FAULTS[fault]


def test_a_number_is_printed_as_phonenumbers_prints_it() -> None:
    assert national("+442083661177", "GB") == "020 8366 1177"
    assert international("+442083661177") == "+44 20 8366 1177"


@pytest.mark.parametrize(
    "region",
    ["AE", "AT", "BE", "CH", "CZ", "DE", "DK", "EG", "ES", "FR", "GB", "IE", "IT", "NL", "PL", "SE", "US"],
)
def test_the_example_numbers_of_each_plan_are_used_and_none_is_doubtful(region: str) -> None:
    """Values: ``example_number_for_type`` of the numbering plans that phonenumbers carries."""
    kinds = (phonenumbers.PhoneNumberType.FIXED_LINE, phonenumbers.PhoneNumberType.MOBILE)
    for number in [phonenumbers.example_number_for_type(region, kind) for kind in kinds]:
        assert number is not None
        at_home = phonenumbers.format_number(number, phonenumbers.PhoneNumberFormat.NATIONAL)
        e164 = phonenumbers.format_number(number, phonenumbers.PhoneNumberFormat.E164)

        assert phone(at_home, region) == ContactPoint(channel="phone", value=e164, value_key=e164)


@pytest.mark.parametrize(
    ("typed", "value"),
    [
        ("my+address@example.org", "my+address@example.org"),
        ("me@Ｄｏｍａｉｎ.com", "me@domain.com"),  # noqa: RUF001 - full width, as published
        ("test@joshdata.me", "test@joshdata.me"),
        ("example@ツ.ⓁⒾⒻⒺ", "example@xn--bdk.life"),
        ("example@ツ.life", "example@xn--bdk.life"),
        ("example@xn--bdk.life", "example@xn--bdk.life"),
        ("My Name <me@example.org>", "me@example.org"),
    ],
)
def test_addresses_that_email_validator_takes_go_out_in_its_ascii_form(typed: str, value: str) -> None:
    assert email(typed) == ContactPoint(channel="email", value=value, value_key=value)


@pytest.mark.parametrize(
    ("typed", "fault"),
    [
        ("ツ-test@joshdata.me", "local-part-not-ascii"),  # needs SMTPUTF8 on every server of the way
        ("ツ@example.com", "local-part-not-ascii"),
        ("me@localhost", "domain-wrong"),  # a special use domain name
        ("@example.com", "local-part-wrong"),  # taken only for aliases
        ('"my name"@example.org', "local-part-wrong"),  # quoted: taken only where asked for
        ("me@[127.0.0.1]", "domain-wrong"),  # a literal: taken only where asked for
    ],
)
def test_addresses_that_email_validator_refuses_or_marks_cannot_be_used(typed: str, fault: str) -> None:
    assert email(typed).fault == fault
    assert FAULTS[fault]
