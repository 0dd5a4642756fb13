"""The arithmetic, against a plain count of tokens; and clocks that jump."""

import asyncio
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from filmbuild.limits.buckets import Charge, Level
from filmbuild.limits.memory import MemoryStore
from filmbuild.settings import Allowance

# Powers of two and eighths of a second are exact in binary, so that the two must agree to the unit.
RATES = st.sampled_from((0.5, 1.0, 2.0, 4.0, 8.0))
BURSTS = st.integers(1, 64)
STEPS = st.lists(st.tuples(st.integers(0, 200), st.integers(1, 80)), max_size=40)


class Clock:
    def __init__(self, now: float = 1000.0) -> None:
        self.now = now

    def __call__(self) -> float:
        return self.now


class Tokens:
    """What a token bucket is by its textbook definition: counted, added to with time, never over."""

    def __init__(self, allowance: Allowance) -> None:
        self.rate = Fraction(allowance.rate)
        self.burst = allowance.burst
        self.held = Fraction(allowance.burst)

    def pass_time(self, seconds: Fraction) -> None:
        self.held = min(Fraction(self.burst), self.held + seconds * self.rate)

    def take(self, cost: int) -> bool:
        cost = min(cost, self.burst)
        if cost > self.held:
            return False
        self.held -= cost
        return True


def charge(allowance: Allowance, cost: float, *, forced: bool = False, name: str = "k") -> Charge:
    return Charge(owner="o", name=name, policy="key", allowance=allowance, cost=cost, forced=forced)


def take(store: MemoryStore, *charges: Charge) -> tuple[Level, ...]:
    return asyncio.run(store.take(charges))


@given(RATES, BURSTS, STEPS)
def test_a_bucket_lets_through_what_counted_tokens_would(
    rate: float, burst: int, steps: list[tuple[int, int]]
) -> None:
    allowance = Allowance(rate, burst)
    clock, tokens = Clock(), Tokens(allowance)
    store = MemoryStore(clock)
    for eighths, cost in steps:
        clock.now += eighths / 8
        tokens.pass_time(Fraction(eighths, 8))
        (level,) = take(store, charge(allowance, cost))
        assert level.admitted == tokens.take(cost)
        assert level.left == int(tokens.held)


@given(RATES, BURSTS, STEPS)
def test_who_waits_as_long_as_is_said_is_let_through(
    rate: float, burst: int, steps: list[tuple[int, int]]
) -> None:
    allowance = Allowance(rate, burst)
    clock = Clock()
    store = MemoryStore(clock)
    for _, cost in steps:
        (level,) = take(store, charge(allowance, cost))
        if not level.admitted:
            clock.now += level.seconds
            (level,) = take(store, charge(allowance, cost))
            assert level.admitted


@given(RATES, BURSTS, STEPS, st.integers(1, 10**9))
def test_a_clock_set_back_costs_no_more_than_the_burst(
    rate: float, burst: int, steps: list[tuple[int, int]], back: int
) -> None:
    allowance = Allowance(rate, burst)
    clock = Clock(2e9)
    store = MemoryStore(clock)
    for _, cost in steps:
        take(store, charge(allowance, cost))
    clock.now -= back
    (level,) = take(store, charge(allowance, 1))
    assert level.wait * rate <= 1
    clock.now += burst / rate
    (level,) = take(store, charge(allowance, burst))
    assert level.wait * rate <= 1


def test_two_charges_are_both_taken_or_neither() -> None:
    clock = Clock()
    store = MemoryStore(clock)
    wide, narrow = Allowance(1, 10), Allowance(1, 2)
    both = (charge(wide, 2, name="wide"), charge(narrow, 2, name="narrow"))
    assert all(one.admitted for one in take(store, *both))
    assert [one.admitted for one in take(store, *both)] == [True, False]
    (level,) = take(store, charge(wide, 8, name="wide"))
    assert level.admitted


def test_a_forced_charge_empties_the_bucket_and_no_more() -> None:
    clock = Clock()
    store = MemoryStore(clock)
    allowance = Allowance(1, 10)
    for _ in range(3):
        (level,) = take(store, charge(allowance, 8, forced=True))
        assert level.admitted
    clock.now += 1
    (level,) = take(store, charge(allowance, 1))
    assert level.admitted


def test_what_costs_more_than_the_burst_takes_a_full_bucket() -> None:
    clock = Clock()
    store = MemoryStore(clock)
    allowance = Allowance(1, 10)
    (level,) = take(store, charge(allowance, 50))
    assert (level.admitted, level.left) == (True, 0)
    (level,) = take(store, charge(allowance, 50))
    assert (level.admitted, level.seconds) == (False, 10)
