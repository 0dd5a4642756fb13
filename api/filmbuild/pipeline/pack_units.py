"""Amounts as whole multiples of the unit that they have in common."""

from collections.abc import Sequence
from math import ceil, gcd

NOISE = 1e-9  # of a need
NOISE_OF_CONTENT = 1e-10
PER_UNIT = 1e7  # 0.1 mL in m3, or 0.1 mg in kg
MOST_MULTIPLES = 10_000_000
FINEST = 1e13


def multiples(amounts: list[float]) -> tuple[tuple[int, ...], float]:
    """Amounts as whole multiples of a common unit, and how many units make 1 m3 or 1 kg."""
    largest = max(amounts)
    whole = _rounded([amount * PER_UNIT for amount in amounts])
    if whole is None:
        most = round(largest / _common_unit(amounts, largest))
        if most < MOST_MULTIPLES:
            whole = _rounded([amount / largest * most for amount in amounts])
    if whole is None:
        whole = [ceil(amount / largest * FINEST) for amount in amounts]
        return tuple(whole), FINEST / largest
    common = gcd(*whole)
    whole = [amount // common for amount in whole]
    return tuple(whole), max(whole) / largest


def _rounded(scaled: list[float]) -> list[int] | None:
    whole = list(map(round, scaled))
    for exact, near in zip(scaled, whole, strict=True):
        if abs(exact - near) > NOISE_OF_CONTENT * exact:
            return None
    return whole


def _common_unit(amounts: Sequence[float], largest: float) -> float:
    """Euclid's algorithm, taking what is below noise for nothing."""
    unit, noise = largest, largest * NOISE
    for amount in amounts:
        rest = amount
        while rest > noise:
            left = unit % rest
            unit, rest = rest, min(left, rest - left)
    return unit
