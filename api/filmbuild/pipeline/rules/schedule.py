"""Rules of the schedule stage."""

from filmbuild.pipeline.trace import Rule

RULES: tuple[Rule, ...] = (
    Rule(
        id="schedule.placement",
        statement=(
            "One crew does the activities one after the other, in working order, each as early as "
            "it can. Labour runs in working time: shifts by the site's clock, on its working days, "
            "without public holidays and closed dates. Cure runs in elapsed time, nights and "
            "weekends included. A coat is placed without a break inside one shift. The latest "
            "start is the latest that leaves the end of the work, and each coat's recoat window, "
            "as they are; float is the working time up to it, and without float an activity is "
            "critical."
        ),
        equation=(
            "start = max(end of the crew's last activity, end + recoat minimum of what it waits "
            "for), moved to working time; float = latest start - start"
        ),
        source="critical path method with minimum and maximum lags; serial schedule generation",
    ),
    Rule(
        id="schedule.abrasion",
        statement=(
            "A coat that cannot begin before the recoat maximum of the coat below it goes on after "
            "the floor has been abraded. Where the system abrades between two coats the maximum "
            "does not hold."
        ),
        equation="abrade if start - end of the coat below > recoat maximum",
        source="the product's data; abrading a missed recoat window: common practice, no source",
    ),
    Rule(
        id="schedule.coat-ready",
        statement=(
            "From the end of placing a coat its cure times run in elapsed time at the job's "
            "surface temperature. The site is open to foot or vehicle traffic, and fully cured, "
            "when the last of its coats is."
        ),
        equation="ready = end of placing + cure time",
        source="the product's data",
    ),
)
