"""Salts of collodion: what is weighed, moles, silver, and the words that go with them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.bench.collodion_salts import BY_NAME, COLLODION_SALTS, SALTS, halide, salt_mass, silver_taken
from diagnose.bench.sum import BenchError

STRENGTH, VOLUME = st.floats(0.01, 60), st.floats(10, 20_000)
ESTABROOKE = {"ammonium_iodide": 8.76, "cadmium_iodide": 4.38, "cadmium_bromide": 2.19, "copper_bromide": 2.19}


@given(STRENGTH, VOLUME)
def test_what_is_weighed_gives_the_strength_again(strength, volume):
    assert salt_mass(strength, volume) / volume * 1000 == pytest.approx(strength)


@given(st.sampled_from([salt.name for salt in SALTS]), STRENGTH)
def test_one_formula_of_salt_brings_its_halides(salt, strength):
    assert halide(salt, BY_NAME[salt].molar_mass) == pytest.approx(BY_NAME[salt].halides)
    assert halide(salt, 2 * strength) == pytest.approx(2 * halide(salt, strength))


def test_crystals_of_cadmium_bromide_bring_less():
    assert halide("cadmium_bromide", 344.282, hydrated=True) == 2
    assert halide("cadmium_bromide", 10, hydrated=True) < halide("cadmium_bromide", 10)
    assert halide("cadmium_iodide", 10, hydrated=True) == halide("cadmium_iodide", 10)


@given(st.floats(0.001, 1), st.floats(4, 20_000))
def test_silver_grows_with_salts_and_plate(halides, area):
    assert silver_taken(halides, area) == pytest.approx(silver_taken(halides * 2, area / 2))
    assert silver_taken(halides, area) < silver_taken(halides, area * 1.1)


def test_estabrookes_positive_collodion():
    worked = COLLODION_SALTS.reckon({"volume": 1000.0, **ESTABROOKE})
    assert [amount.name for amount in worked.amounts][:4] == list(ESTABROOKE)
    assert worked.value("salts") == pytest.approx(17.52)
    assert worked.value("cadmium_iodide") == pytest.approx(4.38)
    iodide = 8.76 / 144.943 + 2 * 4.38 / 366.223
    bromide = 2 * 2.19 / 344.282 + 2 * 2.19 / 223.354
    assert worked.value("iodide_to_bromide") == pytest.approx(iodide / bromide)
    assert worked.value("silver_on_area") == pytest.approx((iodide + bromide) * 0.02 * 169.872)
    assert any("110 g/L" in line for line in worked.beware)
    assert worked.cautions == ("cadmium-salts",)


def test_the_form_of_cadmium_bromide_shifts_moles_but_not_what_is_weighed():
    crystals = COLLODION_SALTS.reckon({"volume": 500.0, **ESTABROOKE})
    dry = COLLODION_SALTS.reckon({"volume": 500.0, **ESTABROOKE, "cadmium_bromide_form": "dry"})
    assert dry.value("cadmium_bromide") == crystals.value("cadmium_bromide")
    assert dry.value("iodide_to_bromide") < crystals.value("iodide_to_bromide")


def test_no_salt_is_refused_with_the_names():
    with pytest.raises(BenchError, match=r"ammonium_iodide.*gr/oz"):
        COLLODION_SALTS.reckon({"volume": 500.0})


@pytest.mark.parametrize(
    ("salts", "words"),
    [
        ({"ammonium_bromide": 10.0}, "Bromide alone"),
        ({"potassium_iodide": 6.6, "ammonium_bromide": 6.0}, "More bromide than iodide"),
        ({"potassium_iodide": 13.0}, "hard to dissolve"),
        ({"ammonium_iodide": 9.0}, "Little salt"),
        ({"lithium_iodide": 9.0, "ammonium_iodide": 5.0}, "draw water"),
    ],
)
def test_each_doubt_is_told_where_it_holds_and_nowhere_else(salts, words):
    told = COLLODION_SALTS.reckon({"volume": 500.0, **salts}).beware
    plain = COLLODION_SALTS.reckon({"volume": 500.0, "ammonium_iodide": 9.0, "ammonium_bromide": 5.0}).beware
    assert any(words in line for line in told)
    assert not any(words in line for line in plain)


def test_without_cadmium_its_caution_is_left_out():
    assert COLLODION_SALTS.reckon({"volume": 500.0, "ammonium_iodide": 9.0}).cautions == ()
