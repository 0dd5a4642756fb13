"""What reads texts of strangers: whatever they are, they are read or refused, and nothing else.

Bodies, queries, numbers, quantities, cursors, links, drawings and rows of prices have such tests with
their own: `tests/test_fuzz.py`, `tests/edge`, `tests/test_quantities.py`, `tests/plans`.
"""

import base64
import json
from contextlib import suppress
from datetime import UTC, datetime
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from filmbuild.accounts.gate import header
from filmbuild.accounts.keys import allows
from filmbuild.enquiries import proof
from filmbuild.errors import Refusal
from filmbuild.webhooks.addresses import target_of

ANY = st.text(max_size=120)
JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | ANY,
    lambda one: st.lists(one, max_size=3) | st.dictionaries(ANY, one, max_size=3),
    max_leaves=6,
)
HOSTS = st.sampled_from(
    [
        "hooks.example.com",
        "127.0.0.1",
        "127.1",
        "0x7f000001",
        "2130706433",
        "017700000001",
        "[::1]",
        "[::ffff:10.0.0.1]",
        "[64:ff9b::a00:1]",
        "[fe80::1%25eth0]",
        "localhost",
        "a..b",
        "\uff11\uff12\uff17.0.0.1",
        "metadata.internal",
    ]
)
SECRET = "of-this-test"  # noqa: S105 - of no organisation


@given(st.lists(st.binary(max_size=60), max_size=3))
def test_a_header_counts_where_it_comes_once(values: list[bytes]) -> None:
    scope: Any = {"headers": [(b"authorization", one) for one in values]}
    assert header(scope, b"authorization") == (values[0] if len(values) == 1 else None)


@given(ANY, ANY)
def test_no_text_is_a_scope_that_allows_another(given_scope: str, wanted: str) -> None:
    if given_scope not in ("*", wanted) and not given_scope.endswith(":write"):
        assert not allows((given_scope,), wanted)


@given(ANY)
def test_proofs_that_are_none(text: str) -> None:
    with suppress(Refusal):
        proof.check(SECRET, text)
        raise AssertionError


@given(JSON, st.sampled_from(("challenge", "parameters", "solution", "signature", "cost", "salt")))
def test_proofs_that_were_tampered_with(value: Any, place: str) -> None:
    """Costs of a stranger's choosing are never paid: the signature is looked at first."""
    made = proof.new_challenge(SECRET, "usual", datetime(2026, 6, 1, tzinfo=UTC))
    told = json.loads(json.dumps({"challenge": made, "solution": {}}, default=_plain))
    challenge = told["challenge"]
    parameters = challenge.get("parameters", challenge)
    (parameters if place in ("cost", "salt") else told)[place] = value
    with suppress(Refusal):
        proof.check(SECRET, base64.b64encode(json.dumps(told).encode()).decode())
        raise AssertionError


def _plain(value: Any) -> Any:
    return {name: getattr(value, name) for name in value.__struct_fields__}


@given(st.sampled_from(("https", "http", "ftp", "")), HOSTS, st.text(max_size=12), ANY)
def test_addresses_for_messages(scheme: str, host: str, port: str, rest: str) -> None:
    """Those that are let through are of public names, by TLS."""
    with suppress(Refusal):
        target = target_of(f"{scheme}://{host}:{port}/{rest}", private=False)
        assert (target.scheme, target.host, target.port) == ("https", "hooks.example.com", 443)
    with suppress(Refusal):
        target_of(rest, private=True)
