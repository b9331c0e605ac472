"""Any CSV file as lines of cells: whatever its letters, its separators and its line ends are."""

from __future__ import annotations

import codecs
import csv
import io
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from itertools import islice
from pathlib import Path

from core.errors import BadInput

SEPARATORS = ",;\t|"
LARGEST = 64 << 20
_LOOKED_AT = 60
_WORKBOOK = b"PK\x03\x04"
_BOMS = (
    (codecs.BOM_UTF8, "utf-8"),
    (codecs.BOM_UTF16_LE, "utf-16-le"),
    (codecs.BOM_UTF16_BE, "utf-16-be"),
)
_ANY_LENGTH = 2**31 - 1


@dataclass(frozen=True)
class Line:
    """One record of the file.

    Attributes
    ----------
    number : int
        The line of the file on which it begins, from 1.
    wrong : str
        Why it can not be read, in words; "" when it can.
    """

    number: int
    cells: tuple[str, ...]
    wrong: str = ""


@dataclass(frozen=True)
class CsvFile:
    """A file that was read."""

    header: tuple[str, ...]
    lines: tuple[Line, ...]
    separator: str
    encoding: str

    def column(self, at: int) -> str:
        """Return what a column is called: its heading, or its place when it has none."""
        return self.header[at] or f"column {at + 1}"


def read(path: Path) -> CsvFile:
    """Read a file.

    Raises
    ------
    BadInput
        When it can not be read, is too large, is a workbook, or has no lines.
    """
    try:
        if path.stat().st_size > LARGEST:
            raise BadInput(f"{path.name} is too large.", "Take in at most 64 MB at a time.")
        return parse(path.read_bytes())
    except OSError as error:
        raise BadInput(
            f"{path} can not be read: {error.strerror}.", "Type for example ~/clients.csv."
        ) from error


def parse(data: bytes) -> CsvFile:
    """Return the lines of a file's bytes; see `read`."""
    if data.startswith(_WORKBOOK):
        raise BadInput("This is a workbook and not a CSV file.", "Save the sheet as CSV first.")
    text, encoding, cut = _decoded(data)
    said, text, skipped = _said_separator(text)
    separator = said or _separator(text)
    records = _records(text, separator)
    header = next(records, None)
    if header is None:
        raise BadInput("There are no lines in this file.", "Its first line names the columns.")
    names = tuple(" ".join(name.split()) for name in header[1])
    while names and not names[-1]:
        names = names[:-1]
    lines = [_line(number + skipped, cells, names) for number, cells in records]
    if lines and (why := _unfinished(text, lines[-1], len(names), separator, skipped, cut)):
        lines[-1] = Line(lines[-1].number, lines[-1].cells, why)
    return CsvFile(names, tuple(lines), separator, encoding)


def _decoded(data: bytes) -> tuple[str, str, bool]:
    """Return the text, how it was read, and whether its last letter is cut in two.

    UTF-8 is told from the older encoding for certain, since hardly any other text is valid
    UTF-8; which of the older ones it was can only be guessed, and the person sees the names.
    """
    for bom, encoding in _BOMS:
        if data.startswith(bom):
            body = data[len(bom) :]
            return body.decode(encoding, "replace"), encoding, _cut(body, encoding)
    cut = _cut(data, "utf-8")
    try:
        text = data[: _whole(data)].decode("utf-8") if cut else data.decode("utf-8")
    except UnicodeDecodeError:
        return data.decode("cp1252", "replace"), "cp1252", False
    return text, "utf-8", cut


def _cut(data: bytes, encoding: str) -> bool:
    """Whether the last letter is not whole."""
    decoder = codecs.getincrementaldecoder(encoding)("ignore")
    decoder.decode(data)
    return bool(decoder.getstate()[0])


def _whole(data: bytes) -> int:
    decoder = codecs.getincrementaldecoder("utf-8")("ignore")
    decoder.decode(data)
    return len(data) - len(decoder.getstate()[0])


def _said_separator(text: str) -> tuple[str, str, int]:
    """Return the separator that a first line ``sep=;`` says, the rest, and the lines skipped."""
    first, _, rest = text.partition("\n")
    bare = first.strip().strip('"')
    if bare.lower().startswith("sep=") and len(bare) == 5:
        return bare[4], rest, 1
    return "", text, 0


@contextmanager
def _long_fields() -> Iterator[None]:
    """A long field is a fault of one line, not the end of the file."""
    usual = csv.field_size_limit(_ANY_LENGTH)
    try:
        yield
    finally:
        csv.field_size_limit(usual)


def _records(text: str, separator: str) -> Iterator[tuple[int, list[str]]]:
    """Give each record that is not blank, with the line on which it begins."""
    with _long_fields():
        reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator)
        begins = 1
        for cells in reader:
            if any(cell.strip() for cell in cells):
                yield begins, cells
            begins = reader.line_num + 1


def _separator(text: str) -> str:
    """Return the separator that gives most lines as many cells as the first one has.

    The standard library's sniffer takes a letter, or gives up, for a file of one column.
    """

    def fits(separator: str) -> tuple[int, int]:
        counts = [len(cells) for _, cells in islice(_records(text, separator), _LOOKED_AT)]
        many = counts[0] if counts else 1
        return (sum(count == many for count in counts), many) if many > 1 else (0, 0)

    return max(SEPARATORS, key=fits)


def _line(number: int, cells: list[str], header: tuple[str, ...]) -> Line:
    more = [cell for cell in cells[len(header) :] if cell.strip()]
    wrong = ""
    if more:
        wrong = (
            f"it has {len(cells)} cells and the first line names {len(header)}: a text with a "
            'separator in it needs quotation marks, as "12 Mill Bank, Reedmark"'
        )
    padded = (*cells, *("" for _ in header[len(cells) :]))
    return Line(number, padded, wrong)


def _unfinished(
    text: str, last: Line, columns: int, separator: str, skipped: int, cut: bool
) -> str:
    """Return why the last record is not whole, or "" when it is."""
    lines = list(io.StringIO(text, newline=""))[last.number - skipped - 1 :]
    try:
        with _long_fields():
            found = [
                cells for cells in csv.reader(lines, delimiter=separator, strict=True) if cells
            ]
    except csv.Error as error:
        if "unexpected end" in str(error):
            return "a quotation mark is opened on it and never closed; nothing after it was read"
        return ""
    ended = text.endswith(("\n", "\r"))
    if cut or (not ended and found and len(found[-1]) < columns):
        return "it is the last one and is cut off; copy the file again, or write the line whole"
    return ""
