"""Rules of the materials stage."""

from filmbuild.pipeline.trace import Rule

_PRACTICE = "common practice, no source"

RULES: tuple[Rule, ...] = (
    Rule(
        id="materials.wet-film",
        statement=(
            "The wet film that dries to a given dry film: the dry film over the volume solids. "
            "Thinner, as a share of the unthinned volume, lowers the solids to VS / (1 + t)."
        ),
        equation="wet = dry (1 + t) / VS",
        source="UFC 3-190-06 section 2.1.5; the effect of thinner follows from it by algebra",
    ),
    Rule(
        id="materials.wet-film-stated",
        statement="The system states the layer's wet film, thinner included.",
        source="the catalogue's coating system",
    ),
    Rule(
        id="materials.wet-film-from-spread-rate",
        statement="The system states the area that a volume of liquid covers.",
        equation="wet = 1 / spread rate",
        source="UFC 3-190-06 section 2.1.5, read backwards",
    ),
    Rule(
        id="materials.dry-film",
        statement="The dry film that a wet film leaves.",
        equation="dry = wet VS / (1 + t)",
        source="UFC 3-190-06 section 2.1.5",
    ),
    Rule(
        id="materials.spread-rate",
        statement="Theoretical spread rate: the area one volume covers, before any loss.",
        equation="spread rate = 1 / wet; ft2/gal = 1604.17 VS / dry mil; m2/L = 10 VS% / dry um",
        source="UFC 3-190-06 section 2.1.5",
    ),
    Rule(
        id="materials.film-volume",
        statement=(
            "Floor times the wet film, and verticals (cove faces among them) times theirs. Added "
            "treads are floor."
        ),
        equation="V = floor wet + vertical wet_vertical",
        source="geometry",
    ),
    Rule(
        id="materials.texture",
        statement=(
            "The first coat also fills the texture of the concrete: mean texture depth (ASTM E965, "
            "EN 13036-1) times floor times the share that the coat fills. Areas whose texture was "
            "not measured add nothing."
        ),
        equation="V = depth floor fill",
        source="geometry; 1 L/m2 for each mm",
    ),
    Rule(
        id="materials.absorption",
        statement=(
            "The first coat also soaks into the concrete: a depth of film that the product states "
            "for low, medium and high porosity, times the floor and the verticals it covers."
        ),
        equation="V = sum of depth(porosity) (floor + vertical)",
        source=_PRACTICE,
    ),
    Rule(
        id="materials.ordered-volume",
        statement=(
            "What has to be mixed: the net volume over what is not lost, and what stays in each "
            "mixing container and in each applicator. Loss divides; it is not added on top."
        ),
        equation="V = net / (1 - loss) + residue x mixes + soak x people placing",
        source=_PRACTICE,
    ),
    Rule(
        id="materials.parts",
        statement=(
            "A volume in its parts by the ratio by volume, and in masses by their densities; "
            "mixing is ideal. Thinner is the part of the volume that is no part of the product."
        ),
        equation="V_i = V / (1 + t) r_i / sum r; m_i = V_i density_i",
        source="algebra",
    ),
    Rule(
        id="materials.mix-plan",
        statement=(
            "A mix is no larger than the container, than the product allows, and than the crew "
            "can place in the working life that mixing leaves. The slowest area decides: "
            "its placing time is floor over the field rate and verticals over theirs, with all "
            "gangs; condition factors are not applied. Whole kits are taken where one fits, and "
            "the rest is a part-kit measured by ratio; otherwise all mixes are equal. A kit counts "
            "as in ratio where each part is within 2 per cent; a mix of its size is named after it "
            "while one of those bought is left, and is else measured from larger packs. Verticals are placed with the floor "
            "of their area, from the same mixes. Working life is never taken beyond the shift."
        ),
        equation=(
            "M = min(container, largest mix, (life - mixing time) / max(time / film volume)); "
            "n = ceil(base / (M - residue)), base = net / (1 - loss) + soak"
        ),
        source=_PRACTICE,
    ),
    Rule(
        id="materials.void-volume",
        statement=(
            "A repair takes the void that the takeoff found. Where dry aggregate goes into cracks, "
            "its grains take their share of the void and the liquid takes the rest."
        ),
        equation="net = void (1 - aggregate share)",
        source="geometry",
    ),
    Rule(
        id="materials.crack-aggregate",
        statement="Dry aggregate in cracks: its share of the void times the density of its grains.",
        equation="m = void share density / (1 - loss)",
        source="geometry",
    ),
    Rule(
        id="materials.broadcast",
        statement=(
            "Aggregate thrown into a wet coat by mass per area of floor. What is swept off and "
            "reclaimed can only serve later coats, so that the first is bought whole."
        ),
        equation="placed = rate floor; ordered = placed - reclaimed from earlier coats",
        source=_PRACTICE,
    ),
    Rule(
        id="materials.purchase",
        statement=(
            "The needs of all layers and repairs are added per part, and the least-cost set of "
            "packs that covers every part is bought: an exact optimum; ties go to less surplus, "
            "then to fewer packs. The used share charges each pack's cost to its parts by volume, "
            "and of each part what is needed over what is bought."
        ),
        equation=(
            "min sum price x count with bought_i >= needed_i; "
            "used = sum over packs of cost x sum over parts of (volume share x needed / bought)"
        ),
        source="unbounded minimum-cost covering by whole numbers",
    ),
    Rule(
        id="materials.consumable",
        statement=(
            "A rule of the catalogue: a quantity for each so much of its driver, rounded up to "
            "whole units, at least its minimum; nothing where the driver is zero. Things that "
            "outlive the job are charged at their share."
        ),
        equation="count = max(ceil(driver / per x quantity), minimum)",
        source=_PRACTICE,
    ),
)
