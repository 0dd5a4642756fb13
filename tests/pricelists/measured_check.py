"""Prints the most bytes that checks of 5,000 and of 30,000 rows hold, on an empty list."""

import io
import sys
import tracemalloc
from datetime import UTC, datetime

import msgspec

from filmbuild.catalogue import wire
from filmbuild.catalogue.contents import CatalogueSnapshot, build
from filmbuild.catalogue.store import KINDS, Revision
from filmbuild.catalogue.wire import canonical
from filmbuild.pricelists import csv_rows
from filmbuild.pricelists.checking import Checker
from filmbuild.pricelists.entries import Defaults

PACKS = 5_000


def snapshot() -> CatalogueSnapshot:
    demo = wire.read(wire.demo())
    pack = msgspec.json.decode(demo.texts["packs"][0])
    packs = {
        name: canonical({**pack, "id": name}) for name in (f"pack-{one}" for one in range(PACKS))
    }
    texts: dict[str, dict[str, str]] = {kind.name: {} for kind in KINDS}
    texts["packs"] = packs
    made = Revision(revision=1, created_at=datetime.now(UTC), author="", note="", summary="{}")
    return build("default", made, texts, ())


def peak(known: CatalogueSnapshot, rows: int) -> int:
    lines = (f"pack-{one % PACKS},1.00,tier-{one // PACKS}" for one in range(rows))
    file = io.BytesIO("\n".join(["pack,amount,tier", *lines]).encode())
    tracemalloc.start()
    checker = Checker(known, placed="lines")
    checked = checker.run(csv_rows.rows(file, Defaults("USD", "", "2027-01-01"), checker.fault))
    most = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert checked.counts.new == rows
    checked.close()
    return most


if __name__ == "__main__":
    known = snapshot()
    peak(known, 10)
    sys.stdout.write(f"{peak(known, PACKS)} {peak(known, 6 * PACKS)}\n")
