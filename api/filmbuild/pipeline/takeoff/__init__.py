"""From what was measured to what must be prepared and coated."""

from filmbuild.pipeline.takeoff.stage import take_off

__all__ = ["take_off"]
