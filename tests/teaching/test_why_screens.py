"""`diagnose why` on the screen and as JSON. `UPDATE_SCREENS=1 pytest tests/teaching -n 0` keeps new screens."""

import io
import json
import os
from pathlib import Path

import pytest
from rich.cells import cell_len

from diagnose.answer import diagnose
from diagnose.talk import screens
from diagnose.talk.explaining_why import show_why
from diagnose.talk.theme import make_look

KEPT = Path(__file__).resolve().parent / "screens" / "why"
UPDATE = bool(os.environ.get("UPDATE_SCREENS"))
NAMES = {
    "cause": ("iron-left-before-fixer",),
    "sign": ("oyster", "shells"),
    "two-causes": ("weak-bath", "lifted-too-soon"),
    "which": ("too", "strong"),
}
WIDTHS = (80, 50)
# An invented plate.
OYSTERS = {"symptoms": {"oyster-shell-marks": True, "splash-stains": False}, "conditions": {"holder_wiped": "no"}}


def drawn(names, knowledge, **look):
    out = io.StringIO()
    show_why(names, knowledge, make_look(file=out, **look))
    return out.getvalue()


def flowing(screen):
    return " ".join(screen.split())


@pytest.mark.parametrize("width", WIDTHS)
@pytest.mark.parametrize("name", NAMES)
def test_screen_is_the_one_kept(name, width, knowledge):
    screen = drawn(NAMES[name], knowledge, width=width)
    path = KEPT / f"{name}-{width}.txt"
    if UPDATE:
        path.parent.mkdir(exist_ok=True)
        path.write_text(screen, encoding="utf-8")
    assert screen == path.read_text(encoding="utf-8"), "if this is meant: UPDATE_SCREENS=1 pytest tests/teaching -n 0"


def test_no_screen_is_kept_that_is_not_drawn():
    assert {path.name for path in KEPT.iterdir() if not path.name.startswith("drill-")} == {
        f"{name}-{width}.txt" for name in NAMES for width in WIDTHS
    }


@pytest.mark.parametrize("look", [{}, {"plain": True}])
def test_every_page_fits_the_screen(look, knowledge):
    for name in (*list(knowledge.causes)[::7], *list(knowledge.symptoms)[::5]):
        for width in WIDTHS:
            for line in drawn((name,), knowledge, width=width, **look).splitlines():
                assert cell_len(line) <= width
                assert line == line.rstrip()


def test_by_the_safe_light_nothing_but_red_and_amber_is_shown(knowledge):
    screen = drawn(("fog",), knowledge, width=80, safelight=True, force_terminal=True, color_system="truecolor")
    codes = {part.partition("m")[0] for part in screen.split("\x1b[")[1:]}
    shown = {code for code in codes if code not in {"0", ""}}
    assert shown
    assert all("48;2;0;0;0" in code and ("38;2;208;32;0" in code or "38;2;224;112;0" in code) for code in shown)


def test_side_by_side_where_there_is_room_and_below_where_not(knowledge):
    wide, narrow = (drawn(NAMES["two-causes"], knowledge, width=width) for width in WIDTHS)
    assert any("gives a clean plate" in line and "plate left" not in line for line in narrow.splitlines())
    assert any("the reserve bath gives" in line and "the fault is still there" in line for line in wide.splitlines())
    assert "  The silver bath is too weak: " in narrow
    plain = drawn(NAMES["two-causes"], knowledge, width=80, plain=True)
    assert "  The silver bath is too weak: " in plain


def test_a_page_says_where_it_was_born_where_it_shows_and_what_to_practise(knowledge):
    said = flowing(drawn(("bath full of iodide",), knowledge, width=80))
    for part in (
        "Born in: Silver bath",
        "First shows: on lifting it from the silver bath: Sanded film",
        "Ag3I(NO3)2 (dissolved) -> AgI (crystals) + 2 AgNO3",
        "What to practise",
        "Where the books differ",
        "Vogel",
    ):
        assert part in said


def test_cyanide_is_warned_of_where_its_chemistry_is_taught(knowledge):
    said = flowing(drawn(("iron-left-before-fixer",), knowledge, width=80))
    assert "Danger: Cyanide kills" in said
    assert "Danger: Never let acid meet cyanide" in said


def test_a_sign_is_set_beside_its_neighbours(knowledge):
    said = flowing(drawn(("surface-veil",), knowledge, width=80))
    assert "Fog: Wipe a wet corner with cotton" in said
    assert "diagnose why darkroom/fumes" in said


def test_json_of_a_cause_and_of_two_things(knowledge, capsys):
    look = make_look(file=io.StringIO())
    show_why(("fog",), knowledge, look, as_json=True)
    sign = json.loads(capsys.readouterr().out)
    assert (sign["kind"], sign["name"], sign["title"]) == ("sign", "fog", "Fog")
    assert {near["symptom"] for near in sign["neighbours"]} >= {"surface-veil", "flat-picture"}
    show_why(("weak-bath", "fog"), knowledge, look, as_json=True)
    cause, sign = json.loads(capsys.readouterr().out)
    assert cause["chain"]["born"] == "silver-bath"
    assert cause["chain"]["steps"][1]["chemistry"][0]["equation"].startswith("AgNO3 + NH4I ->")
    assert cause["knowledge"] == knowledge.version


def test_on_a_plate_the_chain_is_joined_and_the_rival_answered(knowledge):
    plate = diagnose(OYSTERS, knowledge)
    out = io.StringIO()
    joined = screens.why_screen("holder-and-camera/dirty-holder", plate, ("holder-and-camera/silver-on-the-back",))
    make_look(file=out, width=80).show(joined)
    said = flowing(out.getvalue())
    for part in (
        "shows as: Oyster-shell marks from the edge (you saw this)",
        "(you did not see this)",
        "The chain breaks at",
        "Why not “Silver solution was left on the back and edges of the plate”?",
        "What would part them: not told yet",
        "Practise: ",
    ):
        assert part in said
