"""How much work one request may cause, counted so that the answer does not depend on the clock."""

BASE = 4_000_000
PER_AREA = 500


class TooMuchWorkError(Exception):
    """What is left of the effort does not suffice."""


class Effort:
    """Spent as the work is done; its unit is about a microsecond."""

    __slots__ = ("_left",)

    def __init__(self, areas: int = 1) -> None:
        self._left = BASE + PER_AREA * areas

    def spend(self, amount: int) -> None:
        """Raises TooMuchWorkError, without spending, where less is left."""
        if amount > self._left:
            raise TooMuchWorkError
        self._left -= amount
