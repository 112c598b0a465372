"""A campaign file as a typed campaign, or every fault in it with its line."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from pydantic import ValidationError

from audiences.findings import Finding, in_reading_order
from notices.campaign import faults
from notices.campaign.models import Campaign
from notices.campaign.reading import Document, read
from notices.campaign.shape import lies_in, path_of

# Parts that say nothing to the reader of a stop warning: a fault in them never holds one back.
NOT_IN_A_STOP = (
    "affected",
    "answer_within",
    "cautions",
    "code",
    "confirm",
    "follow_up",
    "free",
    "meanwhile",
    "otherwise",
    "parts",
    "product.price",
    "reworked",
)


@dataclass(frozen=True, kw_only=True, slots=True)
class Loaded:
    """The campaign, None where the file has a fault; every fault; the line of every key by path ``a.b[2].c``.

    A stop warning stands in spite of faults in parts that it does not use: it is read as if they were absent.
    """

    campaign: Campaign | None
    findings: tuple[Finding, ...]
    lines: Mapping[str, int]


def load(text: str, file: str = "campaign.yaml") -> Loaded:
    """Read the text of a campaign file; all faults at once, but a file that is not YAML has only that one."""
    document = read(text, file)
    findings = list(document.findings)
    campaign = None
    if any(finding.code in _UNREADABLE for finding in findings):
        return Loaded(campaign=None, findings=tuple(in_reading_order(findings)), lines=document.lines)
    if not isinstance(document.value, dict):
        return Loaded(campaign=None, findings=(*findings, _no_parts(file)), lines=document.lines)
    try:
        campaign = Campaign.model_validate(document.value, by_alias=True, by_name=False)
    except ValidationError as error:
        findings.extend(_translated(error, document, file))
    return Loaded(
        campaign=_without(document.value, findings) if findings else campaign,
        findings=tuple(in_reading_order(findings)),
        lines=document.lines,
    )


def is_aside(path: str) -> bool:
    """Say whether *path* lies in a part that a stop warning does not use."""
    return lies_in(path, *NOT_IN_A_STOP)


def _without(value: dict[str, object], findings: Sequence[Finding]) -> Campaign | None:
    """Read a stop warning without the faulty parts that it does not use; None where a fault lies elsewhere."""
    if "remedies" in value or not all(is_aside(finding.path) for finding in findings):
        return None
    faulty = {part for part in NOT_IN_A_STOP if any(lies_in(finding.path, part) for finding in findings)}
    kept = {key: part for key, part in value.items() if key not in faulty}
    product = kept.get("product")
    if "product.price" in faulty and isinstance(product, dict):
        kept["product"] = {key: part for key, part in product.items() if key != "price"}
    return Campaign.model_validate(kept, by_alias=True, by_name=False)


# Behind these nothing was read, so that every key would seem to be missing.
_UNREADABLE = frozenset({"yaml-sign", "yaml-syntax", "yaml-escape", "yaml-too-deep", "campaign-too-large"})


def _no_parts(file: str) -> Finding:
    return Finding(
        code="campaign-without-parts",
        file=file,
        line=1,
        message="the file holds no keys: a campaign is written as key: value",
        mend="begin with issuer: and product:, as in a new folder",
    )


def _translated(error: ValidationError, document: Document, file: str) -> list[Finding]:
    """Put every error in our words; where reading has found a fault already, that is enough."""
    known = {finding.path for finding in document.findings}
    found: list[Finding] = []
    for details in error.errors(include_url=False):
        path = path_of(details["loc"])
        if path not in known:
            written = document.written.get(path)
            found.append(faults.finding(details, document.lines, written, file))
    return found
