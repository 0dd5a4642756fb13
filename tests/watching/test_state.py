"""Whether the service says that it is ready exactly where it is, and which version it says it is."""

import asyncio
from importlib.metadata import version

import msgspec
import pytest
from litestar.testing import TestClient
from logged import Kept, logged
from new_databases import NewDatabase
from private_cluster import ACCOUNT
from serving import client_of, settings_for

from filmbuild.app import create_app
from filmbuild.db import migrate
from filmbuild.db.readiness import DatabaseState
from filmbuild.edge.closing import Closing
from filmbuild.errors import Unavailable
from filmbuild.pipeline.estimate import ENGINE_VERSION
from filmbuild.watching import state
from filmbuild.watching.state import State, Versions

VERSIONS = Versions(service="1", engine="2", contract="3")
GOOD = DatabaseState(kind="sqlite", migration="0001", newest="0001", secured=True)


async def good() -> DatabaseState:
    return GOOD


def test_one_that_is_stopping_is_not_ready_though_it_answers(new_sqlite: NewDatabase) -> None:
    closing = Closing()
    with new_sqlite(True) as url, TestClient(create_app(settings_for(url), closing=closing)) as one:
        assert one.get("/v1/readiness").status_code == 200
        closing.begun = True
        assert one.get("/v1/readiness").status_code == 503
        assert one.get("/v1/health").status_code == 200


async def test_a_database_that_hangs_is_not_waited_for(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(state, "PATIENCE_SECONDS", 0.01)

    async def hanging() -> DatabaseState:
        await asyncio.Event().wait()
        return GOOD

    with pytest.raises(Unavailable, match="in time"):
        await State(hanging, Closing(), lambda: "none", VERSIONS).readiness()


async def test_an_older_schema_is_not_ready() -> None:
    async def older() -> DatabaseState:
        return msgspec.structs.replace(GOOD, newest="0002")

    with pytest.raises(Unavailable, match="filmbuild migrate"):
        await State(older, Closing(), lambda: "none", VERSIONS).readiness()


async def test_a_worker_that_ended_is_told_and_keeps_no_request_away() -> None:
    told = await State(good, Closing(), lambda: "ended", VERSIONS).readiness()
    assert (told.status, told.worker) == ("ready", "ended")


def test_a_role_that_sees_every_row_is_told_in_the_answer_and_once_in_the_log(
    new_postgresql: NewDatabase,
) -> None:
    """PostgreSQL 15 documentation, section 5.8: superusers bypass row security."""
    kept = Kept()
    with new_postgresql(True) as url:
        with client_of(url) as client:
            assert client.get("/v1/readiness").json()["warnings"] == []
        with logged(url.set(username=ACCOUNT), kept) as client:
            for _ in range(2):
                answer = client.get("/v1/readiness").json()
                assert answer["warnings"] == ["row-security-not-in-force"]
    warned = [one for one in kept.lines if one.get("logger") == "filmbuild.state"]
    assert [one["level"] for one in warned] == ["warning"]


def test_the_version_is_that_of_what_runs(new_database: NewDatabase) -> None:
    with new_database(True) as url, client_of(url) as client:
        told = client.get("/v1/version", headers={"authorization": ""}).json()
        contract = client.get("/v1/openapi.json").json()["info"]["version"]
        kind = url.get_backend_name()
    assert told == {
        "service": version("filmbuild"),
        "engine": ENGINE_VERSION,
        "contract": contract,
        "database": {"kind": kind, "migration": migrate.head()},
    }
