"""What two estimates of one job differ in, to the minor unit, and why."""

from filmbuild.pipeline.differences.records import (
    BasisDifference,
    CausedAmount,
    DayDifference,
    EstimateDifferences,
    LineDifference,
    LineSide,
    SumDifference,
    TermDifference,
    TermSide,
    ValueDifference,
)
from filmbuild.pipeline.differences.stage import differences_between
from filmbuild.pipeline.differences.values import value_differences

__all__ = [
    "BasisDifference",
    "CausedAmount",
    "DayDifference",
    "EstimateDifferences",
    "LineDifference",
    "LineSide",
    "SumDifference",
    "TermDifference",
    "TermSide",
    "ValueDifference",
    "differences_between",
    "value_differences",
]
