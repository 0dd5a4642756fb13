"""A catalogue as tables: a CSV file (RFC 4180) for each kind of record, together in a ZIP archive."""

import csv
import io
import zipfile
from collections.abc import Callable, Iterable, Mapping

import msgspec

from filmbuild.catalogue.cells import (
    CellError,
    Json,
    columns_of,
    meaning,
    record_of,
    row_of,
    tokens_of,
)
from filmbuild.catalogue.store import KINDS
from filmbuild.errors import Fault, Faults, InvalidInput, PayloadTooLarge, pointer
from filmbuild.pipeline.specification import PackPrice, Record

TABLES: Mapping[str, type[Record]] = {
    **{kind.name: kind.record for kind in KINDS},
    "prices": PackPrice,
}
LARGEST_ARCHIVE_BYTES = 64 << 20
LARGEST_TABLES_BYTES = 256 << 20
MOST_COLUMNS = 5_000
_FIRST_ROW = 2
_MOMENT = (1980, 1, 1, 0, 0, 0)


class Tables(msgspec.Struct, frozen=True):
    """What was read: records by kind, and the row of the file that each stood in."""

    records: dict[str, list[Json]]
    rows: dict[str, list[int]]

    def located(self, fault: Fault) -> Fault:
        """A fault of the document that the tables stand for, at its row and column."""
        _, kind, index, *rest = (*fault.pointer.split("/"), "", "")
        if kind not in self.rows or not index:
            return fault
        row = self.rows[kind][int(index)]
        column = "".join(f"/{token}" for token in rest[:-2])
        return _fault(kind, row, column, fault.code, fault.detail)


def write_table(records: Iterable[Json]) -> bytes:
    """The first row has the names of the columns."""
    rows = list(records)
    columns = columns_of(rows)
    text = io.StringIO(newline="")
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow(columns)
    writer.writerows(row_of(one, columns) for one in rows)
    return text.getvalue().encode()


def write_archive(tables: Mapping[str, Iterable[Json]]) -> bytes:
    """The same tables make the same bytes."""
    archive = io.BytesIO()
    with zipfile.ZipFile(archive, "w", zipfile.ZIP_DEFLATED) as file:
        for kind, records in tables.items():
            entry = zipfile.ZipInfo(f"{kind}.csv", _MOMENT)
            entry.compress_type = zipfile.ZIP_DEFLATED
            file.writestr(entry, write_table(records))
    return archive.getvalue()


def read_archive(content: bytes) -> Tables:
    """Raises `InvalidInput` with every fault of form, and `PayloadTooLarge`."""
    try:
        with zipfile.ZipFile(io.BytesIO(content)) as archive:
            return read_tables(_unpacked(archive))
    except (zipfile.BadZipFile, NotImplementedError, RuntimeError, EOFError, OSError) as error:
        detail = f"not a ZIP archive that can be read here: {error}"
        raise InvalidInput(
            "The tables cannot be read.", (Fault("", "not-an-archive", detail),)
        ) from error


def read_tables(files: Mapping[str, bytes]) -> Tables:
    """By kind, the content of its file. Raises `InvalidInput`."""
    faults = Faults()
    records: dict[str, list[Json]] = {}
    rows: dict[str, list[int]] = {}
    for kind, content in files.items():
        records[kind], rows[kind] = _read_table(kind, content, faults)
    faults.raise_if_any("The tables cannot be read.")
    return Tables(records, rows)


def _unpacked(archive: zipfile.ZipFile) -> dict[str, bytes]:
    faults, files, size = Faults(), dict[str, bytes](), 0
    for entry in archive.infolist():
        kind = entry.filename.removesuffix(".csv")
        if kind not in TABLES or kind in files:
            listed = ", ".join(f"{one}.csv" for one in TABLES)
            faults.add("unknown-table", f"accepted, each once: {listed}", entry.filename)
            continue
        with archive.open(entry) as file:
            files[kind] = file.read(LARGEST_TABLES_BYTES - size + 1)
        size += len(files[kind])
        if size > LARGEST_TABLES_BYTES:
            raise PayloadTooLarge(f"Send tables of at most {LARGEST_TABLES_BYTES} bytes unpacked.")
    faults.raise_if_any("The tables cannot be read.")
    return files


def _read_table(kind: str, content: bytes, faults: Faults) -> tuple[list[Json], list[int]]:
    records: list[Json] = []
    rows: list[int] = []
    add = _adder(kind, faults)
    try:
        lines = csv.reader(io.StringIO(content.decode("utf-8-sig"), newline=""), strict=True)
        columns = next(lines, [])
        known = _check_columns(TABLES[kind], columns, add)
        for row, cells in enumerate(lines if known else (), _FIRST_ROW):
            if not any(cells):
                continue
            if len(cells) > len(columns):
                add(row, "", "too-many-cells", f"the first row names {len(columns)} columns")
                continue
            try:
                records.append(record_of(TABLES[kind], columns, cells))
                rows.append(row)
            except CellError as error:
                add(row, error.column, error.code, error.detail)
    except UnicodeDecodeError as error:
        faults.add("not-text", f"not UTF-8 text at byte {error.start}", f"{kind}.csv")
    except csv.Error as error:
        faults.add("not-a-table", f"line {lines.line_num}: {error}", f"{kind}.csv")
    return records, rows


Add = Callable[[int, str, str, str], None]


def _adder(kind: str, faults: Faults) -> Add:
    def add(row: int, column: str, code: str, detail: str) -> None:
        faults.append(_fault(kind, row, column, code, detail))

    return add


def _check_columns(kind: type[Record], columns: list[str], add: Add) -> bool:
    if len(columns) > MOST_COLUMNS:
        add(1, "", "too-many-columns", f"at most {MOST_COLUMNS} columns are read")
        return False
    sound, seen = True, set[str]()
    for column in columns:
        if column in seen:
            add(1, column, "duplicate", "another column has this name")
            sound = False
        elif meaning(kind, column) is None:
            detail = (
                "accepted: a JSON Pointer to a member of the record, such as /id or /parts/0/name"
            )
            add(1, column if tokens_of(column) else f"/{column}", "unknown-column", detail)
            sound = False
        seen.add(column)
    return sound


def _fault(kind: str, row: int, column: str, code: str, detail: str) -> Fault:
    """The pointer is of the file, the row with its titles as the first, and the column's name."""
    tokens = (f"{kind}.csv", row, column) if column else (f"{kind}.csv", row)
    where = f"row {row}, column {column}" if column else f"row {row}"
    return Fault(pointer(tokens), code, f"{where}: {detail}")
