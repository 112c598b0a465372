"""GS1 element strings and GS1 Digital Link addresses: GS1 General Specifications and Digital Link URI Syntax."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from audiences.codes import Layout, Parsed, Part, Unreadable, code_key, fold, read, slips
from audiences.gs1 import bracketed, elements
from audiences.printing import printed

ADDRESS = "https://id.example.com/01/09506000134352/10/ABC123/21/12345?17=271231"
FOUND = {"01": "09506000134352", "10": "ABC123", "17": "271231", "21": "12345"}


@pytest.mark.parametrize(
    "code",
    [
        ADDRESS,  # GS1's own example of an address, GTIN and host
        ADDRESS.replace("https://", "HTTP://www."),
        "(01)09506000134352(10)ABC123(17)271231(21)12345",
        "(01) 09506000134352 (17) 271231 (10) abc-123 (21) 12345",
        "010950600013435217271231" + "10ABC123\x1d2112345",
        "]d2010950600013435210ABC123\x1d17271231" + "2112345",
        "\x1d010950600013435210ABC123\x1d17271231" + "2112345\x1d",
    ],
)
def test_one_code_in_each_of_its_forms_has_the_same_elements(code: str) -> None:
    assert elements(code) == FOUND
    assert code_key(code) == bracketed(FOUND) == "(01)09506000134352(10)ABC123(17)271231(21)12345"


@pytest.mark.parametrize("code", ["QM-2501-B0172", "(21)0117", "(01)09506000134353(21)1", "01", ""])
def test_what_names_no_gtin_is_compared_folded(code: str) -> None:
    assert code_key(code) == fold(code)


def test_a_published_string_of_a_scanner_is_taken_apart() -> None:
    """Hold the elements of a decoder's own example, shortened to those that are known here."""
    code = "]d201088063882696171123021410" + "10230214A3263-01\x1d21059\x1d"

    assert elements(code) == {
        "01": "08806388269617",
        "10": "10230214A326301",
        "11": "230214",
        "21": "059",
    }


@pytest.mark.parametrize(
    "code",
    [
        "",
        "QM-2534-B0172",
        "(01)09506000134353(21)1",  # the check digit does not fit
        "(01)0950600013435(21)1",  # 13 digits whose last one does not fit
        "(01)0950600013435X(21)1",
        "(01)09506000134352(21)",
        "(21)1(21)2",
        "(17)27123",
        "(21)" + "1" * 21,
        "(99)1",
        "()",
        "x(01)09506000134352",
        "9912345",
        "0109506000134352" * 2,
        "https://id.example.com/01/09506000134353/21/1",
        "https://id.example.com/01/09506000134352/21/1/21/2",
        "https://id.example.com/01/",
    ],
)
def test_what_is_no_gs1_code_has_no_elements(code: str) -> None:
    assert elements(code) is None


def test_a_shorter_gtin_in_an_address_is_filled_up_and_signs_are_decoded() -> None:
    assert elements("https://example.com/some/path/01/9506000134352/21/A%2FB") == {
        "01": "09506000134352",
        "21": "A/B",
    }


LAYOUT = Layout(
    parts=(
        Part(kind="choice", name="gtin", choices=("09506000134352",), element="01"),
        Part(kind="year", name="year", element="11"),
        Part(kind="month", name="month", element="11"),
        Part(kind="digits", name="rest", size=2, element="11"),
        Part(kind="text", text="A", element="21"),
        Part(kind="digits", name="number", size=4, element="21"),
    )
)


def test_a_layout_reads_fields_inside_the_elements_and_slips_stay_inside_too() -> None:
    code = "https://example.com/01/09506000134352/21/A0172?11=250300"
    reading = read(LAYOUT, code)

    assert isinstance(reading, Parsed)
    assert reading.code_key == "(01)09506000134352(11)250300(21)A0172"
    assert reading.fields == {"gtin": "09506000134352", "year": 2025, "month": 3, "rest": 0, "number": 172}
    assert printed(LAYOUT.parts, reading.fields) == "(01)09506000134352(11)250300(21)A0172"
    assert "(01)09506000134352(11)250300(21)A0712" in set(slips(LAYOUT, reading.code_key))


@pytest.mark.parametrize(
    ("code", "why"),
    [
        ("A0172", "not-gs1"),
        ("(01)09506000134352(21)A0172", "wrong-shape"),
        ("(01)04006381333931(11)250300(21)A0172", "wrong-shape"),
        ("(01)09506000134352(11)251300(21)A0172", "no-such-month"),
        ("(01)09506000134353(11)250300(21)A0172", "not-gs1"),
    ],
)
def test_another_product_or_a_missing_element_is_unreadable_and_never_foreign(code: str, why: str) -> None:
    reading = read(LAYOUT, code)

    assert isinstance(reading, Unreadable)
    assert (reading.why, reading.foreign) == (why, False)


def test_a_whole_element_is_a_field() -> None:
    layout = Layout(parts=(Part(kind="whole", name="serial", element="21"),))
    reading = read(layout, ADDRESS)

    assert isinstance(reading, Parsed)
    assert reading.fields == {"serial": "12345"}


@pytest.mark.property
@given(st.text("(01)2/:?=%&AZ\x1d]d ", max_size=60) | st.text(max_size=60))
def test_no_text_whatever_breaks_the_taking_apart(text: str) -> None:
    found = elements(text)

    assert found is None or elements(bracketed(found)) == found or "(" in "".join(found.values())
