"""E-mail addresses, telephone numbers and postal addresses against what is published about them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from audiences.addresses import (
    FAULTS,
    email,
    international,
    letter,
    national,
    phone,
    phone_of_number,
    tel_link,
)
from audiences.owners import ContactPoint

HOSTILE = st.text(alphabet=st.characters(exclude_categories=()), max_size=80)


@pytest.mark.parametrize(
    ("typed", "value"),
    [
        # IDNA 2008 (RFC 5891, 5892): ß keeps its own name, unlike in IDNA 2003
        ("anna@faß.de", "anna@xn--fa-hia.de"),
        ("anna@straße.de", "anna@xn--strae-oqa.de"),
        ("anna@münchen.de", "anna@xn--mnchen-3ya.de"),
        ("anna@bücher.example", "anna@xn--bcher-kva.example"),
        ("anna@例え.jp", "anna@xn--r8jz45g.jp"),
        (
            "Anna.Mueller@POST.Example",
            "Anna.Mueller@post.example",
        ),  # RFC 5321, 2.4: the local part keeps its case
        ("Anna Müller <anna@post.example>", "anna@post.example"),
        ("mailto:anna@post.example", "anna@post.example"),
        (" anna@post.example; ", "anna@post.example"),
        ("ａｎｎａ＠post．example", "anna@post.example"),  # noqa: RUF001 - full width
        ("\u202eanna@post.example\u202c", "anna@post.example"),
        ("o'neil+drayling@post.example", "o'neil+drayling@post.example"),  # RFC 5322, 3.2.3: atext
    ],
)
def test_a_usable_address_is_kept_in_the_form_that_goes_out(typed: str, value: str) -> None:
    assert email(typed) == ContactPoint(channel="email", value=value, value_key=value.casefold())


@pytest.mark.parametrize(
    ("typed", "fault"),
    [
        ("", "no-at-sign"),
        ("anna", "no-at-sign"),
        ("anna@a.example, ben@b.example", "several-addresses"),
        ("alice@example.org)bob@example.com", "several-addresses"),
        ("anna@☃.net", "domain-wrong"),  # IDNA 2008: a symbol is no letter
        ("anna@post", "domain-wrong"),
        ("anna@", "domain-wrong"),
        ("anna@[192.0.2.1]", "domain-wrong"),
        ("anna@post_office.example", "domain-wrong"),
        ("anna@" + "é" * 300, "domain-wrong"),
        ("anna@" + "a" * 64 + ".example", "domain-wrong"),  # RFC 1035, 2.3.4: a label has at most 63
        ("@post.example", "local-part-wrong"),
        ("a..b@post.example", "local-part-wrong"),
        ("a b@post.example", "local-part-wrong"),
        ("%(owner)s@post.example", "local-part-wrong"),
        ("a\ud800@post.example", "local-part-wrong"),
        ("ü..b@post.example", "local-part-wrong"),
        ("a" * 65 + "@post.example", "local-part-wrong"),  # RFC 5321, 4.5.3.1.1
        (
            "jörg@post.example",
            "local-part-not-ascii",
        ),  # RFC 6531: only where every server on the way speaks it
        # RFC 5321, 4.5.3.1.3: a path has at most 256, its two brackets in it
        ("a" * 64 + "@" + ".".join(["b" * 60] * 3) + ".example", "address-too-long"),
    ],
)
def test_an_unusable_address_says_why(typed: str, fault: str) -> None:
    point = email(typed)

    assert point.fault == fault
    assert FAULTS[fault]


@pytest.mark.parametrize(
    ("typed", "country", "e164"),
    [
        ("030 23125172", "DE", "+493023125172"),
        ("+49 (0)30 23125-172", None, "+493023125172"),
        ("0049 30 23125172", "DE", "+493023125172"),
        ("030/23125 172 (abends)", "DE", "+493023125172"),
        ("Tel. 030 23125172", "DE", "+493023125172"),
        ("030 23125172 ext. 5", "DE", "+493023125172"),
        ("\u0660\u0663\u0660 23125172", "DE", "+493023125172"),
        ("06 12345678", "IT", "+390612345678"),  # ITU-T E.164, Italy: the leading 0 stays
        ("tel:+44-20-7946-0018", None, "+442079460018"),
        ("(212) 555-0172", "US", "+12125550172"),
    ],
)
def test_a_possible_number_is_kept_as_e164(typed: str, country: str | None, e164: str) -> None:
    assert phone(typed, country) == ContactPoint(channel="phone", value=e164, value_key=e164)


def test_a_number_that_is_given_to_nobody_is_doubtful_and_used() -> None:
    point = phone("07700 900123", "GB")  # Ofcom keeps 07700 900000 to 900999 for stories

    assert (point.value, point.fault, point.doubtful) == ("+447700900123", None, True)


@pytest.mark.parametrize(
    ("typed", "country", "fault"),
    [
        ("", "DE", "phone-not-a-number"),
        ("none", "DE", "phone-not-a-number"),
        ("030 CALL ME", "DE", "phone-not-a-number"),
        ("+", "DE", "phone-not-a-number"),
        ("000000", "DE", "phone-not-a-number"),  # fills a cell; no German number begins with 0 behind +49
        ("030 23125172", None, "phone-country-unknown"),
        ("030 23125172", "XX", "phone-country-unknown"),
        ("+999 12345678", None, "phone-country-unknown"),
        ("+49 1", None, "phone-too-short"),
        ("0049", "DE", "phone-too-short"),
        ("555-0123", "US", "phone-local-only"),
        ("030 23125172 0171 23125172", "DE", "phone-too-long"),
        ("0" * 50, "DE", "phone-too-long"),
        ("10000000000000", "DE", "phone-too-long"),  # ITU-T E.164, 6.2: 16 digits with its country code
        ("+4930231251720000000", None, "phone-too-long"),  # ITU-T E.164, 6.2: at most 15 digits
    ],
)
def test_an_unusable_number_says_why(typed: str, country: str | None, fault: str) -> None:
    point = phone(typed, country)

    assert point.fault == fault
    assert FAULTS[fault]


@pytest.mark.parametrize(
    ("e164", "printed", "link"),
    [
        # E.123 prints spaces only; RFC 3966, 5.1.4: the global form, hyphens for the eye
        ("+49891234567", "+49 89 1234567", "tel:+49-89-1234567"),
        ("+442079460018", "+44 20 7946 0018", "tel:+44-20-7946-0018"),
        ("+33123456789", "+33 1 23 45 67 89", "tel:+33-1-23-45-67-89"),
        ("+34612345678", "+34 612 34 56 78", "tel:+34-612-34-56-78"),
        ("+81312345678", "+81 3 1234 5678", "tel:+81-3-1234-5678"),
        ("+12125550172", "+1 212 555 0172", "tel:+1-212-555-0172"),
    ],
)
def test_a_number_is_printed_by_e123_and_linked_by_rfc_3966(e164: str, printed: str, link: str) -> None:
    assert (international(e164), tel_link(e164)) == (printed, link)


def test_a_number_is_printed_as_dialled_at_home_and_in_full_abroad() -> None:
    assert national("+448081570172", "GB") == "0808 157 0172"
    assert national("+448081570172", "DE") == "+44 808 157 0172"
    assert national("+448081570172", None) == "+44 808 157 0172"


@pytest.mark.parametrize("text", ["", "030 23125172", "+49 30", "+0123", "+999123456", "+1234567890123456"])
def test_what_is_no_e164_number_is_not_printed(text: str) -> None:
    with pytest.raises(ValueError, match=r"E\.164"):
        international(text)


def test_postal_lines_with_a_country_can_be_written_to() -> None:
    assert letter(["Hauptstr. 1", "10115  Berlin\x00"], "DE") == ContactPoint(
        channel="letter", value="Hauptstr. 1\n10115 Berlin", value_key="hauptstr. 1 10115 berlin de"
    )


def test_commas_part_an_address_that_stands_on_one_line() -> None:
    assert letter(["Quay Street 2, Port Aldmere"], "IE").value == "Quay Street 2\nPort Aldmere"
    assert letter(["شارع الميناء، القاهرة"], "EG").fault is None


@pytest.mark.parametrize(
    ("lines", "country", "fault"),
    [
        ([], "IE", "letter-empty"),
        ([" ", "\n"], None, "letter-empty"),
        (["Port Aldmere"], "IE", "letter-one-line"),
        (["Quay Street 2", "Port Aldmere"], None, "letter-country-unknown"),
    ],
)
def test_an_address_that_no_letter_reaches_says_why(
    lines: list[str], country: str | None, fault: str
) -> None:
    assert letter(lines, country).fault == fault
    assert FAULTS[fault]


@pytest.mark.property
@given(HOSTILE | st.builds("{}@{}".format, HOSTILE, HOSTILE))
def test_no_text_breaks_the_reader_and_what_is_usable_is_one_plain_address(text: str) -> None:
    point = email(text)

    assert point.fault in {None, *FAULTS}
    if point.fault is None:
        assert point.value.isascii()
        assert point.value.isprintable()
        assert not set(' <>,;:"()[]\\') & set(point.value)
        assert email(point.value) == point


@pytest.mark.property
@given(
    HOSTILE | st.from_regex(r"\+?[0-9 ()/.-]{3,20}", fullmatch=True),
    st.sampled_from(["DE", "GB", "US", "IT", None]),
)
def test_a_usable_number_is_e164_and_stays_itself(text: str, country: str | None) -> None:
    point = phone(text, country)

    assert point.fault in {None, *FAULTS}
    if point.fault is None:
        assert phone(point.value, None) == point
        assert tel_link(point.value).startswith("tel:+")
        assert phone(international(point.value), None) == point


@pytest.mark.property
@given(st.lists(HOSTILE, max_size=5))
def test_no_line_of_a_letter_is_empty(lines: list[str]) -> None:
    value = letter(lines, "DE").value

    assert not value or all(line.strip() for line in value.split("\n"))


@pytest.mark.parametrize(
    ("digits", "country", "value"),
    [
        ("1701234567", "DE", "+491701234567"),  # 0170 1234567
        ("491701234567", "DE", "+491701234567"),  # +49 170 1234567
        ("3023125172", "DE", "+493023125172"),  # 030 23125172
        ("493023125172", "DE", "+493023125172"),
        ("491701234567", "GB", "+491701234567"),  # another country's
        ("2079460018", "GB", "+442079460018"),
        ("442079460018", None, "+442079460018"),
    ],
)
def test_a_telephone_number_kept_as_a_number_is_the_one_it_was(
    digits: str, country: str | None, value: str
) -> None:
    found = phone_of_number(digits, country)

    assert (found.value, found.fault) == (value, None)


@pytest.mark.parametrize(
    ("digits", "country"), [("12", "DE"), ("1" * 15, "DE"), ("2079460018", None), ("0", "GB")]
)
def test_a_number_that_no_plan_has_stays_as_it_would_be_as_text(digits: str, country: str | None) -> None:
    assert phone_of_number(digits, country) == phone(digits, country)
