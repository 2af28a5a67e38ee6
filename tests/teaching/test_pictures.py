"""Drawn pictures: every symptom, told apart by what can be measured in the pixels."""

import subprocess
import sys
from functools import cache
from itertools import combinations

import numpy as np
import pytest

from diagnose.errors import DiagnoseError, PicturesMissing
from diagnose.teaching import looks as looks_module
from diagnose.teaching.drawn import SUBJECTS
from diagnose.teaching.looks import draw, half_blocks, pictures_can_be_drawn, words_of
from diagnose.teaching.pictures.sequences import ROWS
from diagnose.teaching.pictures.table import WAYS
from tests.teaching.picture_expectations import DIRECTED, EXPECTED, PLACED
from tests.teaching.picture_features import NAMES, SEEN, Features, features

SMALL = 160  # pixels: large enough for the smallest mark, quick enough to draw every symptom several times
SEEDS = (1, 2, 3)
SYMPTOMS = sorted(EXPECTED)
# How far apart two symptoms must lie in their best feature, in units of what an eye can see or of the spread of seeds.
APART = 1.4


@cache
def sound(symptom, seed, support):
    row = symptom if symptom in ROWS else next(n for n in SYMPTOMS if SUBJECTS[n].stage == SUBJECTS[symptom].stage)
    return draw(symptom if row == symptom else row, {}, seed, support=support, wide=SMALL, without=True)


@cache
def measured(symptom, seed, told=(), support=""):
    support = support or ("metal", "glass")[seed % 2]
    return features(draw(symptom, dict(told), seed, support=support, wide=SMALL), sound(symptom, seed, support))


def fails(found: Features, wanted):
    return [
        f"{name} is {getattr(found, name):.2f}, not {least:g} to {most:g}"
        for name, least, most in wanted
        if not least <= getattr(found, name) <= most
    ]


def test_every_symptom_of_the_knowledge_has_a_drawing_and_an_expectation(knowledge):
    assert set(SUBJECTS) == set(knowledge.symptoms) == set(EXPECTED) == set(WAYS) | set(ROWS)


@pytest.mark.parametrize("symptom", SYMPTOMS)
def test_a_drawing_shows_what_its_words_say(symptom):
    wrong = {seed: fails(measured(symptom, seed), EXPECTED[symptom]) for seed in SEEDS[:2]}
    assert not {seed: found for seed, found in wrong.items() if found}


def gaps(vectors):
    """How far apart each pair lies in its best feature: (distance, feature, one, other)."""
    seen = np.array([SEEN[name] for name in NAMES])
    found = []
    for one, other in combinations(sorted(vectors), 2):
        a, b = vectors[one], vectors[other]
        far = np.abs(a.mean(0) - b.mean(0)) / np.maximum(seen, a.std(0) + b.std(0))
        found.append((float(far.max()), NAMES[int(far.argmax())], one, other))
    return sorted(found)


def test_every_two_symptoms_can_be_told_apart_by_a_feature():
    vectors = {name: np.array([measured(name, seed).vector() for seed in SEEDS]) for name in SYMPTOMS}
    found = gaps(vectors)
    assert len(found) == len(SYMPTOMS) * (len(SYMPTOMS) - 1) / 2
    assert found[0][0] >= APART, found[:5]


def test_two_sets_of_drawings_of_one_symptom_are_not_told_apart():
    """The measure bites: what is the same symptom stays under the bar that different ones must pass."""
    for symptom in ("comets", "fog", "pinholes", "oyster-shell-marks"):
        told = (("place", "all-edges"),) if symptom == "oyster-shell-marks" else (("colour", "grey"),)
        halves = [
            np.array([measured(symptom, s, told, "metal").vector() for s in seeds]) for seeds in ((1, 2, 3), (4, 5, 6))
        ]
        assert gaps({"first": halves[0], "second": halves[1]})[0][0] < APART


@pytest.mark.parametrize(
    ("symptom", "other"), [("comets", "specks"), ("fog", "flat-picture"), ("dead-edge", "oyster-shell-marks")]
)
def test_the_same_picture_under_another_name_is_found_out(symptom, other, monkeypatch):
    monkeypatch.setitem(WAYS, symptom, WAYS[other])
    false = [features(draw(symptom, {}, s, wide=SMALL), sound(symptom, s, "metal")) for s in SEEDS]
    right = np.array([measured(other, s, (), "metal").vector() for s in SEEDS])
    assert all(fails(one, EXPECTED[symptom]) for one in false)
    assert gaps({symptom: np.array([one.vector() for one in false]), other: right})[0][0] < APART


def places():
    import tomllib
    from pathlib import Path

    for file in sorted((Path(__file__).parents[2] / "knowledge" / "symptoms").glob("*.toml")):
        for name, entry in tomllib.loads(file.read_text("utf-8")).items():
            for attribute, values in entry.get("attributes", {}).items():
                for value in values:
                    yield name, attribute, value


ALL = list(places())


@pytest.mark.parametrize("place", PLACED)
def test_a_place_that_was_asked_for_is_where_it_is_drawn(place):
    asked = [name for name, attribute, value in ALL if (attribute, value) == ("place", place) and name != "unsharp"]
    assert asked
    wrong = {name: fails(measured(name, 5, (("place", place),)), PLACED[place]) for name in asked}
    assert not {name: bad for name, bad in wrong.items() if bad}


def test_where_it_is_unsharp_the_plate_has_lost_detail():
    whole = measured("unsharp", 4, (("place", "whole-plate"),))
    edges = measured("unsharp", 4, (("place", "all-edges"),))
    middle = measured("unsharp", 4, (("place", "middle"),))
    assert edges.edge > 1.5 * whole.edge > 1.5 * middle.edge
    assert edges.face < 0.5 * whole.face < middle.face


def test_one_side_is_one_side_and_both_sides_come_up():
    for symptom in [name for name, _, value in ALL if value == "one-side"]:
        across = [measured(symptom, seed, (("place", "one-side"),)).across for seed in (4, 5, 6)]
        assert all(abs(value - 0.5) > 0.09 for value in across), (symptom, across)
    both = [measured("dead-edge", seed, (("place", "one-side"),)).across for seed in range(4, 12)]
    assert min(both) < 0.3 < 0.7 < max(both)


@pytest.mark.parametrize("direction", DIRECTED)
def test_a_direction_that_was_asked_for_is_drawn(direction):
    asked = [name for name, attribute, value in ALL if (attribute, value) == ("direction", direction)]
    wrong = {
        n: fails(measured(n, 5, (("direction", direction),)), DIRECTED[direction]) for n in asked if n != "unsharp"
    }
    assert wrong
    assert not {name: bad for name, bad in wrong.items() if bad}


def test_all_ways_is_less_of_one_way_than_one_way():
    for symptom in ("comets", "uneven-film", "varnish-ridges"):
        loose = np.mean([measured(symptom, seed, (("direction", "none"),)).slant for seed in (5, 6, 7)])
        assert abs(loose) < measured(symptom, 5, (("direction", "diagonal"),)).slant - 0.2, symptom


def tint(symptom, colour):
    """What changed: how light, how blue and how green it became, where it changed most."""
    seen = draw(symptom, {"colour": colour}, 4, wide=SMALL)
    upper, lower, left, right = seen.plate
    pixels = seen.rgb[upper:lower, left:right].astype(float) / 255
    before = sound(symptom, 4, "metal").rgb[upper:lower, left:right].astype(float) / 255
    weight = np.abs(pixels - before).max(2)
    strong = weight > 0.5 * np.quantile(weight, 0.998)
    red, green, blue = pixels[strong].mean(0)
    light = (pixels - before)[strong].mean()
    return light, blue - (red + green) / 2, green - (red + blue) / 2


COLOURED = {
    "white": lambda light, blue, green: light > 0.1,
    "grey": lambda light, blue, green: abs(blue) < 0.1,
    "black": lambda light, blue, green: light < -0.06,
    "clear": lambda light, blue, green: light < -0.1,
    "brown": lambda light, blue, green: blue < -0.08,
    "yellow": lambda light, blue, green: blue < -0.1 and light > -0.02,
    "blue": lambda light, blue, green: blue > 0.05,
    "green": lambda light, blue, green: green > 0.05,
    "silvery": lambda light, blue, green: blue > -0.03,
}


def test_a_colour_that_was_asked_for_is_drawn():
    asked = [(name, value) for name, attribute, value in ALL if attribute == "colour"]
    tints = {(name, colour): tint(name, colour) for name, colour in asked if (name, colour) != ("round-marks", "grey")}
    assert not {asked: found for asked, found in tints.items() if not COLOURED[asked[1]](*found)}


@pytest.mark.parametrize("symptom", ["scratches", "ghost-marks"])
def test_depths_differ(symptom, knowledge):
    pictures = [
        draw(symptom, {"depth": depth}, 2, wide=SMALL).rgb for depth in knowledge.symptoms[symptom].attributes["depth"]
    ]
    assert all(np.abs(a.astype(int) - b).max() > 30 for a, b in combinations(pictures, 2))
    assert measured("scratches", 2, (("depth", "on-surface"),)).lighter > 0.5 > measured("scratches", 2).lighter


def test_the_same_seed_gives_the_same_pixels_and_another_does_not():
    for symptom in SYMPTOMS[::6]:
        first = draw(symptom, {}, 7, wide=SMALL)
        assert first.png() == draw(symptom, {}, 7, wide=SMALL).png()
        assert first.rgb.tobytes() != draw(symptom, {}, 8, wide=SMALL).rgb.tobytes()


def test_the_fault_is_the_only_difference_from_the_sound_plate():
    for symptom in ("pinholes", "dead-edge", "subject-spots"):
        faulty, right = draw(symptom, {}, 3, wide=SMALL), draw(symptom, {}, 3, wide=SMALL, without=True)
        same = (faulty.rgb == right.rgb).all(2).mean()
        assert 0.5 < same < 1


def test_metal_and_glass_look_different():
    bare = {s: draw("blank-plate", {}, 1, support=s, wide=SMALL).scaled(4, 5).mean() for s in ("metal", "glass")}
    assert bare["metal"] - bare["glass"] > 4
    assert (
        draw("fog", {}, 1, support="dark-acrylic", wide=SMALL).words
        == draw("fog", {}, 1, support="glass", wide=SMALL).words
    )


def test_a_stronger_fault_shows_more():
    for symptom in ("pinholes", "fog", "oyster-shell-marks", "weak-picture", "dull-whites"):
        told = {"place": "lower-part"} if symptom == "oyster-shell-marks" else {}
        right = draw(symptom, told, 3, wide=SMALL, without=True).rgb.astype(int)
        much = [np.abs(draw(symptom, told, 3, wide=SMALL, strong=s).rgb - right).sum() for s in (0.5, 1.0, 1.5)]
        assert much[0] < much[1] < much[2], symptom


def test_a_drawing_says_that_it_is_one():
    """The line is drawn in: under every plate stands the same dark writing on the paper."""
    strips = []
    for symptom in ("fog", "comes-late"):
        drawing = draw(symptom, {}, 1, wide=480)
        strip = drawing.rgb[drawing.plate[1] + 4 :]
        assert (strip.min(2) < 120).sum() > 150
        assert "not a photograph" in drawing.words
        assert b"not a photograph" in drawing.png()
        strips.append(strip.tobytes())
    assert strips[0] == strips[1]


def test_words_tell_what_is_drawn_here():
    drawing = draw("comets", {"place": "lower-part", "direction": "along-dip", "colour": "black"}, 1, wide=SMALL)
    assert "narrowing tails" in drawing.words
    for part in ("lower part", "up and down", "black", "dark lacquered metal", "made-up sitter"):
        assert part in drawing.words
    assert "glass" in draw("comets", {}, 1, support="glass", wide=SMALL).words
    assert "No fault" in draw("comets", {}, 1, wide=SMALL, without=True).words


def test_every_drawing_has_words_of_its_own():
    texts = {name: draw(name, {}, 1, wide=64).words for name in SYMPTOMS}
    assert len(set(texts.values())) == len(texts)
    assert all(len(text) < 420 for text in texts.values())


def test_words_without_pictures(knowledge):
    text = words_of("comets", {"place": "drain-corner", "direction": "none"}, knowledge)
    assert text.startswith("Comets. Spots with a tail")
    assert knowledge.attributes["place"].values["drain-corner"] in text
    assert "no direction" not in text
    for name in knowledge.symptoms:
        assert knowledge.symptoms[name].look in words_of(name, {}, knowledge)
    with pytest.raises(DiagnoseError, match="did you mean 'comets'"):
        words_of("comet", {}, knowledge)


def test_without_the_libraries_there_is_one_clear_line(monkeypatch, knowledge):
    monkeypatch.setattr(looks_module, "pictures_can_be_drawn", lambda: False)
    with pytest.raises(PicturesMissing, match="pip install numpy pillow") as caught:
        draw("fog", {}, 1)
    assert "\n" not in str(caught.value)
    assert words_of("fog", {}, knowledge)


def test_words_load_no_drawing_library():
    """In a fresh interpreter in which neither library can be found."""
    script = """
import sys
class Gone:
    def find_spec(self, name, path=None, target=None):
        if name.partition(".")[0] in {"numpy", "PIL"}:
            raise ModuleNotFoundError(name)
sys.meta_path.insert(0, Gone())
from diagnose.teaching.looks import in_words
from diagnose.teaching.drawn import looks_of
print(in_words("fog", looks_of("fog", {}, 1), "metal"))
assert not {"numpy", "PIL"} & sys.modules.keys()
"""
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    assert "made-up sitter" in done.stdout


def test_an_unknown_symptom_gets_a_stand_in_that_says_so():
    """A person's own knowledge may name symptoms nobody has drawn; nor need their looks be known here."""
    assert pictures_can_be_drawn()
    pictures = set()
    for family in ("", "tone", "spots", "marks", "film", "finishing", "my-own"):
        told = {"place": "lower-part", "colour": "purple", "texture": "furry", "direction": "diagonal"}
        drawing = draw("moon-dust", told, 1, family=family, wide=SMALL)
        right = draw("moon-dust", told, 1, wide=SMALL, without=True)
        assert "no drawing of its own" in drawing.words
        assert "lower part" in drawing.words
        assert features(drawing, right).down > 0.75
        pictures.add(drawing.rgb.tobytes())
    assert len(pictures) >= 3


@pytest.mark.parametrize(("wide", "strong"), [(10, 1), (9999, 1), (200, 0), (200, 9)])
def test_what_cannot_be_drawn_is_said_in_a_line(wide, strong):
    with pytest.raises(DiagnoseError, match="->"):
        draw("fog", {}, 1, wide=wide, strong=strong)


def test_a_drawing_may_not_be_written_to():
    with pytest.raises(ValueError, match="read-only"):
        draw("fog", {}, 1, wide=SMALL).rgb[0, 0] = 0


def test_half_blocks_show_the_plate_and_not_its_paper():
    drawing = draw("blank-plate", {}, 1, wide=SMALL)
    rows = half_blocks(drawing, 30)
    assert {len(row) for row in rows} == {30}
    assert len(rows) == round(30 * 1.25 / 2)
    dots = [dot for row in rows for cell in row for dot in cell]
    assert all(max(dot) < 60 for dot in dots)  # a blank plate is dark to its edge; the paper is light
    assert all(type(part) is int for dot in dots for part in dot)
    upper = half_blocks(draw("dead-edge", {"place": "upper-part"}, 1, wide=SMALL), 30)
    assert sum(sum(d) for c in upper[0] for d in c) < sum(sum(d) for c in upper[6] for d in c)


@pytest.mark.slow
def test_many_seeds_show_what_the_words_say_and_are_told_apart():
    vectors, wrong = {}, {}
    for symptom in SYMPTOMS:
        found = [measured(symptom, seed) for seed in range(20, 32)]
        for seed, one in enumerate(found, 20):
            if bad := fails(one, EXPECTED[symptom]):
                wrong[symptom, seed] = bad
        vectors[symptom] = np.array([one.vector() for one in found])
    pairs = gaps(vectors)
    print("\nnearest pairs, in units of what can be seen:")
    for far, feature, one, other in pairs[:20]:
        print(f"  {far:5.2f}  {one} / {other}: {feature}")
    seen = np.array([SEEN[name] for name in NAMES])
    middle = {name: values.mean(0) for name, values in vectors.items()}
    spread = {name: np.maximum(seen, values.std(0)) for name, values in vectors.items()}
    right = total = 0
    for name, values in vectors.items():
        for value in values:
            near = min(middle, key=lambda other: float((((value - middle[other]) / spread[other]) ** 2).mean()))
            right, total = right + (near == name), total + 1
            if near != name:
                print(f"  a drawing of {name} lies nearest to {near}")
    print(f"drawings nearest to their own symptom: {right} of {total}; promises broken: {wrong}")
    assert pairs[0][0] >= APART
    assert right / total > 0.93
    assert len(wrong) <= 0.02 * total


@pytest.mark.slow
def test_told_the_same_looks_two_symptoms_still_differ():
    """Comets and specks in the same corner and the same colour are still comets and specks."""
    kinds = {}
    for name, attribute, value in ALL:
        if attribute in {"place", "colour"}:
            kinds.setdefault((attribute, value), []).append(name)
    worst = []
    for told, names in kinds.items():
        vectors = {
            n: np.array([measured(n, seed, (told,), "metal").vector() for seed in (4, 5, 6, 7)])
            for n in sorted(set(names))
        }
        worst += [(*pair, told) for pair in gaps(vectors)[:2]]
    worst.sort()
    print("\nnearest pairs told to have the same look:")
    for pair in worst[:12]:
        print("  ", pair)
    assert worst[0][0] > 0.9


@pytest.mark.slow
def test_a_drawing_is_quick():
    from time import perf_counter

    draw("fog", {}, 1)
    took = {}
    for symptom in SYMPTOMS:
        times = []
        for seed in SEEDS:
            start = perf_counter()
            draw(symptom, {}, seed)
            times.append(perf_counter() - start)
        took[symptom] = min(times)
    slowest = sorted(took, key=took.get)[-5:]
    print("\nslowest drawings [s]:", {name: round(took[name], 3) for name in slowest})
    assert took[slowest[-1]] < 0.3
