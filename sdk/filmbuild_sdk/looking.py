"""How often to look whether work that the service does in the background is over."""

import time

FIRST_PAUSE = 0.1
LONGEST_PAUSE = 5.0
GROWTH = 1.5


class Looks:
    """Short work is seen soon, and long work is not asked after often. Sleeps itself never."""

    def __init__(self, longest: float | None) -> None:
        self._pause = FIRST_PAUSE
        self._longest = longest
        self._began = time.monotonic()

    def pause(self) -> float:
        """[s] until the next look. Raises TimeoutError once it has taken longer than `longest`."""
        left = float("inf")
        if self._longest is not None:
            left = self._longest - (time.monotonic() - self._began)
            if left <= 0:
                raise TimeoutError(f"not over after {self._longest:g} s; the work goes on")
        pause = min(self._pause, LONGEST_PAUSE, left)
        self._pause *= GROWTH
        return pause
