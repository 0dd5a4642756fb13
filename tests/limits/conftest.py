from collections.abc import Iterator

import private_valkey
import pytest


@pytest.fixture
def valkey(tmp_path_factory: pytest.TempPathFactory) -> Iterator[private_valkey.Server]:
    with private_valkey.server(tmp_path_factory.mktemp("v")) as one:
        yield one
