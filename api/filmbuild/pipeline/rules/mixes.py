"""Rules of the mix plan: how long mixes last, when they are begun, and who places them."""

from filmbuild.pipeline.trace import Rule

_PRACTICE = "common practice, no source"

RULES: tuple[Rule, ...] = (
    Rule(
        id="materials.mix-working-life",
        statement=(
            "How long a mix can be worked, from when its parts meet. The product's table says it "
            "for the surface temperature; a mix larger than the amount it was measured in heats "
            "itself and sets sooner, by a power of the ratio of volumes (0.15 where the product "
            "states none), no sooner than the shortest share and no later than the longest share. "
            "A smaller mix has no more time than the table says unless the product states so. A "
            "product that does not say what amount it was measured in has the tabled time in any. "
            "Nothing is worked beyond the shift."
        ),
        equation=(
            "life = min(shift, working life x min(longest share, max(shortest share, (reference "
            "volume / volume) ^ exponent)))"
        ),
        source=(
            "that pot life falls with temperature and with the size of the batch: UFC 3-190-06 "
            "section 7; the power and its bounds: common practice, no source"
        ),
    ),
    Rule(
        id="materials.mix-sequence",
        statement=(
            "A timer is started when the first part is first stirred. Parts are put together after "
            "the premix, mixed, and placed at once. Where somebody is left over from the gangs, "
            "the next mix is ready when the last one is down, or as soon as it can be mixed; "
            "otherwise those who place it mix it afterwards. A mix must be down before its working "
            "life ends. Where the next mix goes on in the same area, its placing must have begun "
            "while the edge is wet: the product's wet edge time after this mix is down, or else "
            "within this mix's working life."
        ),
        equation=(
            "start of first = premix; down = start + mixing time + placing time; next start = "
            "max(start + mixing time + premix, down - mixing time) if mixed meanwhile, else down + "
            "premix; down by = start + working life; wet edge by = down + wet edge time, or down by"
        ),
        source=_PRACTICE,
    ),
    Rule(
        id="materials.placers",
        statement=(
            "The people of the job's crew, in the order in which the job names their classes, fill "
            "the gangs of each task one after the other. All gangs of a task place the same mix."
        ),
        equation="gangs = min(people / people per gang, most gangs of the rate book), rounded down",
        source=_PRACTICE,
    ),
)
