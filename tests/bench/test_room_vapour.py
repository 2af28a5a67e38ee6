"""Vapour in the room, of solvents and of cyanide: figures that warn, and only warn."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.bench.cyanide_fume import CYANIDE_WARNING, cyanide_reaching, hydrogen_cyanide_share
from diagnose.bench.room_vapour import ETHER_IN_ROOM, alcohol_for, ether_for, gas_moles

PPM, ROOM = st.floats(0, 1e5), st.floats(0.5, 2000)


@given(PPM, ROOM, st.sampled_from([gas_moles, ether_for, alcohol_for, cyanide_reaching]))
def test_it_goes_with_the_figure_and_with_the_room(ppm, room, reckoned):
    assert reckoned(ppm, room) >= 0
    assert reckoned(2 * ppm, room) == pytest.approx(2 * reckoned(ppm, room))
    assert reckoned(ppm, 2 * room) == pytest.approx(2 * reckoned(ppm, room))


def test_all_of_a_room_of_ether_is_its_gas():
    """A mole of gas in the volume of a mole: one mole of liquid."""
    assert ether_for(1e6, 0.024055) == pytest.approx(74.123 / 0.7135)


@given(st.floats(0.5, 2000), st.floats(4, 20_000), st.floats(20, 90))
def test_the_figures_of_a_room_stand_in_order(room, plate, ether_share):
    worked = ETHER_IN_ROOM.reckon({"room": room, "plate": plate, "ether_share": ether_share})
    ether = [worked.value(f"ether_{name}") for name in ("day_limit", "short_limit", "danger", "lights")]
    alcohol = [worked.value(f"alcohol_{name}") for name in ("day_limit", "danger", "lights")]
    assert ether == sorted(ether)
    assert alcohol == sorted(alcohol)
    assert worked.value("ether_lights_low") < worked.value("ether_lights")
    on_plates = worked.value("plates") * plate * 0.02 * ether_share / 100
    assert on_plates == pytest.approx(worked.value("ether_short_limit"))
    assert all(amount.never_over for amount in worked.amounts)


def test_it_is_told_as_no_allowance_and_the_vapour_as_lying_low():
    worked = ETHER_IN_ROOM.reckon({"room": 20.0})
    assert "Never take these as an allowance" in worked.do[0]
    assert any("lies low" in line for line in worked.beware)
    assert ETHER_IN_ROOM.cautions == ("ether-and-alcohol",)


@pytest.mark.parametrize(
    ("acidity", "share"), [(7, 0.99387), (8, 0.94192), (9, 0.61858), (10, 0.13955), (11, 0.01596), (12, 0.00162)]
)
def test_shares_of_hydrogen_cyanide_as_the_notes_have_them(acidity, share):
    assert hydrogen_cyanide_share(acidity) == pytest.approx(share, abs=0.002)


@given(st.floats(0, 13.9), st.floats(0.01, 0.1))
def test_more_acid_frees_more(acidity, more):
    assert 0 <= hydrogen_cyanide_share(acidity + more) < hydrogen_cyanide_share(acidity) <= 1


def test_the_warning_is_in_grams_that_fit_a_teaspoon():
    worked = CYANIDE_WARNING.reckon({"room": 20.0})
    assert worked.value("to_danger") == pytest.approx(2.707, abs=0.02)
    assert worked.value("to_limit") == pytest.approx(0.2545, abs=0.003)
    assert worked.value("gas_share") > 99


@given(st.floats(5, 500), st.floats(0, 14))
def test_the_warning_only_warns(room, acidity):
    """No dose to measure out, nothing to mix, and the way out stands there."""
    worked = CYANIDE_WARNING.reckon({"room": room, "acidity": acidity})
    assert not any(amount.tool for amount in worked.amounts)
    assert CYANIDE_WARNING.cautions == ("cyanide", "cyanide-and-acid")
    words = " ".join((*worked.do, *worked.beware))
    assert "call for help" in words
    assert "no safe amount" in words
    assert "Hypo clears the same plate" in words
    orders = re.findall(
        r"\b(?:add|dissolve|weigh|pour|mix|take|measure|stir)\b[^.;:]*", " ".join(worked.do), re.IGNORECASE
    )
    assert not orders
    assert any("Below about pH 11" in line for line in worked.beware) is (acidity < 11)


def test_no_sum_here_makes_a_cyanide_fixer():
    asked = {item.name for item in CYANIDE_WARNING.asks}
    assert asked == {"room", "acidity"}
