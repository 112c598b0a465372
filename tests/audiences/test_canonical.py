"""One spelling for every value that is digested."""

import pytest

from audiences import canonical


def test_keys_are_sorted_and_nothing_is_spaced_or_escaped() -> None:
    assert canonical.dump({"b": [1, True, None], "a": ("ü", {"z": "\u2066"})}) == (
        '{"a":["ü",{"z":"\u2066"}],"b":[1,true,null]}'
    )


@pytest.mark.parametrize("value", [1.5, b"bytes", {1, 2}, object()])
def test_what_has_two_spellings_is_refused(value: object) -> None:
    with pytest.raises(TypeError, match="canonical values are text, whole numbers"):
        canonical.dump({"value": value})


def test_the_digest_is_sha_256() -> None:
    # FIPS 180-4; the value is what the command sha256sum of GNU coreutils prints for the two octets [].
    assert canonical.digest([]) == "4f53cda18c2baa0c0354bb5f9a3ecbe5ed12ab4d8e11ba873c2f11161202b945"
