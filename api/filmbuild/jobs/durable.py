"""The library that remembers which portions of which job were done: DBOS.

It is of the whole process: one worker in each. Its own tables are apart from the product's, in a
file or a schema that only it changes.
"""

import logging
import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

from dbos import DBOS, DBOSConfig, SetWorkflowID
from sqlalchemy import URL

from filmbuild.jobs.work import Job

EXECUTOR = "worker"
"""Always the same, as the lock lets only one worker be: so each takes up what the last one left."""
VERSION = "1"
"""Pinned: work begun before an upgrade is gone on with after it. Raise it only where the portions
of one version cannot follow those of another, and let the work of the old one end before."""
SCHEMA = "dbos"
MOST_RECOVERIES = 50
UNDER_WAY = frozenset({"PENDING", "ENQUEUED", "DELAYED"})
BUSY_MILLISECONDS = 30_000

Portion = Callable[[Job], bool]


class Interrupted(BaseException):
    """Leaves a job where it is, to be gone on with by the next worker.

    Not an Exception: the library would take that for the job's own end.
    """


_portion: Portion | None = None


@DBOS.step(name="portion")
def _step(job: Job) -> bool:
    if _portion is None:
        raise Interrupted
    return _portion(job)


@DBOS.workflow(name="job", max_recovery_attempts=MOST_RECOVERIES)
def _carry_out(organisation: str, identity: str, kind: str, subject: str, attempt: int) -> None:
    job = Job(organisation=organisation, id=identity, kind=kind, subject=subject, attempt=attempt)
    while _step(job):
        pass


def launch(url: URL, portion: Portion) -> None:
    """Blocking. What the last worker left is taken up in the background, in about a second."""
    global _portion  # noqa: PLW0603 - the library finds its steps by name, so they are of the module
    # without a handler of its own the library writes to standard error
    logging.getLogger("dbos").addHandler(logging.NullHandler())
    _portion = portion
    DBOS(
        config=DBOSConfig(
            name="filmbuild",
            system_database_url=_own_url(url),
            dbos_system_schema=SCHEMA,
            application_version=VERSION,
            executor_id=EXECUTOR,
            enable_otlp=False,
            log_level="WARNING",
            use_listen_notify=False,
            sys_db_pool_size=4,
        )
    )
    try:
        DBOS.launch()
    except BaseException:
        shut_down()
        raise


def under_way(job: Job) -> bool:
    """Starts this attempt of a job where it was not; whether it is still going on. Blocking."""
    name = f"{job.id}-{job.attempt}"
    status = DBOS.get_workflow_status(name)
    if status is not None:
        return status.status in UNDER_WAY
    with SetWorkflowID(name):
        DBOS.start_workflow(
            _carry_out, job.organisation, job.id, job.kind, job.subject, job.attempt
        )
    return True


def forget(job: Job) -> None:
    """What was remembered of a job that has ended. Blocking."""
    names = [f"{job.id}-{attempt}" for attempt in range(1, job.attempt + 1)]
    DBOS.delete_workflows(names)


def shut_down() -> None:
    """Blocking. Steps that are still running are left to themselves."""
    global _portion  # noqa: PLW0603 - see `launch`
    _portion = None
    DBOS.destroy()


def _own_url(url: URL) -> str:
    if url.get_backend_name() != "sqlite":
        own = url.set(drivername="postgresql+psycopg")
        return own.render_as_string(hide_password=False)
    path = own_file(url)
    # the library leaves the journal as it is, and the mode is remembered by the file
    with closing(sqlite3.connect(path, timeout=BUSY_MILLISECONDS / 1000)) as connection:
        connection.execute("PRAGMA journal_mode = WAL")
    return URL.create("sqlite", database=str(path)).render_as_string()


def own_file(url: URL) -> Path:
    """Beside the database's file."""
    return Path(f"{url.database}.jobs")
