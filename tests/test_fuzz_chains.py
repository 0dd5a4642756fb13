"""The contract under chains of requests, each with what the ones before have made.

Schemathesis finds by itself which answers' ids fit which operations' paths, and follows them.
"""

import fuzz_effort
import pytest
from hypothesis import HealthCheck, Phase, settings
from test_fuzz import CONTRACT, ready

pytestmark = pytest.mark.no_cover
CHAINS = 8 * fuzz_effort.TIMES
STEPS = 6


@pytest.fixture(scope="module", autouse=True)
def database() -> None:
    ready()


Chain = CONTRACT.as_state_machine()


def test_chains_of_requests_keep_the_contract() -> None:
    Chain.run(
        settings=settings(
            max_examples=CHAINS,
            stateful_step_count=STEPS,
            derandomize=True,
            deadline=None,
            phases=[Phase.generate],
            suppress_health_check=list(HealthCheck),
        )
    )
