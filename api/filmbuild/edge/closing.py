"""Tells answers that have no end of their own that the service is about to stop."""


class Closing:
    """Begun once, by a signal's handler, which cannot wake what waits: look now and then."""

    __slots__ = ("begun",)

    def __init__(self) -> None:
        self.begun = False
