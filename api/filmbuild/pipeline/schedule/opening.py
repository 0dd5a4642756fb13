"""When each area opens again, and how near the plan is to the shortest there can be."""

from collections.abc import Iterator, Sequence

from filmbuild.pipeline.results import Activity, AreaOpen, AreaTakeoff, Labour, PlanBound, Takeoff
from filmbuild.pipeline.schedule.dates import Times, cure_times, local
from filmbuild.pipeline.schedule.placing import Placed, is_coat
from filmbuild.pipeline.timetable import TOLERANCE
from filmbuild.pipeline.trace import Trace
from filmbuild.pipeline.workdays import to_millisecond
from filmbuild.quantities import Area, Duration


def areas_open(placed: Placed, takeoff: Takeoff, labour: Labour) -> tuple[AreaOpen, ...]:
    """By the last coat that each area gets."""
    ordered = sorted(takeoff.areas, key=lambda one: one.placing_order)
    coats = [one for one in placed.activities if is_coat(one)]
    last = coats[-1].layer
    finals = [one for one in coats if one.layer == last]
    by_section = {one.section: one for one in finals}
    if labour.sections:
        found = {
            name: _opened(name, by_section[one.number], 1.0, placed, one.floor)
            for one in labour.sections
            if one.number in by_section
            for name in one.areas
        }
    else:
        found = dict(_in_order(ordered, finals[-1], placed))
    return tuple(found[one.id] for one in takeoff.areas if one.id in found)


def _in_order(
    areas: Sequence[AreaTakeoff], coat: Activity, placed: Placed
) -> Iterator[tuple[str, AreaOpen]]:
    total = sum(one.floor for one in areas)
    done = 0.0
    for one in areas:
        done += one.floor
        share = round(done / total, 9) if total > 0 else 1.0
        yield one.id, _opened(one.id, coat, share, placed, one.floor)


def _opened(area: str, coat: Activity, share: float, placed: Placed, floor: Area) -> AreaOpen:
    calendar = placed.calendar
    placement = next(one for one in placed.timetable.placements if one.id == coat.id)
    begin, end = placement.start, placement.finish
    finish = to_millisecond(begin + share * (end - begin))
    if coat.cure is None:
        msg = "a coat has cure times"
        raise AssertionError(msg)
    times: Times = cure_times(coat, coat.cure, finish, placed.weathered)
    vehicle = finish + times.vehicle_traffic
    left = placed.timetable.finish
    return AreaOpen(
        area=area,
        placed=local(finish, calendar),
        foot_traffic=local(finish + times.foot_traffic, calendar),
        vehicle_traffic=local(vehicle, calendar),
        full_cure=local(finish + times.full_cure, calendar),
        return_to_service=local(max(vehicle, left), calendar),
        trace=Trace(
            "schedule.area-open",
            {
                "coat": coat.id,
                "coat_start": local(begin, calendar),
                "coat_finish": local(end, calendar),
                "share_placed": share,
                "floor": floor,
                "foot_traffic": times.foot_traffic,
                "vehicle_traffic": times.vehicle_traffic,
                "full_cure": times.full_cure,
                "crew_leaves": local(left, calendar),
            },
        ),
    )


def bound_of(placed: Placed, labour: Labour) -> PlanBound:
    """Of the work as the labour planned it, without what missed windows added."""
    calendar = placed.calendar
    work = to_millisecond(sum(one.duration for one in labour.activities))
    by_crew = calendar.end_of_work_through_breaks(placed.begin, work)
    finish = placed.timetable.finish
    by_crew = min(by_crew, finish)
    least = max(placed.least, by_crew)
    gap = finish - least
    written = {
        "by_network": local(placed.least, calendar),
        "by_crew": local(by_crew, calendar),
        "finish": local(finish, calendar),
    }
    return PlanBound(
        by_network=written["by_network"],
        by_crew=written["by_crew"],
        finish_no_sooner_than=local(least, calendar),
        finish=written["finish"],
        gap=Duration(to_millisecond(gap) if gap > TOLERANCE else 0.0),
        trace=Trace("schedule.bound", {**written, "crew_time": Duration(work)}),
    )
