"""Rules of the takeoff."""

from filmbuild.pipeline.trace import Rule

RULES = (
    Rule(
        id="takeoff.floor",
        statement="Net floor is the outline less its islands and less what stays uncoated: drains, "
        "pits coated on their sides alone, and the feet of pipes and posts. What a slope adds to "
        "its plan, treads that lie outside the outline, and thresholds are added.",
        equation="floor = outline - islands - uncoated + added by slope + added treads "
        "+ thresholds",
        source="plane geometry (shoelace formula); outlines as simple polygons, OGC 06-103r4",
    ),
    Rule(
        id="takeoff.band",
        statement="Worked by hand is the floor within the stated width of a wall, found by "
        "offsetting the wall lines and uniting the strips, so that a corner counts once; a band of "
        "that width round each pipe and post; pit floors; added treads; and thresholds. On a sloped floor the "
        "band grows as the floor does. It is never more than the floor.",
        equation="(strips of walls + round collars + pit floors) x floor to plan + added treads "
        "+ thresholds",
        source="plane geometry; the default widths, and that pits, treads and thresholds are worked by "
        "hand, "
        "are common practice, no source",
    ),
    Rule(
        id="takeoff.rest-of-floor",
        statement="What a walk-behind machine or a wide roller reaches is the floor less the band.",
        equation="rest = floor - band",
        source="plane geometry",
    ),
    Rule(
        id="takeoff.edges",
        statement="Every side is wall unless the site says that a stretch is open (the coating "
        "stops on other floor) or joined (it runs on); island edges are wall unless said open. "
        "Doorways open their walls. Between areas that the site joins, the stretches they share "
        "(sides at most 5 mm apart) are joined in both. "
        "The rims of drains are open edges, and the reveals of thresholds walls.",
        equation="walls = edges + reveals - open - joined; open edges = open + rims of drains",
        source="as measured",
    ),
    Rule(
        id="takeoff.treads",
        statement="A flight has one tread fewer than risers. Treads outside the outline are added "
        "with their nosings; of treads inside it only the nosings are.",
        equation="(risers - 1) x width x (going + nosing)",
        source="US Army correspondence course EN5156, stair layout",
    ),
    Rule(
        id="takeoff.base-walls",
        statement="Base walls and footings are run times height, less their openings. The run is "
        "as measured, or that of the walls it follows.",
        equation="run x height - openings",
        source="plane geometry",
    ),
    Rule(
        id="takeoff.risers",
        statement="Step risers are width times rise for each riser.",
        equation="risers x width x rise",
        source="US Army correspondence course EN5156, stair layout",
    ),
    Rule(
        id="takeoff.curbs",
        statement="A curb is coated on its faces and its top.",
        equation="length x (faces x height + width)",
        source="plane geometry",
    ),
    Rule(
        id="takeoff.cove-face",
        statement="The face of a cove is a quarter of a circle along its run, and the straight "
        "face above it.",
        equation="run x (pi/2 x radius + straight face)",
        source="plane geometry",
    ),
    Rule(
        id="takeoff.cove-fillet",
        statement="The mortar of a cove fills the corner outside a quarter circle.",
        equation="run x radius^2 x (1 - pi/4)",
        source="plane geometry",
    ),
    Rule(
        id="takeoff.crack-chase",
        statement="The void of a chased crack is its length times the section of the chase.",
        equation="V: length x width x depth / 2; square: length x width x depth",
        source="plane geometry",
    ),
    Rule(
        id="takeoff.spalls",
        statement="Broken-out and low surface is its area times its mean depth.",
        equation="area x depth",
        source="plane geometry",
    ),
    Rule(
        id="takeoff.joints",
        statement="Joints to be filled are length times width times depth; honoured joints and "
        "joints coated over take no filler.",
        equation="length x width x depth",
        source="plane geometry",
    ),
    Rule(
        id="takeoff.vertical",
        statement="All coated upright work together.",
        equation="base walls + risers + step sides + curbs + cove face + pit sides + collars",
        source="plane geometry",
    ),
    Rule(
        id="takeoff.tape",
        statement="Tape runs along every wall above the coating and along every open edge, along "
        "the foot of base walls, the head and foot of each riser, both feet of a curb, the head "
        "and foot of pit sides and of collars, and along the open sides of steps: the foot of a "
        "coated side, else the ends of its risers and of added treads.",
        equation="walls + open edges + base walls + 2 x risers x width + step sides + 2 x curbs "
        "+ 2 x pit sides + 2 x collars",
        source="common practice, no source",
    ),
    Rule(
        id="takeoff.dust-barrier",
        statement="Openings without a door are closed with sheeting. Where the sheet is stated, "
        "sheets side by side overlap and the outer edges lap on to the wall on every side.",
        equation="(width + 2 x lap + (sheets - 1) x overlap) x (height + 2 x lap), with sheets = "
        "ceil((width + 2 x lap - overlap) / (sheet width - overlap))",
        source="plane geometry; that openings are closed is common practice, no source",
    ),
    Rule(
        id="takeoff.sheeting",
        statement="What stays in the room is covered with sheeting, overlapping and lapping over "
        "as a dust barrier does.",
        equation="(width + 2 x lap + (sheets - 1) x overlap) x (length + 2 x lap)",
        source="plane geometry; that it is covered is common practice, no source",
    ),
)
