"""Rules of the takeoff for pits, slopes, texture, stripping and the readings to take."""

from filmbuild.pipeline.trace import Rule

RULES = (
    Rule(
        id="takeoff.total",
        statement="A total is the sum over all areas of the site, correctly rounded, so that their "
        "order does not move it.",
        equation="total = sum over areas",
        source="arithmetic",
    ),
    Rule(
        id="takeoff.thresholds",
        statement="Where the coating runs through a doorway between two areas that the plan shows "
        "apart, the floor in the wall between them is added to the area that the doorway is given "
        "from, the first on the site where both give it. Its two reveals are wall where the wall "
        "is 150 mm thick or more; in thinner ones a frame covers them.",
        equation="sum of width x depth; reveals = 2 x depth",
        source="plane geometry; which area it is added to, and from which depth reveals count, "
        "are common practice, no source",
    ),
    Rule(
        id="takeoff.lengths",
        statement="A length over several pieces is their sum.",
        equation="sum of lengths",
        source="as measured",
    ),
    Rule(
        id="takeoff.crack-sand",
        statement="Where a crack states the share of its void that grains of sand fill, that share "
        "is sand.",
        equation="sum of void x sand fraction",
        source="as stated",
    ),
    Rule(
        id="takeoff.crack-liquid",
        statement="The liquid fills what the grains of sand leave of the void.",
        equation="void - sand",
        source="plane geometry",
    ),
    Rule(
        id="takeoff.cove-length",
        statement="The run of a cove is as measured, or that of the walls it follows.",
        equation="sum of runs",
        source="as measured",
    ),
    Rule(
        id="takeoff.running-length",
        statement="Linear work is told by its run: base walls and coves by theirs, curbs by their "
        "length, and steps by risers times width. Work of two kinds along one wall counts twice.",
        equation="sum of runs",
        source="common practice, no source",
    ),
    Rule(
        id="takeoff.step-sides",
        statement="The coated open side of a flight that stands on the floor is as high under each "
        "tread as the tread. Over a slab it is the triangles of the steps and the slab's band "
        "along the slope.",
        equation="solid: rise x going x n (n - 1) / 2; over a slab: (n - 1) x (rise x going / 2 + "
        "waist x sqrt(rise^2 + going^2)); n risers, times open sides",
        source="plane geometry; treads are one fewer than risers, US Army correspondence course "
        "EN5156, stair layout",
    ),
    Rule(
        id="takeoff.slope",
        statement="A sloped floor is larger than its plan; what it adds to the plan is counted. "
        "It is shared between machine and hand as the floor is, so that bands are measured in "
        "plan.",
        equation="plan area x (sqrt(1 + gradient^2) - 1)",
        source="plane geometry; the sharing is common practice, no source",
    ),
    Rule(
        id="takeoff.pit-floor",
        statement="The floor of a pit or trench takes the place of the floor that it is sunk in.",
        equation="count x plan area, where coated",
        source="plane geometry",
    ),
    Rule(
        id="takeoff.pit-sides",
        statement="The sides of a pit are coated below the rebate of its grating; a trench that "
        "runs out at an end has no side there.",
        equation="count x sides x (depth - rebate)",
        source="plane geometry",
    ),
    Rule(
        id="takeoff.footprint",
        statement="Floor under a drain, pipe or post is not coated.",
        equation="count x (pi/4 x diameter^2, or width x length)",
        source="plane geometry",
    ),
    Rule(
        id="takeoff.drain-edge",
        statement="The coating is finished against the rim of each drain.",
        equation="count x (pi x diameter, or 2 x (width + length))",
        source="plane geometry",
    ),
    Rule(
        id="takeoff.collars",
        statement="Pipes and posts are coated all round to their height.",
        equation="count x perimeter x height",
        source="plane geometry",
    ),
    Rule(
        id="takeoff.patch-area",
        statement="Broken-out and low surface together; what has no area stated is the whole "
        "floor.",
        equation="sum of areas",
        source="as measured",
    ),
    Rule(
        id="takeoff.strip-area",
        statement="Existing coating to be stripped, as listed; what has no area stated is the "
        "whole floor. A floor that is only said to be coated is not stripped as a task of its "
        "own: the rate book slows its grinding.",
        equation="sum of areas",
        source="as measured",
    ),
    Rule(
        id="takeoff.strip-volume",
        statement="Stripped coating is its area times its thickness, before it is broken up.",
        equation="sum of area x thickness",
        source="plane geometry",
    ),
    Rule(
        id="takeoff.texture-stated",
        statement="The mean depth of the concrete's texture is as stated.",
        source="as measured",
    ),
    Rule(
        id="takeoff.texture-sand-patch",
        statement="Sand of a known volume is spread to a round patch level with the peaks. The "
        "mean texture depth is the volume over the area of the patch, whose diameter is the mean "
        "of at least four readings; several patches are averaged.",
        equation="MTD = 4 V / (pi D^2)",
        source="ASTM E965; EN 13036-1",
    ),
    Rule(
        id="takeoff.texture-assumed",
        statement="Without a reading, the mean texture depth is assumed from the ICRI concrete "
        "surface profile: 0.10, 0.15, 0.20, 0.30, 0.45, 0.65, 1.0, 1.4, 2.0 and 3.0 mm for "
        "profiles 1 to 10. Take a sand patch reading to replace it.",
        source="common practice, no source: ICRI 310.2R-2013 names the profiles but gives them no "
        "mean depth; profile 10 is taken at half of the 6 mm that its amplitude exceeds",
    ),
    Rule(
        id="takeoff.moisture-tests",
        statement="Three tests for the first 1000 ft2 of a slab and one for each further 1000 ft2 "
        "or part. The two methods do not convert into one another. The floors of one level are "
        "taken as one slab.",
        equation="3 + max(0, ceil(floor / 1000 ft2) - 1)",
        source="ASTM F1869 (from memory); ASTM F2170",
    ),
    Rule(
        id="takeoff.film-spots",
        statement="Film thickness is read on areas of 100 ft2, at five spots each, and a spot is "
        "the mean of three readings: up to 300 ft2 on every 100 ft2 or part, up to 1000 ft2 on "
        "three, and on one more for each further 1000 ft2 or part; for each coat measured.",
        equation="areas = min(3, ceil(coated / 100 ft2)) + max(0, ceil(coated / 1000 ft2) - 1); "
        "spots = 5 x areas; readings = 3 x spots",
        source="SSPC-PA 2, 2012 to 2018; on concrete the same plan is SSPC-PA 9 (from memory)",
    ),
)
