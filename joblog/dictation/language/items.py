"""Words and patterns of what tells one item from another: sizes, lengths, profiles, colours."""

from __future__ import annotations

WORDS: dict[str, str] = {
    "COLOUR": "white, black, brown, almond, bronze, dark bronze, light bronze, gray, grey, dark "
    "gray, dark grey, light gray, light grey, charcoal, green, dark green, forest green, red, "
    "barn red, blue, navy, clay, sand, sandstone, cream, tan, beige, ivory, linen, wicker, "
    "royal brown, dark brown, light brown, musket brown, copper, silver, off white, pearl gray, "
    "slate, khaki, burgundy, taupe, natural clay, bright white, snow white, clear",
    "SHADE": "colonial, antique, arctic, desert, royal, natural, pebble, heritage, rustic, misty, "
    "sterling, autumn, weathered, hunter, cottage, imperial, classic",
    "PROFILE": "vented, solid, center vented, center vent, fully vented, full vented, non vented, "
    "unvented, hidden vent, perforated, smooth, textured, woodgrain, wood grain, dutch lap, "
    "clapboard, beaded, board and batten, ogee, k style, half round, crimped, corrugated, "
    "galvanized, stainless, hot dipped, ring shank, spiral, pressure treated, treated, "
    "double four, double five, double 4, double 5, triple three, triple four, tongue and "
    "groove, beveled, ribbed",
    # What it is made of tells no lines apart where no line says it.
    "MATERIAL": "aluminum, vinyl, metal, steel, plastic, pvc, composite, wooden, fiberglass",
    "PENNY": "penny, d",
    "POUND": "pound, lb",
    "VOLUME": "gallon, ounce, quart, pint",
    "LONGS": "eights, tens, twelves, fourteens, sixteens, eighteens, twenties",
    "PANEL": "panel, panels",
    "GAUGE": "gauge, ga",
    "FIVEQUARTER": "five quarter, five quarters, 5/4, 5 quarter, 5 quarters, five fourths",
    "FOOTER": "footer, footers",
    "COLORED": "colored, color, coloured, colour",
    "OF": "of",
    "BY": "by",
    "WITHIN": "in",
    # What is bought by the piece or the stick and seldom stands in a catalog of eaves and walls.
    "GOODS": "quarter round, quarter rounds, crown molding, crown moulding, base shoe, shoe "
    "molding, shoe moulding, cove molding, brick mold, brick mould, brickmold, brickmould, door "
    "casing, window casing, casing, baseboard, joist hanger, joist hangers, post base, post "
    "bases, hurricane tie, hurricane ties, ridge vent, ice and water, ice and water shield, foam "
    "board, foam boards, z bar, z flashing, lath, furring, furring strips, lattice, decking, "
    "deck boards, lag bolt, lag bolts, lags, carriage bolts, washers, anchors, pop rivets, "
    "rivets, zip screws, drywall screws, hinges, door stop, weatherstrip, weather strip, "
    "window tape, flashing tape, butyl tape, sill seal, spray foam, construction adhesive, liquid "
    "nails, rebar, concrete mix, mortar mix, pavers, splash block, splash blocks, gutter guard, "
    "gutter guards, leaf guard, downspout strap, downspout straps, pipe boot, pipe boots, "
    "batten, battens, shims, shakes, cedar shakes, cedar shingles, lag screws",
}


def _one_and_many(phrases: str) -> str:
    """The phrases as they are said of one and of several."""
    said = [" ".join(phrase.split()) for phrase in phrases.split(",")]
    other = (one[:-1] if one.endswith("s") and one[-2] != "s" else f"{one}s" for one in said)
    return ", ".join(dict.fromkeys([*said, *other]))


WORDS["GOODS"] = _one_and_many(WORDS["GOODS"])
SHAPES: dict[str, str] = {
    "CROSSED": "( NUM | MIX | FRAC | FIVEQUARTER ) INCH? by ( NUM | MIX ) INCH? ( by NUM FOOT? )?",
    "ATTRIBUTE": "( cross=CROSSED | penny=( NUM PENNY ) | gauge=( NUM GAUGE ) "
    "| weight=( NUM POUND ) | volume=( NUM VOLUME ) | number=( number NUM ) "
    "| foot=( ( NUM | MIX ) FOOT ) | footer=( NUM FOOTER ) "
    "| inch=( ( NUM | MIX | FRAC | a | an )? INCH ( AND? FRAC )? ) | five=FIVEQUARTER "
    "| bare=( MIX | FRAC ) | profile=( PROFILE | MATERIAL ) | colour=( SHADE? COLOUR COLORED? ) )",
}

SENTENCES: tuple[tuple[str, str], ...] = ()
