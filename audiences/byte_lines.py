"""The lines of a list's bytes, found without copying them: one field as large as the file costs no memory."""

import re
from array import array

LONGEST_LINE = 1_000_000  # bytes; ten thousand columns of a hundred
_LINE_END = re.compile(rb"\r\n|\r|\n")


class ByteLines:
    """Lines by their index from 0; the bytes stay where they are until a line is asked for."""

    def __init__(self, body: bytes) -> None:
        """Find where every line begins and ends."""
        self._body = body
        self._starts = array("Q", [0])
        self._ends = array("Q")
        for found in _LINE_END.finditer(body):
            self._ends.append(found.start())
            self._starts.append(found.end())
        self._ends.append(len(body))

    def __len__(self) -> int:
        return len(self._starts)

    def size(self, index: int) -> int:
        """Return how many bytes a line has."""
        return self._ends[index] - self._starts[index]

    def line(self, index: int) -> bytes:
        """Return a line, without its end."""
        return self._body[self._starts[index] : self._ends[index]]

    def joined(self, index: int, count: int) -> bytes | None:
        """Return several lines with plain line feeds between them, None where they are longer than a line may be."""
        if sum(self.size(each) for each in range(index, index + count)) > LONGEST_LINE:
            return None
        return b"\n".join(self.line(each) for each in range(index, index + count))
