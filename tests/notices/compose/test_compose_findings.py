"""What composing has to say, each with the line in campaign.yaml."""

import pytest

from audiences.findings import Severity
from audiences.verdicts import Verdict
from notices.campaign.loading import load
from notices.compose.bulletin import bulletin_findings
from notices.compose.mail import compose_mail
from notices.compose.variants import VariantKey
from tests.composing import FOLDER, PICTURES, STOVE, TEMPLATES, catalogue, key

YAML = (FOLDER / "campaign-1.yaml").read_text("utf-8")


def remarks(
    text: str, pictures: dict[str, bytes] | None = None, variant: VariantKey | None = None
) -> list[str]:
    """Compose the campaign of a file and print what there is to say."""
    loaded = load(text)
    assert loaded.campaign is not None, loaded.findings
    found = compose_mail(
        loaded.campaign,
        variant or key(),
        catalogue("en"),
        TEMPLATES,
        PICTURES if pictures is None else pictures,
        lines=loaded.lines,
    )
    return [str(finding).partition("\n")[0] for finding in found.findings]


def line_of(text: str, key_in_file: str) -> int:
    """Return the line on which a key stands."""
    return next(number for number, line in enumerate(text.splitlines(), start=1) if key_in_file in line)


@pytest.mark.parametrize(
    ("placeholder", "code"),
    [
        ("%(nam)s", "notice-placeholder-unknown"),
        ("%(units)s", "notice-placeholder-misplaced"),
    ],
)
def test_a_placeholder_that_no_owner_may_see_is_named_with_its_line(placeholder: str, code: str) -> None:
    text = YAML.replace("headline: Stop riding", f"headline: Now {placeholder} stop riding")
    line = line_of(text, placeholder)
    found = remarks(text)

    assert len(found) == 1
    assert found[0].startswith(f"campaign.yaml:{line}: must mend [{code}] now.headline: {placeholder} ")


def test_a_placeholder_without_a_value_is_named_with_its_source() -> None:
    text = YAML.replace("  bulletin: aldmere.example/steering-link\n", "")
    line = line_of(text, "no_longer:")

    assert remarks(text) == [
        (
            f"campaign.yaml:{line}: must mend [notice-placeholder-empty] no_longer: "
            "%(bulletin)s has no value: it comes from issuer.bulletin"
        )
    ]


def test_a_placeholder_in_a_text_that_the_notice_does_not_use_holds_nothing_back() -> None:
    text = YAML.replace("title: Is the new link", 'title: "%(nope)s Is the new link').replace(
        "fitted, and who did it?\n", 'fitted, and who did it?"\n', 1
    )

    assert remarks(text) == []


def test_a_sentence_with_a_telephone_is_remarked_where_some_countries_have_none() -> None:
    text = YAML.replace("free: You pay nothing", 'free: "Call %(phone)s. You pay nothing').replace(
        "transport or post.", 'transport or post."', 1
    )
    line = line_of(text, "%(phone)s")

    assert remarks(text) == [
        (
            f"campaign.yaml:{line}: consider [notice-phone-not-everywhere] free: %(phone)s stands here; owners in a "
            "country without a telephone read the mail address"
        )
    ]


def test_pictures_that_cannot_be_shown_are_left_out_and_hold_nothing_back() -> None:
    line = line_of(YAML, "file: pictures/drayling.png")
    found = remarks(YAML, {"pictures/drayling.png": b"<svg/>"})

    assert found == [
        (
            f"campaign.yaml:{line}: consider [notice-picture-left-out] product.pictures[0].file: "
            "pictures/drayling.png is not a PNG, JPEG or GIF; the notice goes without it"
        ),
        (
            f"campaign.yaml:{line + 1}: consider [notice-picture-left-out] product.pictures[1].file: "
            "pictures/head-tube.png is not in the folder; the notice goes without it"
        ),
    ]


def test_heavy_pictures_are_remarked() -> None:
    big = {name: data + b"\0" * 600_000 for name, data in PICTURES.items()}
    line = line_of(YAML, "pictures:")
    found = remarks(YAML, big)

    assert len(found) == 1
    assert found[0].startswith(f"campaign.yaml:{line}: consider [notice-pictures-heavy] product.pictures: ")


@pytest.mark.parametrize(
    ("facts", "remark"),
    [
        (70, "campaign.yaml:1: consider [notice-long] the mail has "),
        (100, "campaign.yaml:1: must mend [notice-cut-off] the mail has "),
    ],
)
def test_a_mail_that_would_be_cut_is_remarked(facts: int, remark: str) -> None:
    """About 102 kB of HTML, measured by others; common practice, no source."""
    more = "".join(
        f"  - {{day: 2026-03-01, standing: known, text: {'A fact, ' * 100}{number}.}}\n".replace(
            ", text: A", ', text: "A'
        ).replace(f"{number}.}}", f'{number}."}}')
        for number in range(facts)
    )
    found = remarks(YAML.replace("ledger:", "ledger:\n" + more + "#", 1))

    assert len(found) == 1
    assert found[0].startswith(remark)


def test_the_public_page_names_its_placeholders_too() -> None:
    text = YAML.replace("headline: Stop riding", 'headline: "%(link)s" #')
    loaded = load(text)
    assert loaded.campaign is not None, loaded.findings
    line = line_of(text, "%(link)s")
    found = bulletin_findings(loaded.campaign, catalogue("en"), lines=loaded.lines)

    assert [(one.code, one.line, one.severity) for one in found] == [
        ("notice-placeholder-empty", line, Severity.MUST_MEND)
    ]


def test_a_campaign_that_lacks_almost_everything_still_warns() -> None:
    bare = "issuer: {name: A, email: a@a.example}\nproduct: {name: B}\nnow: {headline: Stop.}\n"

    for verdict in Verdict:
        assert remarks(bare, {}, key("stop", verdict, market="")) == []


def test_the_stove_of_the_other_tests_has_nothing_to_mend() -> None:
    assert remarks(STOVE, {}) == []
