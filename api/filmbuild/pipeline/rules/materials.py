"""Rules of the materials stage."""

from filmbuild.pipeline.trace import Rule

_PRACTICE = "common practice, no source"

RULES: tuple[Rule, ...] = (
    Rule(
        id="materials.coated-floor",
        statement="Every layer covers the floor of all areas.",
        equation="floor = floor of the takeoff's totals",
        source="the catalogue's coating system",
    ),
    Rule(
        id="materials.coated-verticals",
        statement="A layer that the system gives a film for verticals covers those of all areas.",
        equation="vertical = vertical of the takeoff's totals, or nothing",
        source="the catalogue's coating system",
    ),
    Rule(
        id="materials.loss-stated",
        statement="The system states what share of a layer's, or of its repairs', volume is lost.",
        equation="loss = loss fraction of the layer or the repairs",
        source="the catalogue's coating system",
    ),
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
        statement="The system, or the job, states the layer's wet film, thinner included.",
        equation="wet = wet film",
        source="the catalogue's coating system",
    ),
    Rule(
        id="materials.passes",
        statement=(
            "A layer that the job lays thicker than one coat of its product can be is split, where "
            "the job asks for it, into the fewest equal passes that are thin enough. Each is a coat "
            "of its own."
        ),
        equation="passes = ceil(wet film / most); wet film of each = wet film / passes",
        source="the product's stated range of wet film",
    ),
    Rule(
        id="materials.wet-film-from-spread-rate",
        statement="The system, or the job, states the area that a volume of liquid covers.",
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
        id="materials.dry-film-stated",
        statement="The system, or the job, states the layer's dry film.",
        equation="dry = dry film",
        source="the catalogue's coating system",
    ),
    Rule(
        id="materials.spread-rate-stated",
        statement="The system, or the job, states the area that a volume of liquid covers.",
        equation="spread rate = spread rate",
        source="the catalogue's coating system",
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
            "treads are floor. Where the system states the dry film of verticals, their wet film "
            "follows from it as that of the floor does."
        ),
        equation="V = floor x wet film + vertical x vertical wet film",
        source="geometry",
    ),
    Rule(
        id="materials.texture",
        statement=(
            "The first coat also fills the texture of the concrete: mean texture depth (ASTM E965, "
            "EN 13036-1) times floor times the share that the coat fills. Areas whose texture was "
            "not measured add nothing: in the mean over the whole floor they count as smooth."
        ),
        equation="V = mean depth x floor x fill, mean depth = sum(depth x floor of area) / floor",
        source="geometry; 1 L/m2 for each mm",
    ),
    Rule(
        id="materials.absorption",
        statement=(
            "The first coat also soaks into the concrete: a depth of film that the product states "
            "for low, medium and high porosity, times the surface of each: the floor, and the "
            "verticals that the coat covers."
        ),
        equation="V = low x low surface + medium x medium surface + high x high surface",
        source=_PRACTICE,
    ),
    Rule(
        id="materials.grain-voids",
        statement=(
            "A coat over a broadcast fills the voids among its topmost grains: a bed one mean grain "
            "deep, of which the void fraction is no grain, as far as the system has the coat fill "
            "them. So a coarser aggregate takes a larger grout coat."
        ),
        equation="V = grain size x void fraction x fill x floor",
        source=_PRACTICE,
    ),
    Rule(
        id="materials.net-volume",
        statement=(
            "What stays on the building: the film on the floor and on verticals, what fills the "
            "texture, what the concrete draws in, and what fills the voids among grains below."
        ),
        equation="net = floor film + vertical film + texture + absorption + grains",
        source="geometry",
    ),
    Rule(
        id="materials.soak",
        statement=(
            "Each roller or brush drinks its share once in each coat before it gives any back: one "
            "applicator for each of the people who place the floor."
        ),
        equation="soak = applicator soak x applicators",
        source=_PRACTICE,
    ),
    Rule(
        id="materials.residue",
        statement=(
            "Each mix leaves in its own container what the product states, and no less. How many "
            "mixes there are depends on the volume, and the volume on what they leave behind: the "
            "fewest mixes that bring what is needed on top of their own residue are taken."
        ),
        equation="residue = container residue x mixes",
        source=_PRACTICE,
    ),
    Rule(
        id="materials.ordered-volume",
        statement=(
            "What has to be mixed: the net volume over what is not lost, and what stays in each "
            "mixing container and in each applicator. Loss divides; it is not added on top."
        ),
        equation="V = net / (1 - loss) + residue + soak",
        source=_PRACTICE,
    ),
    Rule(
        id="materials.parts",
        statement=(
            "A volume in its parts by the ratio by volume, and in masses by their densities; "
            "mixing is ideal. Thinner is the part of the volume that is no part of the product."
        ),
        equation="V_i = V / (1 + t) x r_i / sum(r); m_i = V_i x density_i; thinner = V t / (1 + t)",
        source="algebra",
    ),
    Rule(
        id="materials.mix-plan",
        statement=(
            "The effort of an area is the number of full mixes that it takes: by what a full mix "
            "brings, or by how long it can be placed, whichever is more. So the number of mixes "
            "depends on no order, and no mix outlives its working life, which is never taken "
            "beyond the shift. A full mix is the largest whole kit that at least half of the coat "
            "can be mixed by, or else the most that the container holds and the product allows, or "
            "less where the life of large mixes would cost more mixes than their size saves. All "
            "mixes of a coat are given the time of a full one. "
            "The last mix of whole kits is what is left, and part-kits are measured by ratio where "
            "placing is slow; without kits all efforts are equal. What is too little for a mix is "
            "joined to the kit before it where limits allow, or shares its effort equally. Too "
            "little is less than a quarter of a kit, twice the residue of a container, or 50 mL, "
            "but no more than half a kit. A kit counts as in ratio where each part is within 2 per "
            "cent; a mix of its size is named after it while one of those bought is left, and is "
            "else measured from larger packs."
        ),
        equation=(
            "base = net / (1 - loss) + soak; full = whole kit - residue, or of those up to "
            "min(container, largest mix) - residue that of the least sum(effort); life = that of "
            "min(full, base) + residue; effort of area = max(time of area / (life - mixing time), net of area "
            "x base / net / full); mixes = ceil(sum(effort)), one less if joined; ordered = base + mixes "
            "x residue; effort of mix = 1 and, of the last, what is left, or sum(effort) / mixes"
        ),
        source=_PRACTICE,
    ),
    Rule(
        id="materials.mix-covers",
        statement=(
            "What a mix brings to the floor: its volume less what stays in its container, with "
            "loss and soak shared over all mixes. The areas take it one after the other, each its "
            "own net volume, so that a mix covers of an area what it brings of its net volume."
        ),
        equation=(
            "brought = (volume - container residue) x net / base; "
            "covers = sum(brought to area / net volume of area x surface of area)"
        ),
        source="geometry",
    ),
    Rule(
        id="materials.mix-placing-time",
        statement=(
            "The tasks of one mix follow one another: verticals, cut-in and floor, or the one task "
            "of a repair, each at the rate of one gang times the gangs that the crew makes. Set-up "
            "and condition factors are not in it. A mix takes of an area's time what it brings of "
            "its net volume."
        ),
        equation=(
            "time of area = sum(driver quantity of area / (rate x gangs)); "
            "placing time = sum(brought to area / net volume of area x time of area)"
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
        id="materials.void-found",
        statement="The void that a repair fills, as the takeoff found it.",
        equation="void = volume of cracks, spalls, joints or coves of the takeoff's totals",
        source="the takeoff",
    ),
    Rule(
        id="materials.void-mass",
        statement=(
            "A mortar whose product states the mass that fills a void, compacted, takes so much by "
            "mass; its volume as mixed follows by the densities of its parts. A batch yields its "
            "mass over the mass per void."
        ),
        equation=(
            "mass = void (1 - aggregate share) x mass per void; net = mass / mixed density; mixed "
            "density = sum(r_i x density_i) / sum(r_i)"
        ),
        source="algebra, with the mass per void that the product states",
    ),
    Rule(
        id="materials.crack-aggregate",
        statement="Dry aggregate in cracks: its share of the void times the density of its grains.",
        equation="placed = void x share x density; ordered = placed / (1 - loss)",
        source="geometry",
    ),
    Rule(
        id="materials.broadcast",
        statement=(
            "Aggregate thrown into a wet coat by mass per area of floor. What is swept off and "
            "reclaimed can only serve later coats, so that the first is bought whole."
        ),
        equation=(
            "placed = rate x floor; swept = placed x swept fraction; retained = placed - swept; "
            "reclaimed = placed x reclaimed fraction; ordered = placed - reclaimed before"
        ),
        source=_PRACTICE,
    ),
    Rule(
        id="materials.broadcast-to-refusal",
        statement=(
            "Aggregate thrown into a wet coat until no more is taken up: the grains form a bed "
            "whose voids the wet film fills. The liquid stays in that bed and is not lost. What "
            "lies loose on it is swept off, and counts as a share of all that is thrown."
        ),
        equation=(
            "rate = wet film / void fraction x (1 - void fraction) x density / (1 - swept "
            "fraction); placed = rate x floor; swept = placed x swept fraction; retained = placed - "
            "swept; reclaimed = placed x reclaimed fraction; ordered = placed - reclaimed before"
        ),
        source="geometry of a bed of grains; that it fills just so is " + _PRACTICE,
    ),
    Rule(
        id="materials.purchase",
        statement=(
            "The needs of all layers and repairs are added per part, what is in store is taken off, "
            "what goes off first coming first, and the least-cost set of packs that covers the rest "
            "is bought: an exact optimum, unless the purchase says that it is not proven; ties go to "
            "less surplus, then to fewer packs. A price break holds for all packs of its kind: from "
            "so many on, each of them costs less. A product that asks for one lot is taken from a "
            "lot in store that has enough of every part, or bought whole. The used share charges "
            "each pack's cost to its parts by volume, and of each part what is needed over what is "
            "bought; the rest is the value of the surplus, which keeps for the shelf life from the "
            "day of the prices. The runner-up is the best order with fewer of some pack. "
            "Where several jobs buy together, each bears of a product's cost what its need is of "
            "the whole need, by volume, and of an order's freight and charge what its needs of the "
            "order are by mass."
        ),
        equation=(
            "needed_i = sum of part i over the coats and repairs named; min sum(price x count) with "
            "bought_i = sum(count x content_i) >= needed_i - from stock_i; surplus_i = bought_i + from "
            "stock_i - needed_i; amount = price(count) x count; cost = sum(amount); used = sum over packs of price x count x sum over "
            "parts of (volume share_i x (needed_i - from stock_i) / bought_i); surplus value = cost - "
            "used; dearer = cost of the runner-up - cost; gross mass = sum(count x gross mass of a "
            "pack)"
        ),
        source="unbounded minimum-cost covering by whole numbers",
    ),
    Rule(
        id="materials.supplier-order",
        statement=(
            "All that is bought of one supplier comes in one order. It is shipped by its gross "
            "mass: at the price of the first band that goes up to as much, and above the last band "
            "at that band's price and so much for each further mass that is started. An order for "
            "less than the supplier's minimum is not filled up: the difference is charged on top. "
            "Packs are chosen so that goods, freight and charge together cost least, unless the "
            "order says that it is not proven: the least-cost packs, unless dearer and lighter ones "
            "save more freight than they cost. A supplier that states no freight ships free."
        ),
        equation=(
            "goods = sum(cost of a product's packs); mass = sum(gross mass of a product's packs); "
            "freight = price of band + ceil(max(mass - last band, 0) / each further) x price of "
            "further; short of minimum = max(minimum order - goods, 0); cost = goods + freight + "
            "short of minimum; min(max(goods, minimum order) + freight(mass)) over the covers of "
            "each need that no other beats in both cost and mass"
        ),
        source="dynamic programming over undominated pairs; the terms are the supplier's",
    ),
    Rule(
        id="materials.consumable",
        statement=(
            "A rule of the catalogue: a quantity for each so much of its driver, more by what is "
            "wasted, rounded up to whole units and to whole cartons, at least its minimum; nothing "
            "where the driver is zero. An area or a length counts for each time that a task of the "
            "rule is done. The concrete removed is the ground area times the depth for its surface "
            "profile. Things that outlive the job are charged at their share."
        ),
        equation=(
            "need = driver quantity x occasions / per x quantity / (1 - waste); count = "
            "max(ceil(need / sold in) x sold in, minimum); removed volume = sum(ground area x "
            "depth of its profile); each = unit price x charged fraction; amount = each x count"
        ),
        source=_PRACTICE,
    ),
    Rule(
        id="materials.wear",
        statement=(
            "Diamonds wear by the concrete they grind: each hardness takes its own share of what a "
            "set lasts for, and soft, gritty concrete the most. Otherwise as other consumables."
        ),
        equation=(
            "need = sum over hardness of area / life x occasions x quantity / (1 - waste); count = "
            "max(ceil(need / sold in) x sold in, minimum); each = unit price x charged fraction; "
            "amount = each x count"
        ),
        source=_PRACTICE,
    ),
)
