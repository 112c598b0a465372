"""What there is to say of the cells of a row; none of it quotes what an owner's cell holds."""

from audiences.findings import Finding, Severity
from audiences.owners import Place

LONGEST_NAME = 200  # signs; what is longer is no name, and would break a letter's window


def says_nothing(place: Place) -> Finding:
    """Say that a row is left out: nothing that is read stands in it."""
    return Finding(
        code="row-says-nothing",
        file=place.file,
        line=place.row,
        message="the row is left out: none of the columns that are read holds anything",
        mend="fill the row, or choose which column means what",
    )


def name_too_long(place: Place, heading: str) -> Finding:
    """Say that a name was cut."""
    return Finding(
        code="name-too-long",
        file=place.file,
        line=place.row,
        path=heading,
        message=f"the name has more than {LONGEST_NAME} signs; the rest is left out",
        mend="shorten the name",
        severity=Severity.CONSIDER,
    )


def kind_unknown(place: Place, heading: str) -> Finding:
    """Say that a cell names neither person nor firm."""
    return Finding(
        code="kind-unknown",
        file=place.file,
        line=place.row,
        path=heading,
        message="it says neither person nor firm; the owner counts as a person",
        mend="write person or firm",
        severity=Severity.CONSIDER,
    )


def role_unknown(place: Place, heading: str) -> Finding:
    """Say that a cell names no part in a unit."""
    return Finding(
        code="role-unknown",
        file=place.file,
        line=place.row,
        path=heading,
        message="it says no part in a unit that is known; the owner counts as its keeper",
        mend="write keeper, buyer, rider, lessor, guardian, helper or shop",
        severity=Severity.CONSIDER,
    )


def email_unusable(place: Place, heading: str, why: str) -> Finding:
    """Say why no mail can go to an address."""
    return Finding(
        code="email-unusable",
        file=place.file,
        line=place.row,
        path=heading,
        message=f"the e-mail address cannot be used: {why}; the owner stays listed",
        mend="ask for the address, or go by letter or telephone",
        severity=Severity.CONSIDER,
    )


def phone_unusable(place: Place, heading: str, why: str) -> Finding:
    """Say why a telephone number cannot be called."""
    return Finding(
        code="phone-unusable",
        file=place.file,
        line=place.row,
        path=heading,
        message=f"the telephone number cannot be used: {why}; the owner stays listed",
        mend="write it with its country code, as in +49 30 23125172",
        severity=Severity.CONSIDER,
    )


def address_unusable(place: Place, heading: str, why: str) -> Finding:
    """Say why no letter can go to an address."""
    return Finding(
        code="address-unusable",
        file=place.file,
        line=place.row,
        path=heading,
        message=f"no letter can go to the postal address: {why}; the owner stays listed",
        mend="complete street, town and country",
        severity=Severity.CONSIDER,
    )


def country_unknown(place: Place, heading: str) -> Finding:
    """Say that a cell names no country."""
    return Finding(
        code="country-unknown",
        file=place.file,
        line=place.row,
        path=heading,
        message="it names no country that is known; it is read as not given",
        mend="write the country's name, or its two letters as in IE",
        severity=Severity.CONSIDER,
    )


def language_unknown(place: Place, heading: str) -> Finding:
    """Say that a cell names no language."""
    return Finding(
        code="language-unknown",
        file=place.file,
        line=place.row,
        path=heading,
        message="it names no language that is known; it is read as not given",
        mend="write the language's name, or its tag as in en",
        severity=Severity.CONSIDER,
    )


def day_unreadable(place: Place, heading: str) -> Finding:
    """Say that a cell holds no day."""
    return Finding(
        code="day-unreadable",
        file=place.file,
        line=place.row,
        path=heading,
        message="it is no day that exists, or written in an order that differs by country; it is read as not given",
        mend="write the day as 2025-08-19 or 19.08.2025",
        severity=Severity.CONSIDER,
    )


def phone_doubtful(place: Place, heading: str) -> Finding:
    """Say that a telephone number can be, and is none of its numbering plan as we know it."""
    return Finding(
        code="phone-not-in-plan",
        file=place.file,
        line=place.row,
        path=heading,
        message="the telephone number can be by its length, and no such number is given out; it is called all the same",
        mend="look whether a digit is missing or wrong",
        severity=Severity.CONSIDER,
        source="numbering plans as libphonenumber has them",
    )
