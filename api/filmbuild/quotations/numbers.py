"""Numbers of papers, one after the other and without gaps."""

from sqlalchemy import insert, update
from sqlalchemy.exc import IntegrityError
from sqlalchemy.ext.asyncio import AsyncConnection

from filmbuild.quotations.tables import number_series

QUOTATIONS = "quotation"


async def take_number(
    connection: AsyncConnection, organisation: str, series: str, first: int = 1
) -> int:
    """The next of the series, the `first` where none has been taken.

    It is taken in the caller's transaction: whoever takes the next one waits for its end, and where
    it is rolled back, the number was never taken.
    """
    taken = await _next(connection, organisation, series)
    if taken is not None:
        return taken
    row = {"organisation_id": organisation, "series": series, "last": first}
    try:
        async with connection.begin_nested():
            await connection.execute(insert(number_series), row)
    except IntegrityError:
        # another transaction has begun the series in the meantime
        taken = await _next(connection, organisation, series)
        if taken is None:
            raise
        return taken
    return first


async def _next(connection: AsyncConnection, organisation: str, series: str) -> int | None:
    change = (
        update(number_series)
        .where(number_series.c.organisation_id == organisation, number_series.c.series == series)
        .values(last=number_series.c.last + 1)
        .returning(number_series.c.last)
    )
    taken: int | None = (await connection.execute(change)).scalar_one_or_none()
    return taken
