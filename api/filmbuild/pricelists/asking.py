"""The three forms of an update - rows, a formula, an undoing - as what is asked of the service."""

from collections.abc import Generator
from contextlib import closing
from datetime import date

from filmbuild.catalogue.snapshot import CatalogueSnapshot
from filmbuild.db import Database
from filmbuild.idempotency import RequestKey
from filmbuild.pricelists import formulas
from filmbuild.pricelists.checking import Checked, Checker
from filmbuild.pricelists.entries import Defaults, Entry
from filmbuild.pricelists.received import Format, Received
from filmbuild.pricelists.service import Asked, in_thread
from filmbuild.pricelists.store import StoredUpdate
from filmbuild.pricelists.undoing import undoing
from filmbuild.pricelists.wire import PriceFormula, UpdateQuery


def of_rows(
    received: Received, form: Format, query: UpdateQuery, today: date, key: RequestKey | None
) -> Asked:
    day = query.effective_from or today
    defaults = Defaults(str(query.currency or ""), query.tier or "", day.isoformat())

    def check(snapshot: CatalogueSnapshot) -> Checked:
        checker = Checker(
            snapshot,
            placed=form.placed,
            limit=query.limit_percent,
            differences=query.check_only,
        )
        received.file.seek(0)
        return _run(checker, form.rows(received.file, defaults, checker.fault))

    return Asked(kind="rows", note=query.note or "", check=in_thread(check), key=key)


def of_formula(formula: PriceFormula, today: date, key: RequestKey | None) -> Asked:
    """The check raises InvalidInput where the formula itself is wrong."""
    day = formula.effective_from or today

    def check(snapshot: CatalogueSnapshot) -> Checked:
        formulas.check_formula(formula, snapshot)
        checker = Checker(
            snapshot,
            placed="packs",
            limit=formula.limit_percent,
            differences=formula.check_only,
        )
        return _run(checker, formulas.rows(formula, day, snapshot))

    note = formula.note or _described(formula)
    return Asked(kind="formula", note=note, check=in_thread(check), key=key)


def of_undoing(
    database: Database, update: StoredUpdate, revision: int, key: RequestKey | None
) -> Asked:
    return Asked(
        kind="undo",
        note=f"Undoes {update.id}" + (f": {update.note}" if update.note else ""),
        check=undoing(database, revision),
        key=key,
        undoes=update.id,
    )


def _run(checker: Checker, rows: Generator[Entry, None, None]) -> Checked:
    """What was set aside is given up where the rows cannot be read to their end."""
    try:
        with closing(rows) as entries:
            return checker.run(entries)
    except BaseException:
        checker.close()
        raise


def _described(formula: PriceFormula) -> str:
    if formula.percent is not None:
        change = f"{formula.percent:+f} %"
    else:
        change = f"{formula.amount or 0:+f} {formula.currency}"
    rounded = f", rounded to {formula.round_to:f}" if formula.round_to is not None else ""
    return f"Formula {change}{rounded}"
