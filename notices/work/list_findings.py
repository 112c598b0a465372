"""What there is to say of a list, kept whole where it is too much to be read on a screen."""

from collections.abc import Sequence
from dataclasses import dataclass

from audiences.alike import HEADINGS, as_rows, grouped
from audiences.findings import Finding
from audiences.guarding import csv_bytes
from notices.work.ports import World


@dataclass(frozen=True, kw_only=True, slots=True)
class Told:
    """Findings, those alike as one; *file* holds all of them, "" where none was left out."""

    findings: tuple[Finding, ...]
    file: str = ""


def told(world: World, name: str, findings: Sequence[Finding]) -> Told:
    """Return what is shown of a list's findings, and write all into ``out/findings/NAME.csv`` where that is less."""
    shown = tuple(grouped(findings))
    if len(shown) == len(set(findings)):
        return Told(findings=shown)
    file = f"out/findings/{name}.csv"
    world.folder.write(file, csv_bytes(HEADINGS, as_rows(findings)))
    return Told(findings=shown, file=file)
