"""A check reads as a list of what is to do, in the order in which an owner reads the notice."""

from audiences.findings import Finding
from notices.campaign.notice_order import in_notice_order


def a_finding(path: str, file: str = "campaign.yaml", line: int | None = None) -> Finding:
    return Finding(code="some-code", file=file, path=path, line=line, message="this")


def test_findings_follow_the_notice_from_its_subject_to_its_last_word() -> None:
    paths = (
        "", "subjects.stop", "warning_headline", "markets.EU.countries", "hazard.signal", "now.headline", "hazard.what",
        "product.name", "code.layout", "affected[0].week", "now.near", "now.steps.all", "before_remedy", "next_word",
        "remedies.repair", "ledger[2]", "contacts", "share", "issuer.email", "owners", "sale_stop.places",
    )  # fmt: skip
    found = in_notice_order([*map(a_finding, reversed(paths)), a_finding("hazard", "translations/de.po")])

    assert [(one.file, one.path) for one in found] == [
        *(("campaign.yaml", path) for path in paths),
        ("translations/de.po", "hazard"),
    ]


def test_findings_of_one_part_follow_the_lines_of_the_file() -> None:
    found = in_notice_order([a_finding("now.near", line=9), a_finding("now.steps", line=3)])

    assert [one.line for one in found] == [3, 9]


def test_a_key_that_only_begins_like_a_part_is_not_in_it() -> None:
    found = in_notice_order([a_finding("codes"), a_finding("codex.x"), a_finding("share")])

    assert [one.path for one in found] == ["share", "codes", "codex.x"]
