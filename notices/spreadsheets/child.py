"""The process that reads one workbook: a line of JSON and the bytes in, the sheet as JSON out."""

import dataclasses
import json
import sys

from audiences.workbooks import Sheet, read_sheet

MOST_MEMORY = 4 << 30  # bytes of address space; a sheet of 20 million cells fits
MOST_SECONDS = 120


def main() -> None:
    """Read the request at the input and write the sheet to the output."""
    _bounded()
    request = json.loads(sys.stdin.buffer.readline())
    sheet = read_sheet(sys.stdin.buffer.read(), str(request["sheet"]))
    sys.stdout.write(as_json(sheet))


def _bounded() -> None:
    try:
        import resource  # noqa: PLC0415 - only POSIX has it
    except ImportError:
        return
    resource.setrlimit(resource.RLIMIT_CPU, (MOST_SECONDS, MOST_SECONDS))
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
    if sys.platform == "linux":  # elsewhere the limit is not kept, or refused
        resource.setrlimit(resource.RLIMIT_AS, (MOST_MEMORY, MOST_MEMORY))


def as_json(sheet: Sheet) -> str:
    """Return a sheet as JSON that `reading` reads back."""
    return json.dumps(
        {
            "name": sheet.name,
            "others": sheet.others,
            "refused": sheet.refused,
            "merged": sheet.merged,
            "marks": dataclasses.asdict(sheet.marks),
            "rows": [(row.number, row.cells, row.stored) for row in sheet.rows],
        }
    )
