import pytest
from webhook_cases import Office

from filmbuild.db import Database


@pytest.fixture
def office(database: Database) -> Office:
    return Office(database)
