"""The takeoff as a drawing to take to site."""

from filmbuild.pipeline.drawing.sheet import takeoff_drawing

__all__ = ["takeoff_drawing"]
