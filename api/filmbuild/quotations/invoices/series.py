"""The organisation's series of invoice numbers."""

from collections.abc import Mapping

import msgspec

from filmbuild.db import Database
from filmbuild.edge.encoding import encode
from filmbuild.edge.preconditions import check_match, tag_of
from filmbuild.errors import Fault, InvalidInput
from filmbuild.quotations.invoices import store
from filmbuild.quotations.invoices.store import Series
from filmbuild.quotations.invoices.wire import InvoiceSeries


class SeriesService:
    def __init__(self, database: Database) -> None:
        self._database = database

    async def get(self, organisation: str) -> bytes:
        """As it would begin, where no number has been taken."""
        async with self._database.reader(organisation) as connection:
            return _text(await store.read_series(connection, organisation) or Series())

    async def put(
        self, organisation: str, wanted: InvoiceSeries, headers: Mapping[str, str]
    ) -> bytes:
        """Raises PreconditionRequired, PreconditionFailed, and InvalidInput for a step back."""
        async with self._database.writer(organisation) as connection:
            now = await store.lock_series(connection, organisation)
            check_match(headers, tag_of(_text(now)))
            then = Series(prefix=wanted.prefix, digits=wanted.digits, next=wanted.next)
            if then.prefix == now.prefix and then.next < now.next:
                detail = f"numbers with this prefix are used up to {now.next - 1}: give {now.next}"
                fault = Fault("/next", "number-used", detail + " or more, or another prefix")
                raise InvalidInput("The request is not valid.", (fault,))
            await store.write_series(connection, organisation, then)
        return _text(then)


def _text(series: Series) -> bytes:
    return encode(InvoiceSeries(**msgspec.structs.asdict(series)), "si")
