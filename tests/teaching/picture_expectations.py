"""What the words of each symptom promise of its drawing, in measured features: (feature, least, most)."""

MOST = 99.0
NEVER = -99.0

# features in logarithms: count log(1 + marks), size log(plate widths), elongation log(length / width)
EXPECTED = {
    # "Silver solution runs off in greasy lines or tears": long marks, up and down
    "greasy-film": (("upright", 0.35, MOST), ("elongation", 0.4, MOST), ("count", 3.0, MOST)),
    # "bluish and clear instead of creamy": a shift to blue everywhere, the dark plate through it
    "thin-blue-film": (("blue", 0.12, MOST), ("lighter", NEVER, -0.9), ("changed", 0.9, MOST)),
    # "ridges, waves or furrows": broad lines with light and dark flanks
    "uneven-film": (("sharpness", 2.0, MOST), ("changed", 0.5, MOST), ("lighter", -0.7, 0.85), ("count", 0.0, 4.2)),
    # "fine parallel lines the way the collodion drained"
    "diagonal-streaks": (("slant", 0.7, MOST), ("fineness", 0.5, MOST), ("elongation", 0.5, MOST), ("count", 3.5, MOST)),
    # "crape, netting or roof tiles": very many small meshes without a direction
    "crapy-film": (("count", 5.0, MOST), ("common", 0.0, 0.3), ("sharpness", 5.0, MOST)),
    # "puckers, frills at the edges"
    "film-lifting": (("edge", 1.2, MOST), ("sharpness", 1.3, MOST), ("lighter", -0.8, 0.8)),
    # "tears": some large marks, dark holes and light folds
    "soft-torn-film": (("count", 1.0, 3.2), ("size", -4.3, -1.5), ("lighter", -0.85, 0.85), ("edge", 0.0, 2.0)),
    # "sprinkled with fine sand": very many fine marks evenly over the film
    "sanded-film": (("count", 5.5, MOST), ("fineness", 0.8, MOST), ("size", NEVER, -3.9)),
    # "a loose skin lies on the film": large darker sheets
    "scum-on-film": (("changed", 0.25, 0.9), ("lighter", NEVER, -0.7), ("sharpness", 2.0, MOST)),
    # "creamy or yellow parts remain"
    "yellow-left": (("blue", NEVER, -0.015), ("lighter", 0.8, MOST), ("changed", 0.07, MOST), ("fineness", 0.0, 0.3)),
    # "blue or green scum or tint"
    "blue-green-stain": (("blue", 0.03, MOST), ("green", 0.02, MOST), ("changed", 0.9, MOST)),
    # "half-tones thin out, break up or vanish": darker, in ragged islands
    "eaten-picture": (("lighter", NEVER, -0.9), ("sharpness", 1.4, MOST), ("changed", 0.5, MOST)),
    # "whitish haze, scum or tide of drops"
    "drying-haze": (("lighter", 0.85, MOST), ("sharpness", 1.3, MOST), ("common", 0.0, 0.3), ("changed", 0.08, 1.0)),
    # "fades, yellows, spots": yellow, flatter, most at the edges
    "fades-later": (("blue", NEVER, -0.08), ("contrast", 0.0, 0.7), ("edge", 1.1, MOST)),
    # "matt, milky or whitish": darks and lights alike lifted
    "varnish-bloom": (("shadows", 0.15, MOST), ("lights", 0.1, MOST), ("sharpness", 0.8, MOST)),
    # "ridges, streaks or waves", amber
    "varnish-ridges": (("changed", 0.35, MOST), ("elongation", 0.8, MOST), ("blue", NEVER, -0.02), ("sharpness", 1.3, MOST)),
    # "slides, wrinkles": low on the plate
    "varnish-dissolves": (("down", 0.65, MOST), ("sharpness", 1.1, MOST), ("changed", 0.12, 0.6)),
    # "cracks": very many joined dark lines with no direction
    "varnish-cracks": (("sharpness", 4.0, MOST), ("common", 0.0, 0.25), ("lighter", -0.8, 0.3), ("count", 3.0, MOST)),
    # "whites sink several tones": one half darker
    "varnish-darkens": (("lighter", NEVER, -0.5), ("across", 0.6, MOST), ("lights", NEVER, -0.03), ("changed", 0.2, 0.6)),
    # "spots with a tail": a dozen long marks with one direction
    "comets": (("elongation", 0.9, MOST), ("common", 0.35, MOST), ("count", 2.0, 3.4), ("size", -4.0, -2.4)),
    # "short lines that wriggle": long marks without a direction
    "worm-lines": (("elongation", 0.5, MOST), ("common", 0.0, 0.35), ("count", 2.5, 3.8)),
    # "shell-like markings growing in from the edge"
    "oyster-shell-marks": (("edge", 1.5, MOST), ("face", 0.0, 0.3), ("fineness", 0.15, MOST), ("sharpness", 1.3, MOST)),
    # "shaped like a splash, from a corner"
    "splash-stains": (("across", 0.7, MOST), ("down", 0.75, MOST), ("lighter", 0.8, MOST)),
    # "sharp lines straight across"
    "line-across": (("upright", NEVER, -0.5), ("common", 0.5, MOST), ("repeats", 0.0, 0.25)),
    # "straight streaks running up and down"
    "dip-streaks": (("upright", 0.85, MOST), ("elongation", 1.8, MOST), ("count", 2.3, MOST)),
    # "curved lines, bands where the developer wave stopped"
    "developer-streaks": (("fineness", 0.1, 0.5), ("common", 0.2, 0.8), ("changed", 0.1, 0.5), ("down", 0.0, 0.6)),
    # "one dark or clear patch, with a lighter glow round it"
    "pour-spot": (("across", 0.1, 0.45), ("down", 0.1, 0.45), ("count", 0.5, 1.7), ("lighter", -0.5, 0.75)),
    # "gathers in drops and rivers": darker wet shapes on the creamy film
    "developer-repelled": (("count", 1.6, MOST), ("lighter", NEVER, -0.5), ("changed", 0.25, 0.8), ("sharpness", 2.0, MOST)),
    # "a smear starting from the corner held"
    "corner-streaks": (("across", 0.0, 0.35), ("down", 0.75, MOST), ("fineness", 0.3, MOST), ("face", 0.0, 0.2)),
    # "a margin took no picture and stays clear and dark"
    "dead-edge": (("edge", 1.5, MOST), ("lighter", NEVER, -0.6), ("fineness", 0.0, 0.35), ("count", 0.5, 1.3)),
    # "comb-like or map-like patches"
    "drying-marks": (("edge", 1.1, MOST), ("fineness", 0.35, 0.95), ("changed", 0.015, 0.35)),
    # "needle-, spear- or star-shaped marks"
    "crystal-marks": (("count", 1.9, 3.0), ("lighter", 0.9, MOST), ("fineness", 0.8, MOST)),
    # "a light band, wedge or ray, in one place only"
    "local-fog": (("lighter", 0.9, MOST), ("changed", 0.03, 0.3), ("fineness", 0.0, 0.3), ("count", 0.5, 1.9)),
    # "fine lines or rubs, bare in the film"
    "scratches": (("elongation", 0.8, MOST), ("lighter", NEVER, 0.1), ("count", 2.0, 3.6), ("changed", 0.0, 0.06)),
    # "no picture, no veil"
    "blank-plate": (("contrast", 0.0, 0.15), ("sharpness", 0.0, 0.1), ("lights", NEVER, -0.2)),
    # "the detail is there, but the lights have no body"
    "weak-picture": (("contrast", 0.2, 0.45), ("shadows", -0.1, 0.0), ("lights", -0.25, -0.08), ("sharpness", 0.2, 0.45)),
    # "thin or holed in places"
    "eaten-film": (("lighter", NEVER, -0.9), ("count", 1.8, 3.2), ("size", -3.6, -1.5)),
    # "whitish, milky or matt" where it should be clear
    "milky-film": (("shadows", 0.18, MOST), ("lights", 0.2, MOST), ("fineness", 0.0, 0.1)),
    # "white, milky or curdled where water touches"
    "milky-rinse": (("lighter", 0.9, MOST), ("sharpness", 2.0, MOST), ("blue", 0.02, MOST)),
    # "spots and streaks start at a cut edge and run inward"
    "edge-streaks": (("edge", 2.0, MOST), ("elongation", 1.2, MOST), ("count", 2.5, MOST), ("face", 0.0, 0.1)),
    # "rainbow colours, cracks"
    "rainbow-film": (("hues", 0.12, MOST), ("sharpness", 1.3, MOST), ("changed", 0.8, MOST)),
    # "dark spots that are in the sitter"
    "subject-spots": (("face", 8.0, MOST), ("edge", 0.0, 0.05), ("lighter", NEVER, -0.9), ("changed", 0.0, 0.06)),
    # "many tiny holes, black"
    "pinholes": (("count", 4.0, MOST), ("lighter", NEVER, -0.95), ("size", NEVER, -4.0), ("fineness", 1.2, MOST)),
    # "separate specks": dozens, round
    "specks": (("count", 2.6, 3.8), ("elongation", 0.0, 0.6), ("size", -4.3, -3.1), ("fineness", 1.0, MOST)),
    # "from a pea to a coin in size": few, round, large
    "round-marks": (("count", 1.2, 2.9), ("elongation", 0.0, 0.8), ("size", -3.2, -1.2)),
    # "a veil over everything, the deepest shadows too"; lights less
    "fog": (("shadows", 0.1, MOST), ("lighter", 0.9, MOST), ("contrast", 0.0, 0.7), ("lights", -0.05, 0.15)),
    # "wipes off": a veil with a clear stroke
    "surface-veil": (("shadows", 0.18, MOST), ("sharpness", 1.8, MOST), ("common", 0.25, MOST)),
    # "only the highest lights came out"
    "dark-picture": (("lighter", NEVER, -0.95), ("changed", 0.8, MOST), ("shadows", NEVER, -0.08), ("contrast", 0.3, 0.8)),
    # "light everywhere and little contrast"
    "flat-picture": (("shadows", 0.2, MOST), ("lights", 0.12, MOST), ("contrast", 0.0, 0.75), ("fineness", 0.0, 0.1)),
    # "hard jumps; the half-tones are missing"
    "hard-picture": (("contrast", 1.2, MOST), ("changed", 0.8, MOST), ("lighter", NEVER, -0.5)),
    # the second of two plates is too dark
    "slow-plate": (("across", 0.65, MOST), ("lighter", NEVER, -0.9), ("lights", -0.1, 0.05)),
    # the first of three plates already has its picture
    "flashes-up": (("across", 0.3, 0.6), ("lighter", 0.7, MOST), ("changed", 0.1, 0.5)),
    # two of three plates have no picture yet
    "comes-late": (("lighter", NEVER, -0.9), ("across", 0.5, 0.7), ("changed", 0.1, 0.4)),
    # "the lights are blue, slaty or partly turned dark"
    "blue-lights": (("blue", 0.01, MOST), ("face", 3.0, MOST), ("shadows", -0.02, 0.02)),
    # "the lights are grey, brown or leaden", the darks are sound
    "dull-whites": (("shadows", -0.03, 0.03), ("lights", -0.15, 0.01), ("contrast", 0.3, 0.9), ("face", 1.2, MOST)),
    # "the tones out of step from place to place"
    "uneven-tone": (("changed", 0.5, MOST), ("fineness", 0.0, 0.25), ("contrast", 1.1, MOST), ("lighter", -0.85, 0.85)),
    # "a grey, granular deposit"
    "grainy-deposit": (("count", 4.0, MOST), ("lighter", 0.7, MOST), ("changed", 0.2, 0.8), ("sharpness", 3.0, MOST)),
    # "metallic or mirror-like deposit"
    "mirror-under-film": (("blue", 0.01, MOST), ("fineness", 0.0, 0.3), ("changed", 0.25, 0.85), ("contrast", 1.1, MOST)),
    # "the ghost of an earlier picture": a little lighter, nothing sharp
    "ghost-marks": (("lighter", 0.6, MOST), ("changed", 0.01, 0.2), ("edge", 0.0, 0.9), ("fineness", 0.3, 0.95)),
    # "blurred": less fine detail, nothing lighter or darker on the whole
    "unsharp": (("sharpness", 0.0, 0.75), ("lighter", -0.4, 0.4), ("changed", 0.02, 0.25)),
}  # fmt: skip

# Place -> what its drawing must show, for every symptom that may be told to lie there.
PLACED = {
    "upper-part": (("down", 0.0, 0.5),),
    "lower-part": (("down", 0.75, 1.25),),
    "drain-corner": (("across", 0.6, 1.0), ("down", 0.75, 1.25)),
    "hold-corner": (("across", 0.0, 0.4), ("down", 0.75, 1.25)),
    "pour-point": (("across", 0.0, 0.45), ("down", 0.0, 0.5)),
    "middle": (("across", 0.35, 0.65), ("down", 0.42, 0.8), ("edge", 0.0, 0.75)),
    "all-edges": (("edge", 1.05, MOST),),
    "whole-plate": (("across", 0.28, 0.72), ("down", 0.35, 0.9)),
    "scattered": (("across", 0.22, 0.78), ("down", 0.28, 0.97)),
}
DIRECTED = {
    "along-dip": (("upright", 0.25, 1.0),),
    "across-dip": (("upright", -1.0, -0.25),),
    "diagonal": (("slant", 0.3, 1.0),),
    "one-way": (("common", 0.25, 1.0),),
    "from-corner": (("slant", 0.05, 1.0),),
}
