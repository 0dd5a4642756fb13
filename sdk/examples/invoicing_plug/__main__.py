"""Run it: python -m invoicing_plug BOOKS FOLDER [--service URL] [--port PORT].

The key is read from FILMBUILD_KEY and the webhook's secrets, by spaces, from FILMBUILD_SECRETS.
"""

import argparse
import os
import sys
import threading
from contextlib import suppress
from pathlib import Path

from filmbuild_sdk import Client
from invoicing_plug.billing import Biller
from invoicing_plug.books import Books
from invoicing_plug.receiver import Receiver, work


def main() -> None:
    parser = argparse.ArgumentParser("invoicing_plug", description="Books what customers accept.")
    parser.add_argument("books", type=Path, help="the SQLite file of the ledger")
    parser.add_argument("folder", type=Path, help="where the UBL files go")
    parser.add_argument("--service", default="http://127.0.0.1:8080")
    parser.add_argument("--host", default="127.0.0.1")
    parser.add_argument("--port", type=int, default=8099)
    given = parser.parse_args()
    missing = [one for one in ("FILMBUILD_KEY", "FILMBUILD_SECRETS") if not os.environ.get(one)]
    if missing:
        parser.error(
            f"{' and '.join(missing)}: not set. FILMBUILD_KEY is the key of the service, "
            "FILMBUILD_SECRETS what it told when this program's address was registered"
        )
    books = Books(given.books)
    stopping = threading.Event()
    with (
        Client(given.service, key=os.environ["FILMBUILD_KEY"]) as client,
        Receiver(
            (given.host, given.port), books, os.environ["FILMBUILD_SECRETS"].split()
        ) as server,
    ):
        biller = Biller(client, books, given.folder)
        worker = threading.Thread(target=work, args=(biller, server.arrived, stopping))
        worker.start()
        sys.stdout.write(
            f"Listening at http://{given.host}:{server.server_port}/; stop with Ctrl-C.\n"
        )
        sys.stdout.flush()
        try:
            with suppress(KeyboardInterrupt):
                server.serve_forever()
        finally:
            stopping.set()
            server.arrived.set()
            worker.join()


if __name__ == "__main__":
    main()
