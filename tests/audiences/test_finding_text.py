"""A finding as a person reads it, and all of them at once."""

from dataclasses import replace

from audiences.findings import Finding, InvalidInputError, Severity, must_mend

_PLAIN = Finding(
    code="list-empty", file="lists/b.csv", message="the list is empty", severity=Severity.CONSIDER
)
_WHOLE = Finding(
    code="translation-missing",
    file="translations/pl.po",
    line=88,
    path="remedies.unridden.steps",
    message="1 204 owners read Polish, but this is not written in it",
    mend="translate it, or name a fall-back for pl under languages",
)


def test_a_finding_names_its_place_its_weight_and_its_mend() -> None:
    assert str(_WHOLE) == (
        "translations/pl.po:88: must mend [translation-missing] remedies.unridden.steps: "
        "1 204 owners read Polish, but this is not written in it\n"
        "    mend: translate it, or name a fall-back for pl under languages"
    )


def test_a_finding_without_line_path_or_mend_leaves_them_out() -> None:
    assert str(_PLAIN) == "lists/b.csv: consider [list-empty] the list is empty"


def test_a_finding_says_below_its_mend_which_source_says_so() -> None:
    finding = replace(_PLAIN, mend="fill it", source="RFC 4180")

    assert finding.lines == (str(_PLAIN), "    mend: fill it", "    source: RFC 4180")


def test_all_findings_are_raised_at_once_in_reading_order() -> None:
    fault = InvalidInputError([_WHOLE, _PLAIN])

    assert fault.findings == [_PLAIN, _WHOLE]
    assert str(fault) == f"{_PLAIN}\n{_WHOLE}"


def test_only_what_must_be_mended_holds_back() -> None:
    assert must_mend([_PLAIN, _WHOLE]) == [_WHOLE]
