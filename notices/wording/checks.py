"""Whether what owners read says what it must, in words that they understand: one function a question."""

from collections.abc import Callable, Iterator

from audiences.findings import Finding, in_reading_order
from notices.wording import (
    asking,
    ease,
    expression_checks,
    headline_checks,
    law_checks,
    opening_checks,
    part_names,
    remedy_rules,
    sentence_checks,
    step_checks,
    voice,
)
from notices.wording.passages import Reading

Check = Callable[[Reading], Iterator[Finding]]

WORDING_CHECKS: tuple[Check, ...] = (
    expression_checks.forbidden,
    expression_checks.selling,
    expression_checks.familiar,
    asking.data_asked,
    sentence_checks.long_sentences,
    sentence_checks.long_texts,
    sentence_checks.dates_in_figures,
    step_checks.too_many_steps,
    step_checks.several_instructions,
    step_checks.begins_otherwise,
    voice.without_actor,
    opening_checks.late_hazards,
    opening_checks.unnamed_persons,
    ease.hard_notices,
    law_checks.missing_elements,
    headline_checks.headlines,
    remedy_rules.single_remedy,
    remedy_rules.owner_repair,
    remedy_rules.said,
    remedy_rules.unlicensed,
    part_names.alike,
    part_names.missing_from_steps,
    part_names.named_otherwise,
)


def check(reading: Reading) -> tuple[Finding, ...]:
    """Return every finding of every check of the words, in the order of the files."""
    return tuple(in_reading_order(finding for one in WORDING_CHECKS for finding in one(reading)))
