"""What a check looks at, and how it says where it found something."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TypedDict

from audiences.code_lists import CodeList
from notices.campaign.models import Campaign

FILE = "campaign.yaml"


class Where(TypedDict):
    """The place of a finding."""

    file: str
    line: int | None
    path: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Look:
    """A campaign, the line of each of its keys, and the pictures and lists of codes that its folder holds, by name."""

    campaign: Campaign
    lines: Mapping[str, int] = field(default_factory=dict)
    pictures: Mapping[str, bytes] = field(default_factory=dict)
    lists: Mapping[str, CodeList] = field(default_factory=dict)

    def at(self, path: str) -> Where:
        """Return the place of a path; its line is that of the nearest part that stands in the file."""
        return Where(file=FILE, line=line_of(path, self.lines), path=path)


def line_of(path: str, lines: Mapping[str, int]) -> int | None:
    """Return the line of the part at *path*, or of the nearest one around it; None where none is there."""
    while path:
        if path in lines:
            return lines[path]
        path = path[: max(path.rfind("."), path.rfind("["), 0)]
    return None
