"""Rules of the labour stage."""

from filmbuild.pipeline.trace import Rule

_PRACTICE = "common practice, no source"

RULES: tuple[Rule, ...] = (
    Rule(
        id="labour.task",
        statement=(
            "Crew time of a task: the driver's quantity over the rate of all gangs, times the "
            "condition factors, and the set-up; never less than the minimum. A rate belongs to the "
            "workers of one gang together; there are as many gangs as the crew makes, up to the "
            "rate book's maximum. Set-up is not slowed by factors. The labour of a task is its "
            "crew time times the people of its gangs, set-up included. Factors of one area "
            "multiply, and are weighted over the areas by the driver's quantity (by floor where "
            "the driver is a count): hard or soft concrete, existing coating, and small area, "
            "which is a floor below the rate book's small area and never makes it slower than one "
            "of just that size. The factor hot holds for surfaces from 30 degC, cold up to "
            "10 degC. The tasks of a coat follow one another: verticals, edges, floor, broadcast; "
            "mixing is in their rates."
        ),
        equation=(
            "duration = max(minimum, set_up + quantity / (rate gangs) factor); "
            "gangs = min(floor(crew / workers), gangs_maximum); labour = duration workers gangs"
        ),
        source=_PRACTICE,
    ),
    Rule(
        id="labour.wages",
        statement=(
            "The whole crew is paid for as long as any of it works, set-ups included, and for the "
            "travel of one visit. Days spent waiting for cure are not paid. The rate is kept to "
            "six decimals and the amount is rounded once."
        ),
        equation=(
            "rate = wage (1 + burden); amount = round(people (crew time - overtime + travel) rate)"
        ),
        source=_PRACTICE,
    ),
    Rule(
        id="labour.overtime",
        statement=(
            "Crew time is packed into shifts of the calendar's length; what a shift holds beyond "
            "the rate book's standard day is overtime, at the rate times the class's multiplier."
        ),
        equation=(
            "overtime = n max(shift - standard, 0) + max(rest - standard, 0); "
            "n = floor(crew time / shift)"
        ),
        source=_PRACTICE,
    ),
    Rule(
        id="labour.equipment",
        statement=(
            "A machine is charged by whole days: the shifts that the crew time of its tasks fills, "
            "at least its minimum, for each machine. Each gang of the busiest task has its own."
        ),
        equation="days = machines max(ceil(used / shift), minimum_days); amount = days day_rate",
        source=_PRACTICE,
    ),
    Rule(
        id="labour.travel",
        statement="Mobilisation is paid for each visit; one visit is counted.",
        equation="travel = visits mobilisation",
        source=_PRACTICE,
    ),
    Rule(
        id="labour.cure-times",
        statement=(
            "Times after placing at the surface temperature: as the product states them; between "
            "two stated temperatures the logarithm of time runs straight in temperature; beyond "
            "them the product's rule takes over from the nearest. A time that is not stated is "
            "taken from the next later stage that is. Repairs wait for their recoat minimum before "
            "anyone works on them; their recoat maximum is not applied."
        ),
        equation=(
            "between: t = t1 (t2 / t1)^((T - T1) / (T2 - T1)); "
            "halving: t = t1 2^((T1 - T) / 10 K); "
            "arrhenius: t = t1 exp(Ea / R (1 / T - 1 / T1)), T in kelvin"
        ),
        source="the product's data; Arrhenius as in ASTM C1074; halving: " + _PRACTICE,
    ),
)
