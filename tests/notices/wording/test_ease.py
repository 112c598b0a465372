"""The notice as a whole: what belongs to it, what is counted, and when it is too hard to read."""

from audiences.findings import Severity
from notices.wording.ease import eases, hard_notices
from notices.wording.passages import Reading
from tests.readings import reading
from tests.stove import a_stove

HARD = (
    "Discontinuation of utilisation constitutes an unconditional responsibility concerning every individual"
    " possessing apparatus incorporating defective pressurised valves manufactured externally."
)  # 18 words, nearly all of them long
HEAVY = f"""\
hazard:
  what: {HARD}
  who: {HARD} Stop now.
now:
  headline: {HARD}
ledger:
  - {{standing: known, text: {HARD}}}
  - {{standing: known, text: {HARD}}}
  - {{standing: known, text: {HARD}}}
"""


def test_a_whole_notice_is_counted_once_in_the_order_of_reading() -> None:
    (ease,) = eases(Reading(campaign=a_stove()))

    assert (ease.language, ease.scores[0].name, ease.missed) == ("en", "Flesch", ())
    assert ease.counts.words > 300
    assert ease.syllables == ease.counts.syllables > ease.counts.words


def test_labels_buttons_and_what_no_owner_of_a_warning_reads_are_left_out() -> None:
    warning = "now: {headline: Stop now., stopped_button: I have stopped}"
    short = reading(warning + "\nbefore_remedy: We work on it.\nuse: {question: Has it been lit?}\n")
    recall = reading(
        warning
        + "\nbefore_remedy: We work on it.\n"
        + "remedies: {back: {kind: refund, label: Money, all: {promise: You get your money.}}}\n"
    )

    assert [ease.counts.words for ease in eases(short)] == [2 + 4]
    assert [ease.counts.words for ease in eases(recall)] == [2 + 4]


def test_a_notice_too_hard_for_everybody_is_named_at_its_hardest_sentence() -> None:
    (found,) = hard_notices(reading(HEAVY))

    assert (found.code, found.severity, found.line, found.path) == (
        "notice-hard-to-read",
        Severity.CONSIDER,
        7,
        "now.headline",
    )
    assert found.message.startswith("the notice is hard to read in this language: Flesch -")
    assert "aimed at 65 or more; Flesch-Kincaid 3" in found.message
    assert "(110 words, 7 sentences, " in found.message
    assert found.message.endswith(
        "hardest: Discontinuation of utilisation constitutes an unconditional responsibility concerning …"
    )
    assert found.mend.endswith("here first, then hazard.what (line 4), then hazard.who (line 5)")


def test_a_short_notice_is_never_called_hard() -> None:
    short = reading(f"hazard: {{what: {HARD}}}\n")

    assert list(hard_notices(short)) == []
    assert [ease.scores for ease in eases(short)] == [()]


def test_a_disputed_formula_says_so_where_it_finds_a_notice_hard() -> None:
    french = " ".join(
        ["La désactivation inconditionnelle constitue une responsabilité individuelle fondamentale."] * 9
    )
    (found,) = hard_notices(reading(f"language: fr\nhazard: {{what: '{french}', who: '{french}'}}\n"))

    assert "Kandel-Moles" in found.message
    assert "(disputed: another source has 209" in found.message


def test_a_language_without_rules_for_syllables_has_its_other_counts() -> None:
    swedish = "Sluta använda köket genast. " * 10
    (ease,) = eases(reading(f"language: sv\nhazard: {{what: '{swedish}'}}\n"))

    assert ease.syllables is None
    assert [score.name for score in ease.scores] == ["LIX", "RIX"]
    assert ease.missed == ()


def test_a_hard_notice_without_syllables_tells_the_rest() -> None:
    swedish = "Användningsavbrottet förutsätter ovillkorligen myndighetsgodkännande. " * 30
    (found,) = hard_notices(reading(f"language: sv\nhazard: {{what: '{swedish}'}}\n"))

    assert "LIX 104.0, aimed at 40 or less" in found.message
    assert "(120 words, 30 sentences)" in found.message


def test_a_campaign_without_words_has_nothing_to_read() -> None:
    assert eases(reading("")) == ()


def test_a_place_without_a_line_is_named_by_its_path() -> None:
    campaign = reading(HEAVY).campaign
    (found,) = hard_notices(Reading(campaign=campaign))

    assert found.mend.endswith("here first, then hazard.what, then hazard.who")
