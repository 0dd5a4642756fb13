"""Rules of the schedule stage."""

from filmbuild.pipeline.trace import Rule

_PRACTICE = "common practice, no source"

RULES: tuple[Rule, ...] = (
    Rule(
        id="schedule.placement",
        statement=(
            "One crew does the activities one after the other, in working order, each as early as "
            "it can. Labour runs in working time: shifts by the site's clock, on its working days, "
            "without public holidays and closed dates. Cure and drying run in elapsed time, "
            "nights and weekends included. A coat is placed without a break inside one shift: "
            "it begins in working time and goes on through the shift's breaks, which are then paid. "
            "Other work stops for breaks. The latest "
            "start is the latest that leaves the end of the work, and each coat's recoat window, "
            "as they are; float is the working time up to it, and without float an activity is "
            "critical."
        ),
        equation=(
            "start = max(end of the crew's last activity, end + recoat minimum or drying of what it "
            "waits for), moved to working time; finish = start + duration of the activity; "
            "latest start = latest_finish - duration; float = latest start - start, all in working "
            "time"
        ),
        source="critical path method with minimum and maximum lags; serial schedule generation",
    ),
    Rule(
        id="schedule.abrasion",
        statement=(
            "A coat that cannot begin before the recoat maximum of the coat below it goes on after "
            "the floor has been abraded, vacuumed and wiped with solvent, as far as the rate book "
            "has productions for these. Their hours, machines and consumables are added to the "
            "costs. Where the system abrades between two coats the maximum does not hold. Where "
            "the job asks for it, the coat below is held back instead until both fit."
        ),
        equation="abrade if without_abrasion > recoat_maximum",
        source="the product's data; abrading a missed recoat window: common practice, no source",
    ),
    Rule(
        id="schedule.coat-ready",
        statement=(
            "From the end of placing a coat its cure times run in elapsed time at the job's "
            "surface temperature, or through the weather of a forecast. The dew point is that of "
            "the air over water, where the surface is least above it: T is the air in "
            "degrees Celsius and U its relative humidity in per cent."
        ),
        equation=(
            "ready = end_of_placing + cure time; "
            "dew point = 243.04 g / (17.625 - g), g = ln(U / 100) + 17.625 T / (243.04 + T); "
            "above = surface - dew point"
        ),
        source="the product's data; dew point: Alduchov and Eskridge 1996",
    ),
    Rule(
        id="schedule.window",
        statement=(
            "With a forecast or design values of months, a product is placed only where its limits "
            "are met in every step from the start of placing until it takes another coat, which "
            "is taken as its early cure: air, surface, relative humidity, and the surface above "
            "the dew point by the product's margin, 3 K where it states none. The plan waits for "
            "the first such window in working time."
        ),
        equation=(
            "air_minimum <= air <= air_maximum; surface_minimum <= surface <= surface_maximum; "
            "humidity <= humidity_maximum; surface - dew point >= dew_point_margin"
        ),
        source="the product's data; margin of 3 K: ISO 8502-4",
    ),
    Rule(
        id="schedule.cure-through-weather",
        statement=(
            "Through changing weather a stage of cure is reached when the shares of it that were "
            "made in each step add up to the whole. In a step, the stage would take the product's "
            "time at the surface temperature: read from its table in logarithms of time, and "
            "beyond the table by the product's rule. Where a product names no rule, it makes no "
            "progress colder than its table, no more warmer than at its end, and a window goes on "
            "closing; a step without progress has no time."
        ),
        equation="sum of lasting / recoat_at_temperature = 1",
        source="equivalent age, ASTM C1074, with the product's own times",
    ),
    Rule(
        id="schedule.area-open",
        statement=(
            "An area opens by the last coat that it gets. Where a coat is placed over all areas, "
            "an area is done when its share of the floor, with the areas before it in placing "
            "order, has been placed; a section is done when its coat is. It returns to service "
            "when it takes vehicles and the crew has left."
        ),
        equation=(
            "placed = coat_start + share_placed (coat_finish - coat_start); open = placed + cure "
            "time; return = max(vehicle traffic, crew_leaves)"
        ),
        source=_PRACTICE,
    ),
    Rule(
        id="schedule.bound",
        statement=(
            "No plan of the same work ends before its links, cures, shifts and weather let it with "
            "as many crews as it takes, nor before one crew has done all of it without waiting "
            "or pausing. What missed recoat windows add is not in the bound, so it is in the gap."
        ),
        equation="gap = finish - max(by_network, by_crew)",
        source="critical path and resource bounds of project scheduling: textbook relaxations",
    ),
    Rule(
        id="schedule.open-again",
        statement=(
            "The site is open to foot or vehicle traffic, and fully cured, when the last of its "
            "coats is."
        ),
        equation="open = max(coats)",
        source=_PRACTICE,
    ),
    Rule(
        id="schedule.worked-day",
        statement=(
            "A day counts what is worked on it: an activity that runs over several shifts is "
            "shared out among their days. Each day with work is paid for the least that the rate "
            "book pays a day for; time beyond the standard day is overtime. The "
            "time that people spend on an activity is shared out like the activity itself."
        ),
        equation=(
            "paid = max(worked, minimum_paid_day); overtime = max(worked - standard_day, 0); "
            "labour = sum of labour of its activities; people = max(people)"
        ),
        source=_PRACTICE,
    ),
    Rule(
        id="schedule.shifts",
        statement="Each day on which any work is done is one shift of the crew.",
        equation="shifts = number of days",
        source=_PRACTICE,
    ),
    Rule(
        id="schedule.visits",
        statement=(
            "The crew leaves and comes back as another visit where no work is done for as many "
            "days in a row as the rate book says; where it says nothing the crew comes once."
        ),
        equation="visits = 1 + number of stretches of idle_days or more without work",
        source=_PRACTICE,
    ),
    Rule(
        id="schedule.productive",
        statement="The labour of the tasks, and of those that the dates call for.",
        equation="productive = labour + sum of added",
        source=_PRACTICE,
    ),
    Rule(
        id="schedule.equipment",
        statement=(
            "A machine is charged by the days on which any of its tasks is worked on, at least its "
            "minimum, for each machine. Each gang of the busiest task has its own."
        ),
        equation="days = machines max(days_used, minimum_days); amount = days day_rate",
        source=_PRACTICE,
    ),
)
