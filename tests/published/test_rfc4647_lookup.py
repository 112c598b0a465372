"""RFC 4647, "Matching of Language Tags", section 3.4 (lookup): the examples printed there, copied from memory."""

from notices.wording.languages import choose, fallbacks


def test_section_3_4_example_of_a_fallback_pattern() -> None:
    """Hold figure "Example of a Lookup Fallback Pattern"."""
    expected = [
        "zh-Hant-CN-x-private1-private2",
        "zh-Hant-CN-x-private1",
        "zh-Hant-CN",
        "zh-Hant",
        "zh",
    ]

    assert list(fallbacks("zh-Hant-CN-x-private1-private2")) == expected


def test_section_3_4_1_a_list_of_ranges_is_searched_one_range_after_the_other() -> None:
    """Hold the order of section 3.4.1: fr-FR, fr, zh-Hant, zh, then the default's own, then the default."""
    written = ["fr-FR", "fr", "zh-Hant", "zh", "ja-JP"]
    found = []
    while written:
        best = choose(["fr-FR", "zh-Hant"], written, default="ja-JP")
        found.append(best)
        written.remove(best)

    assert found == ["fr-FR", "fr", "zh-Hant", "zh", "ja-JP"]


def test_section_2_1_tags_are_compared_without_regard_to_case() -> None:
    assert choose(["DE-at"], ["en", "de"], default="en") == "de"


def test_section_3_4_a_range_is_never_lengthened() -> None:
    """Lookup takes the longest tag that is a prefix of the range: de is not served by de-DE."""
    assert choose(["de"], ["de-DE", "en"], default="en") == "en"
