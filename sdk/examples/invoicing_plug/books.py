"""What must not be lost, in one SQLite file: messages, quotations to bill, and a demo ledger."""

import sqlite3
from collections.abc import Iterator, Sequence
from contextlib import closing, contextmanager
from pathlib import Path
from typing import NamedTuple

WAIT_SECONDS = 30.0
_TABLES = """
create table if not exists events (
    id text primary key,
    quotation text not null,
    handled integer not null default 0 check (handled in (0, 1))
) strict;
create table if not exists quotations (
    id text primary key,
    asked integer not null default 1,
    settled integer not null default 0
) strict;
create table if not exists postings (
    entry text not null,
    position integer not null,
    account text not null,
    debit integer not null check (debit >= 0),
    credit integer not null check (credit >= 0),
    primary key (entry, position),
    check ((debit = 0) <> (credit = 0))
) strict;
create table if not exists entries (
    id text primary key,
    number text not null unique,
    booked_on text not null,
    currency text not null,
    digits integer not null,
    customer text not null
) strict;
create trigger if not exists debits_equal_credits before insert on entries
when (select coalesce(sum(debit) - sum(credit), 0) from postings where entry = new.id) <> 0
begin
    select raise(abort, 'debits and credits differ');
end;
"""


class Posting(NamedTuple):
    """One line of an entry, in minor units (cents): either side, never both."""

    account: str
    debit: int
    credit: int


class Entry(NamedTuple):
    """What one invoice does to the ledger. `digits` says how many of its sums are decimals."""

    invoice: str
    number: str
    booked_on: str
    currency: str
    digits: int
    customer: str
    postings: Sequence[Posting]


class Books:
    """Every method is one transaction on a connection of its own: any thread may call it."""

    def __init__(self, path: Path) -> None:
        self._path = path
        with closing(sqlite3.connect(path, timeout=WAIT_SECONDS)) as connection:
            connection.execute("pragma journal_mode = wal")
            connection.executescript(_TABLES)

    def keep_event(self, event: str, quotation: str) -> None:
        """Once: a message that comes again is known by its webhook-id."""
        with self._writing() as connection:
            connection.execute(
                "insert or ignore into events (id, quotation) values (?, ?)", (event, quotation)
            )

    def open_events(self) -> list[tuple[str, str]]:
        """Ids of messages, and of the quotations that they name."""
        with self._writing() as connection:
            return connection.execute(
                "select id, quotation from events where not handled order by rowid"
            ).fetchall()

    def bill(self, event: str, quotation: str | None) -> None:
        """The message is handled. A quotation that was settled has something to bill again."""
        with self._writing() as connection:
            if quotation is not None:
                connection.execute(
                    "insert into quotations (id) values (?)"
                    " on conflict (id) do update set asked = asked + 1",
                    (quotation,),
                )
            connection.execute("update events set handled = 1 where id = ?", (event,))

    def open_quotations(self) -> list[tuple[str, int]]:
        """Each with how often it was asked for."""
        with self._writing() as connection:
            return connection.execute(
                "select id, asked from quotations where settled < asked order by rowid"
            ).fetchall()

    def settle(self, quotation: str, asked: int) -> None:
        """All stages are booked that there were when it had been asked for so often."""
        with self._writing() as connection:
            connection.execute(
                "update quotations set settled = max(settled, ?) where id = ?", (asked, quotation)
            )

    def is_booked(self, invoice: str) -> bool:
        with self._writing() as connection:
            found = connection.execute("select 1 from entries where id = ?", (invoice,))
            return found.fetchone() is not None

    def book(self, entry: Entry) -> None:
        """Once for each invoice; an entry that does not balance raises sqlite3.IntegrityError."""
        with self._writing() as connection:
            found = connection.execute("select 1 from entries where id = ?", (entry.invoice,))
            if found.fetchone() is not None:
                return
            connection.executemany(
                "insert into postings (entry, position, account, debit, credit)"
                " values (?, ?, ?, ?, ?)",
                [(entry.invoice, place, *one) for place, one in enumerate(entry.postings)],
            )
            connection.execute("insert into entries values (?, ?, ?, ?, ?, ?)", entry[:6])

    @contextmanager
    def _writing(self) -> Iterator[sqlite3.Connection]:
        """All or nothing; "immediate", or two writers could both find an entry missing."""
        connection = sqlite3.connect(self._path, timeout=WAIT_SECONDS, isolation_level=None)
        with closing(connection):
            connection.execute("begin immediate")
            try:
                yield connection
            except BaseException:
                connection.execute("rollback")
                raise
            connection.execute("commit")
