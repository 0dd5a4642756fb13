"""Random jobs, planned and read by the verifier: `python tests/many_plans.py 5000 [seed]`.

With the repository's `api` and `tests` on the path.
"""

import sys
from collections import Counter

from schedule_verifier import faults_of
from weather_cases import random_jobs

from filmbuild.errors import Infeasible


def examined(seed: int, count: int) -> tuple[Counter[str], list[str]]:
    """How many jobs came out how, and what is wrong with any plan."""
    seen: Counter[str] = Counter()
    wrong = []
    for number, case in enumerate(random_jobs(seed, count)):
        labour = case.labour()
        try:
            schedule = case.schedule(labour)
        except Infeasible as refused:
            seen[refused.faults[0].code] += 1
            continue
        reasons = [one.bound_by for one in schedule.activities]
        seen["planned"] += 1
        seen["abraded"] += bool(schedule.tasks)
        seen["held back"] += any("held back" in one for one in reasons)
        seen["waits for the weather"] += any("for the weather" in one for one in reasons)
        wrong += [
            f"job {number} of seed {seed}: {one}" for one in faults_of(case, labour, schedule)
        ]
    return seen, wrong


if __name__ == "__main__":
    found, faults = examined(int((*sys.argv, "1")[2]), int(sys.argv[1]))
    sys.stdout.write("\n".join([str(dict(found)), *faults, ""]))
    sys.exit(bool(faults))
