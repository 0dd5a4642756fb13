"""A job over a winter weekend, worked by hand: a holiday, a cold night and a narrow window.

150 m2, 3 h a coat. The weekend of 17 January 2026 is followed by Martin Luther King Jr. Day, a
federal holiday (5 U.S.C. 6103), on Monday the 19th.
"""

from datetime import UTC, date, datetime

import pytest
from schedule_verifier import faults_of
from weather_cases import hourly, in_weather, step

from filmbuild.pipeline.job import ForecastStep, Holidays, WorkCalendar

NEW_YORK = WorkCalendar(time_zone="America/New_York", holidays=Holidays(country="US"))


def forecast() -> tuple[ForecastStep, ...]:
    """Mild, but for the night of Tuesday the 20th, from 20 h to 6 h UTC."""
    return tuple(
        step(one.at, 3.0, 60.0, 6.0) if _cold(one.at) else one
        for one in hourly(datetime(2026, 1, 16, tzinfo=UTC), 20, 17.0, 3.0, 45.0)
    )


def _cold(at: datetime) -> bool:
    return datetime(2026, 1, 20, 20, tzinfo=UTC) <= at < datetime(2026, 1, 21, 6, tzinfo=UTC)


EXPECTED = {
    "abrade": {
        "set_up": ("01-16 08:00", "starts the job"),
        "coat:first": ("01-16 09:00", "follows Set up"),
        "abrade:coat:second": (
            "01-20 08:00",
            (
                "waits for recoat of first until 2026-01-16 21:55, then for the next shift: "
                "2026-01-20 08:00"
            ),
        ),
        "vacuum:coat:second": ("01-20 11:00", "follows Abrade, second"),
        "coat:second": (
            "01-21 08:00",
            (
                "follows Vacuum, second, then for the weather until 2026-01-21 08:00 (the air is too "
                "cold, 3.0 degC where the limit is 8.0 at 2026-01-21 00:00)"
            ),
        ),
        "coat:third": (
            "01-22 08:00",
            (
                "waits for recoat of second until 2026-01-21 20:43, then for a shift with enough time "
                "left: 2026-01-22 08:00"
            ),
        ),
        "demobilise": ("01-22 11:00", "follows third"),
    },
    "hold_back": {
        "set_up": ("01-16 08:00", "starts the job"),
        "coat:first": (
            "01-21 08:00",
            (
                "held back until 2026-01-18 23:14, so that second can go on before the recoat window "
                "closes, then for the weather until 2026-01-21 08:00 (the air is too cold, 3.0 degC "
                "where the limit is 8.0 at 2026-01-21 00:00)"
            ),
        ),
        "coat:second": (
            "01-22 08:00",
            (
                "waits for recoat of first until 2026-01-21 20:43, then for a shift with enough time "
                "left: 2026-01-22 08:00"
            ),
        ),
        "coat:third": (
            "01-23 08:00",
            (
                "waits for recoat of second until 2026-01-22 20:43, then for a shift with enough time "
                "left: 2026-01-23 08:00"
            ),
        ),
        "demobilise": ("01-23 11:00", "follows third"),
    },
}


@pytest.mark.parametrize(("missed", "hours"), [("abrade", 0.0), ("hold_back", 24.0)])
def test_the_reasons_lead_through_the_weekend(missed: str, hours: float) -> None:
    case = in_weather(
        forecast(),
        windows=((8.0, 40.0), (8.0, None)),
        size=150.0,
        calendar=NEW_YORK,
        start=date(2026, 1, 16),
        missed="hold_back" if missed == "hold_back" else "abrade",
    )
    labour = case.labour()
    schedule = case.schedule(labour)
    found = {
        one.activity: (one.start.isoformat(" ")[5:16], one.bound_by) for one in schedule.activities
    }
    assert found == EXPECTED[missed]
    assert faults_of(case, labour, schedule) == []
    assert schedule.bound is not None
    assert schedule.bound.gap == hours * 3600
