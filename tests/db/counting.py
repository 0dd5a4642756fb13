"""Adds to a counter by reading it and writing back one more: python counting.py URL TIMES.

Says when it is ready, and starts when it is sent a line.
"""

import asyncio
import sys

from sqlalchemy import Column, Integer, MetaData, Table, select, update

from filmbuild.db import EVERYONE, Database

TASKS = 2
counter = Table("counter", MetaData(), Column("value", Integer))


async def count(url: str, times: int) -> None:
    database = Database(url)

    async def add() -> None:
        for _ in range(times):
            async with database.writer(EVERYONE) as connection:
                found = await connection.execute(select(counter.c.value).with_for_update())
                value: int = found.scalar_one()
                await asyncio.sleep(0.001)
                await connection.execute(update(counter).values(value=value + 1))

    print("ready", flush=True)
    sys.stdin.readline()
    await asyncio.gather(*(add() for _ in range(TASKS)))
    await database.dispose()


if __name__ == "__main__":
    asyncio.run(count(sys.argv[1], int(sys.argv[2])))
