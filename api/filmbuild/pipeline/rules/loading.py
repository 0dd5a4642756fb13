"""Rules of the loading list."""

from filmbuild.pipeline.trace import Rule

RULES: tuple[Rule, ...] = (
    Rule(
        id="loading.power",
        statement=(
            "The machines of one activity run at once, one of a kind for each gang of its busiest "
            "task: what they draw is added, and the activity that draws the most is what the "
            "building must supply. Starting currents are not in it."
        ),
        equation="power = max over activities of sum(machines x power of each)",
        source="addition; the building's supply is for a licensed electrician to judge",
    ),
    Rule(
        id="loading.extraction",
        statement=(
            "The machines of one activity run at once, and the air that must be drawn off at each "
            "of them is added; likewise what the extractors of that activity draw off. For "
            "handheld grinders with a shroud that is 25 cubic feet a minute for each inch of "
            "wheel, or more where the catalogue says so."
        ),
        equation=(
            "needed = max over activities of sum(machines x extraction of each); drawn = "
            "sum(machines x air flow of each); lacking = max(needed - drawn, 0)"
        ),
        source="29 CFR 1926.1153 Table 1 for handheld grinders; addition",
    ),
)
