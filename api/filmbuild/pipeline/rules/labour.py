"""Rules of the labour stage."""

from filmbuild.pipeline.trace import Rule

_PRACTICE = "common practice, no source"

RULES: tuple[Rule, ...] = (
    Rule(
        id="labour.task",
        statement=(
            "Crew time of a task: the driver's quantity over the rate of all gangs, times the "
            "condition factors, and the set-up; never less than the minimum; to the millisecond. "
            "The most specific production of the rate book counts: one for the layer, before one "
            "for the role of its product, before one for any work. A rate belongs to the "
            "workers of one gang together; there are as many gangs as the crew makes, up to the "
            "rate book's maximum. Set-up is not slowed by factors. The labour of a task is its "
            "crew time times the people of its gangs, set-up included. Factors of one area "
            "multiply, and are weighted over the areas by the driver's quantity (by floor where "
            "the driver is a count): hard or soft concrete, existing coating, hard access as the site "
            "states it, steep, and small area, "
            "which is a floor below the rate book's small area and never makes it slower than one "
            "of just that size. An area is steep where its mean slope reaches the rate book's, "
            "5 % unless it says otherwise: a floor steeper than 1 in 20 is a ramp (2010 ADA "
            "Standards 106.5). The factors hot and cold hold for surfaces from and up to the "
            "rate book's temperatures, 30 degC and 10 degC unless it says otherwise. The tasks of a coat follow one another: verticals, edges, floor, broadcast; "
            "mixing is in their rates. What is ground after repairs is a strip of 100 mm along "
            "filled cracks and joints, and the spalls. Two tasks of the preparation that stand next to "
            "one another go on side by side where the rate book lets them, they need no machine of "
            "the same kind, and the crew, divided between them, is done sooner than with one after "
            "the other."
        ),
        equation=(
            "duration = max(minimum, set_up + quantity / (rate gangs) factor); "
            "factor = over_areas and those of hot and cold, multiplied; "
            "over_areas = sum of (quantity of an area times its factors) / sum of quantities; "
            "labour = duration gangs workers_per_gang"
        ),
        source=_PRACTICE,
    ),
    Rule(
        id="labour.crew",
        statement=(
            "Of the people available as few are taken as do the job like all of them: enough for "
            "every task, with each coat inside a shift, the floor in no more sections than all of "
            "them would need, and every mix placed within its working life. People are taken in "
            "the order in which they are listed. Where all of them are not enough, all are taken, "
            "and the answer says what would be."
        ),
        source=_PRACTICE,
    ),
    Rule(
        id="labour.sections",
        statement=(
            "Where the coats of the whole floor do not all fit inside a shift, the floor is divided "
            "into as few sections as possible: areas in placing order, each section taking in as "
            "many as its longest coat fits into a shift for, set-ups included. Sections end where "
            "two areas meet: at a doorway, at an edge, or at walls. An area whose coat alone is "
            "longer than a shift is divided into equal parts along its joints, if these, filled, "
            "honoured or coated over, are together long enough to run across it between all parts: "
            "across a rectangle of its floor and edges. Each coat is placed section by section, and "
            "waits in each for the coat below it there."
        ),
        equation=(
            "floor = sum of (share of an area times its floor); longest <= shift; parts of an area "
            "<= 1 + joints / narrow_side; narrow_side = (edges - sqrt(edges^2 - 16 floor)) / 4"
        ),
        source=_PRACTICE,
    ),
    Rule(
        id="labour.productive",
        statement="The time that people spend on tasks, set-ups included, of all tasks together.",
        equation="productive = sum of the labour of the tasks",
        source=_PRACTICE,
    ),
    Rule(
        id="labour.shifts",
        statement=(
            "Without dates, crew time is packed into full shifts, without their breaks, in one "
            "visit. A day on which anything is done is paid for the least that the rate book pays "
            "a day for; what a shift holds beyond the standard day is overtime."
        ),
        equation=(
            "n = floor(crew_time / shift); rest = crew_time - n shift; "
            "shifts = ceil(crew_time / shift); "
            "paid_time = n max(shift, minimum_paid_day) + (max(rest, minimum_paid_day) if rest); "
            "overtime = n max(shift - standard_day, 0) + max(rest - standard_day, 0)"
        ),
        source=_PRACTICE,
    ),
    Rule(
        id="labour.wages",
        statement=(
            "The whole crew is paid for as long as any of it works, set-ups included, and for its "
            "travel. Days spent waiting for cure are not paid. The rate is kept to six decimals, as "
            "are the hours, and the amount is rounded once. Where the paid time of a visit falls short "
            "of the rate book's minimum call-out, the rest of it is paid as well."
        ),
        equation=(
            "rate = wage (1 + burden_percent / 100); "
            "paid = workers (paid_time - overtime + call_out + travel_per_worker); "
            "call_out = sum over visits of max(minimum_call_out - paid_time of the visit, 0); "
            "amount = round(paid rate)"
        ),
        source=_PRACTICE,
    ),
    Rule(
        id="labour.overtime",
        statement="Time beyond the standard day is paid at the rate times the class's multiplier.",
        equation=(
            "rate = wage (1 + burden_percent / 100) multiplier; paid = workers overtime; "
            "amount = round(paid rate)"
        ),
        source=_PRACTICE,
    ),
    Rule(
        id="labour.paid",
        statement=(
            "The paid time of the whole crew, overtime included, what is missing to the minimum "
            "call-out of each visit, and the travel of each worker, for each visit or each day of "
            "work as the rate book says."
        ),
        equation="paid = workers (paid_time + call_out + hours_per_worker (visits or days))",
        source=_PRACTICE,
    ),
    Rule(
        id="labour.equipment",
        statement=(
            "Without dates, a machine is charged for the shifts that the crew time of its tasks "
            "fills, at least its minimum, for each machine. Each gang of the busiest task has its "
            "own."
        ),
        equation=("days = machines max(ceil(used / shift), minimum_days); amount = days day_rate"),
        source=_PRACTICE,
    ),
    Rule(
        id="labour.travel",
        statement="Mobilisation is paid for each visit.",
        equation="travel = visits mobilisation",
        source=_PRACTICE,
    ),
    Rule(
        id="labour.cure-times",
        statement=(
            "Times after placing at the surface temperature: as the product states them; between "
            "two stated temperatures the logarithm of time runs straight in temperature; beyond "
            "them the product's rule takes over from the nearest. The stated times that each comes "
            "from are shown. A time that is not stated is "
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
