"""Rules of the takeoff."""

from filmbuild.pipeline.trace import Rule

RULES = (
    Rule(
        id="takeoff.floor",
        statement="Net floor is the outline less its islands; treads that lie outside the outline "
        "are added.",
        equation="floor = outline - islands + added treads",
        source="plane geometry (shoelace formula); outlines as simple polygons, OGC 06-103r4",
    ),
    Rule(
        id="takeoff.band",
        statement="The floor within the stated width of a wall, found by offsetting the wall lines "
        "and uniting the strips, so that a corner counts once; added treads are worked by hand "
        "throughout.",
        equation="area of union(strips of walls) inside the floor + added treads",
        source="plane geometry; the default widths are common practice, no source",
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
        "stops on other floor) or joined (it runs on); island edges are wall unless said open.",
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
        statement="Base walls and footings are run times height.",
        equation="run x height",
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
        statement="The face of a cove is a quarter of a circle along its run.",
        equation="run x pi/2 x radius",
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
        statement="A spall is its area times its mean depth.",
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
        equation="base walls + risers + curbs + cove face",
        source="plane geometry",
    ),
    Rule(
        id="takeoff.tape",
        statement="Tape runs along every wall above the coating and along every open edge, along "
        "the foot of base walls, the head and foot of each riser, and both feet of a curb.",
        equation="walls + open edges + base walls + 2 x risers x width + 2 x curbs",
        source="common practice, no source",
    ),
    Rule(
        id="takeoff.dust-barrier",
        statement="Openings without a door are closed with sheeting.",
        equation="width x height",
        source="common practice, no source",
    ),
)
