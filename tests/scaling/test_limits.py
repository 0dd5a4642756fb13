"""One allowance for three processes that share a Valkey or Redis, behind real proxies."""

from collections import Counter
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import ExitStack, contextmanager
from functools import partial
from pathlib import Path

import calling
import httpx
import private_valkey
import pytest
from accounts_cases import bearer
from new_databases import NewDatabase
from proxy import proxied
from running import several
from sqlalchemy import URL

from filmbuild.limits import valkey

PROCESSES = 3
OF_A_KEY = 20
OF_AN_ADDRESS = 60
ASKED = 48
"""A third of it is less than the allowance, which so must be shared if any is refused."""
GUESSES = 3
"""An unknown key costs an address 21, and the bucket may then be emptier than that."""
PATIENCE_SECONDS = 10.0

pytestmark = pytest.mark.no_cover


@pytest.fixture(scope="module")
def url(new_sqlite: NewDatabase) -> Iterator[URL]:
    with new_sqlite(True) as url:
        yield url


@pytest.fixture(scope="module")
def ports(url: URL, tmp_path_factory: pytest.TempPathFactory) -> Iterator[list[int]]:
    with ExitStack() as stack:
        patch = stack.enter_context(pytest.MonkeyPatch.context())
        # on a busy machine the server may be late, which would let requests through
        waiting = partial(valkey.ValkeyStore, longest=PATIENCE_SECONDS)
        patch.setattr(valkey, "ValkeyStore", waiting)
        server = stack.enter_context(private_valkey.server(tmp_path_factory.mktemp("v")))
        environment = {
            "FILMBUILD_LIMITS_URL": server.address,
            "FILMBUILD_LIMIT_SECRET_KEY": f"0.001/{OF_A_KEY}",
            "FILMBUILD_LIMIT_ADDRESS": f"0.001/{OF_AN_ADDRESS}",
            "FILMBUILD_TRUSTED_PROXIES": "127.0.0.1",
        }
        begun = several(url, "--no-work", ports=[0] * PROCESSES, environment=environment)
        yield [one.port for one in stack.enter_context(begun)]


@pytest.fixture(params=["haproxy", "nginx"])
def address(
    request: pytest.FixtureRequest, ports: list[int], tmp_path_factory: pytest.TempPathFactory
) -> Iterator[str]:
    folder: Path = tmp_path_factory.mktemp("proxy")
    # the checks of a proxy are requests too, and would use up the allowance of its address
    with proxied(ports, folder, request.param, checks=False) as address:
        yield address


@pytest.fixture
def new_key(request: pytest.FixtureRequest, url: URL) -> Callable[[str], dict[str, str]]:
    """What a client sends that has the key of an organisation of its own."""

    def made(name: str) -> dict[str, str]:
        owner = f"{name}-{request.node.callspec.id}"
        key = f"secret-token:filmbuild_of-{owner}-and-of-nobody-else"
        calling.add_organisation(url, owner, key)
        return bearer(key)

    return made


@contextmanager
def client_from(host: str, address: str, headers: dict[str, str]) -> Iterator[httpx.Client]:
    """Linux answers to all of 127.0.0.0/8, so that one machine has many callers."""
    transport = httpx.HTTPTransport(local_address=host)
    with httpx.Client(base_url=address, transport=transport, headers=headers, timeout=60) as client:
        yield client


def test_a_key_gets_its_allowance_once_from_all_of_them(
    address: str, new_key: Callable[[str], dict[str, str]]
) -> None:
    with client_from("127.0.0.1", address, new_key("burst")) as client:
        # RFC 7239 section 4: who calls is told by the proxy; here a machine that calls for many
        froms = [{"x-forwarded-for": f"192.0.2.{number}"} for number in range(ASKED)]
        with ThreadPoolExecutor(6) as threads:
            answers = list(
                threads.map(lambda told: client.get("/v1/estimates", headers=told), froms)
            )
    assert Counter(one.status_code for one in answers) == {
        200: OF_A_KEY,
        429: ASKED - OF_A_KEY,
    }
    refused = [one for one in answers if one.status_code == 429]
    assert all(int(one.headers["retry-after"]) > 0 for one in refused)
    assert all(one.headers["ratelimit"].startswith('"key";r=0;') for one in refused)


def test_who_guesses_keys_is_shut_out_and_nobody_else_behind_the_proxy(
    request: pytest.FixtureRequest, address: str, new_key: Callable[[str], dict[str, str]]
) -> None:
    net = "127.0.7" if "nginx" in request.node.callspec.id else "127.0.8"
    good = new_key("good")
    with client_from(f"{net}.1", address, good) as guesser:
        wrong = [
            guesser.get("/v1/estimates", headers=bearer(f"secret-token:filmbuild_guess-{turn:09}"))
            for turn in range(GUESSES + 1)
        ]
        assert [one.status_code for one in wrong] == [401] * GUESSES + [429]
        assert int(wrong[-1].headers["retry-after"]) > 0
        # what it says of itself stands left of what the proxy says of it
        for pretended in ("198.51.100.7", "127.0.0.1"):
            answer = guesser.get("/v1/estimates", headers={"x-forwarded-for": pretended})
            assert answer.status_code == 429
    with client_from(f"{net}.2", address, good) as other:
        assert other.get("/v1/estimates").status_code == 200
