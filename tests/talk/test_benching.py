"""The bench at the terminal: every sum by asking, by command line, as JSON; slips in one line; nothing too wide or bright."""

import io
import json
import re
import shlex
from dataclasses import dataclass

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator
from rich.cells import cell_len

from diagnose import cli
from diagnose.bench.sum import BenchError
from diagnose.bench.table import SUMS
from diagnose.entries.sums import find_sum
from diagnose.talk import benching
from diagnose.talk.bench_asking import how_to_answer, read_given
from diagnose.talk.theme import make_look
from diagnose.units import takes_bare_numbers
from tests.bench.ordinary import ORDINARY, REFUSED
from tests.talk.test_theme import COLOUR, ESCAPE, LETTERS_OF_PLAIN, assert_dark

NAMES = tuple(ORDINARY)
ACID = ("volume=1 L", "present_ph=5.6")
EVERY_LOOK = {"force_terminal": True, "color_system": "truecolor"}


@dataclass(frozen=True)
class Worked:
    """A run of the bench that is over."""

    screen: str
    error: str
    left_to_type: tuple[str, ...]

    @property
    def flowing(self) -> str:
        return re.sub(r"\s+", " ", self.screen)

    @property
    def command(self) -> list[str]:
        """The line to type again, in words; [] if none was printed."""
        lines = [line for line in self.screen.splitlines() if line.startswith("diagnose ")]
        return shlex.split(lines[-1])[1:] if lines else []

    @property
    def result(self) -> str:
        """The screen from the sum's title on, without the line to type again."""
        return self.screen.partition("\nThe same again:")[0]


@pytest.fixture(scope="session")
def bench(knowledge):
    """Run a sum with what is given, and type these lines."""

    def runs(name, *given_, typed=(), measures="metric", full=False, before=(), echo=True, **look):
        out = io.StringIO()
        lines = list(typed)

        def listen(prompt):
            out.write(prompt)
            if not lines:
                raise EOFError
            out.write(f"{lines[0] if echo else ''}\n")
            return lines.pop(0)

        error = ""
        look = make_look(file=out, **{"width": 80, **look})
        try:
            benching.work(
                name, given_, knowledge, look,
                measures=measures, as_json=False, full=full, before=before, listen=listen,
            )  # fmt: skip
        except BenchError as refused:
            error = str(refused)
        return Worked(out.getvalue(), error, tuple(lines))

    return runs


@pytest.fixture
def run(monkeypatch, capsys):
    """Run a command in this process, through the program's own door."""

    def runs(*arguments, typed=""):
        monkeypatch.setenv("COLUMNS", "80")
        monkeypatch.setattr("sys.argv", ["diagnose", *arguments])
        monkeypatch.setattr("sys.stdin", io.StringIO(typed))
        capsys.readouterr()
        with pytest.raises(SystemExit) as left:
            cli.run()
        said = capsys.readouterr()
        return left.value.code, said.out, said.err

    return runs


def answers_of(name, knowledge):
    """What a person types who is asked everything, with bare numbers where the ordinary run has the unit that is asked in."""
    told = dict(word.split("=", 1) for word in ORDINARY[name])
    asked = [item for item in find_sum(name, knowledge.solutions).asks if item.usual is None or item.if_known]
    lines = []
    for item in asked:
        words = told.get(item.name, "")
        lines.append(words.removesuffix(item.unit).strip() if item.unit else words)
    return lines, {item.name for item in asked}


# Every sum, three ways ------------------------------------------------------------------------------------------------


def test_every_sum_and_solution_has_an_ordinary_run(knowledge):
    assert set(NAMES) | {REFUSED} == set(SUMS) | set(knowledge.solutions)


@pytest.mark.parametrize("name", NAMES)
def test_by_command_line_alone(name, bench):
    done = bench(name, *ORDINARY[name])
    assert not done.error
    assert not done.command
    assert ">" not in re.sub(r"->", "", done.screen)  # nothing was asked


@pytest.mark.parametrize("name", NAMES)
def test_by_asking_alone(name, bench, knowledge):
    """Each question is answered as asked; the result is that of the command line with the same things told."""
    typed, asked = answers_of(name, knowledge)
    done = bench(name, typed=typed)
    assert not done.error
    assert not done.left_to_type
    told = [word for word in ORDINARY[name] if word.split("=")[0] in asked]
    assert done.result.endswith(bench(name, *told).result)
    for item in find_sum(name, knowledge.solutions).asks:
        assert (item.ask in done.flowing) == (item.name in asked)


@pytest.mark.parametrize("name", [name for name in NAMES if name != "test-strip"])  # which asks nothing
def test_the_printed_command_gives_the_same_again(name, bench, knowledge):
    done = bench(name, typed=answers_of(name, knowledge)[0])
    bench_, again, *told = done.command
    assert (bench_, again) == ("bench", name)
    assert done.result.endswith(bench(name, *told).result)


def test_the_printed_command_keeps_how_it_was_asked_for(bench):
    done = bench("new-bath", typed=["34", "41"], measures="us", full=True, before=["--safelight", "--units", "us"])
    assert done.command == [
        "--safelight", "--units", "us", "bench", "new-bath", "volume=34 usfloz", "wanted=41 gr/oz", "--full",
    ]  # fmt: skip


@pytest.mark.parametrize("name", NAMES)
def test_as_json(name, run, schema):
    code, out, err = run("bench", name, *ORDINARY[name], "--json")
    assert (code, err) == (0, "")
    answer = json.loads(out)
    schema.validate(answer)
    assert answer["sum"] == name
    assert answer["amounts"]
    assert {item["name"] for item in answer["taken"] if item["told_by"] == "told"} == {
        word.split("=")[0] for word in ORDINARY[name]
    }


@pytest.fixture(scope="session")
def schema():
    from diagnose.talk.commands import print_schema

    out = io.StringIO()
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("sys.stdout", out)
        print_schema("bench")
    shape = json.loads(out.getvalue())
    Draft202012Validator.check_schema(shape)
    return Draft202012Validator(shape)


def test_the_schema_of_the_bench_bites(run, schema):
    answer = json.loads(run("bench", "new-bath", *ORDINARY["new-bath"], "--json")[1])
    for spoil in (
        lambda it: it.pop("amounts"),
        lambda it: it["amounts"][0].pop("measured"),
        lambda it: it["amounts"][0].update(value="much"),
        lambda it: it.update(keeps=3),
        lambda it: it["cautions"][0].pop("say"),
    ):
        spoilt = json.loads(json.dumps(answer))
        spoil(spoilt)
        assert list(schema.iter_errors(spoilt))


@pytest.mark.parametrize("name", ["test-strip", "ether-in-room", "bath-spirit", "acid-for-bath"])
def test_what_is_left_to_full_is_in_json_all_the_same(name, bench, run):
    short, full = (bench(name, *ORDINARY[name], full=full) for full in (False, True))
    labels = [item["label"] for item in json.loads(run("bench", name, *ORDINARY[name], "--json")[1])["amounts"]]
    assert all(f"{label}: " in full.flowing for label in labels)
    assert f"{labels[0]}: " in short.flowing
    assert not all(f"{label}: " in short.flowing for label in labels)
    assert len([line for line in short.screen.splitlines() if re.match(r"  [a-z]", line)]) <= 5


# Asking ---------------------------------------------------------------------------------------------------------------


def test_a_bare_number_is_taken_in_the_unit_that_was_named(bench):
    metric = bench("new-bath", typed=["1000", "90"])
    assert "(in mL, or with another unit; q leaves the sum)" in metric.screen
    assert "silver nitrate: 90 g" in metric.screen
    american = bench("new-bath", typed=["34", "41"], measures="us")
    assert "(in US fl oz, or with another unit; q leaves the sum)" in american.screen
    assert "(in grains per US fl oz, or with another unit)" in american.screen
    assert american.result.endswith(bench("new-bath", "volume=34 usfloz", "wanted=41 gr/oz", measures="us").result)


@pytest.mark.parametrize("name", SUMS)
@pytest.mark.parametrize("measures", ["metric", "us", "imperial"])
def test_every_question_says_how_it_may_be_answered(name, measures):
    for asked in SUMS[name].asks:
        how = how_to_answer(asked, measures)
        if not asked.choices:
            assert ("plain number" in how) == takes_bare_numbers(asked.unit)
        assert "1000000" not in how
        assert "times" not in how


def test_what_cannot_be_is_asked_again_and_what_may_be_left_out_is_left_by_enter(bench):
    done = bench("wet-window", typed=["warm", "280", "28", "", "?", "35", "", ""])
    assert not done.error
    assert "cannot read 'warm' as an amount; write a number and one of: °C, °F" in done.flowing
    assert "280 °C cannot be right; -5 to 50 °C is accepted" in done.flowing
    assert done.flowing.count("It cannot be worked without this") == 2
    assert "just Enter leaves it out: the minutes alone are given" in done.flowing
    assert done.command == ["bench", "wet-window", "temperature=28 °C", "humidity=35 %"]


def test_a_choice_is_picked_by_its_number_or_its_word(bench):
    by_number, by_word = (bench("washing-time", typed=typed) for typed in (["1", "2"], ["Hypo", "IRON"]))
    assert by_number.command == by_word.command == ["bench", "washing-time", "fixer=hypo", "support=iron"]
    wrong = bench("washing-time", typed=["7", "hyppo", "1", "1"])
    assert "type a number from 1 to 3" in wrong.screen
    assert "did you mean 'hypo'" in wrong.flowing
    assert not wrong.error


@pytest.mark.parametrize(
    ("name", "given_", "typed", "wanted"),
    [
        ("acid-for-bath", ACID, ["", ".1"], "moles"),
        ("acid-for-bath", ACID, ["65"], "percent"),
        ("exposure-time", ("time=1/2 s", "stop=4"), ["5.6", "", ""], "new_stop"),
        ("bellows-factor", ("focal_length=210 mm",), ["", "0.5", "", ""], "magnification"),
        ("light-change", ("time=3 s",), ["2 m", "1400", "", "", "", ""], "new_distance"),
        ("plate-speed", ("stop=4", "time=4 s"), ["", "2500", "", "", ""], "lux"),
        ("thin-collodion", ("volume=250 mL", "ether_share=50 %"), ["30", ""], "lost"),
        ("collodion-salts", ("volume=500 mL",), ["6"], "ammonium_iodide"),
        ("fixer-left", ("kind=cyanide",), ["8", "20"], "clearing_now"),
    ],
)
def test_what_a_sum_cannot_do_without_is_asked_after_all(name, given_, typed, wanted, bench):
    done = bench(name, *given_, typed=typed)
    assert not done.error
    assert "Not enough: " in done.screen
    assert any(word.startswith(f"{wanted}=") for word in done.command)


def test_where_it_is_still_not_told_one_line_says_what(bench):
    assert "percent, or moles" in bench("acid-for-bath", *ACID, typed=["", ""]).error
    assert "percent, or moles" in bench("acid-for-bath", typed=["1000", "5.6", "", ""]).error


@pytest.mark.parametrize("typed", [["q"], ["28", "Q"]])
def test_q_leaves_without_an_error(typed, bench):
    done = bench("wet-window", typed=typed)
    assert not done.error
    assert done.screen.endswith("Left; nothing was worked out.\n")


def test_what_was_told_is_not_lost_where_it_does_not_go_together(bench):
    done = bench("silver-to-add", typed=["900", "95", "90"])
    assert "water-to-add makes it weaker" in done.error
    assert done.command == ["bench", "silver-to-add", "volume=900 mL", "strength=95 g/L", "wanted=90 g/L"]


# Slips ----------------------------------------------------------------------------------------------------------------

SLIPS = [
    (("bench", "wet-windw"), "did you mean 'wet-window'"),
    (("bench", "developer-mld"), "did you mean 'developer-mild'"),
    (("bench", "zzzz"), "`diagnose bench` lists them"),
    (("bench", "new-bath", "volum=1 L"), "did you mean 'volume'"),
    (("bench", "new-bath", "zzzz=1"), "new-bath asks nothing called 'zzzz'; volume, wanted"),
    (("bench", "new-bath", "900 mL"), 'write input=value, such as volume="... mL"'),
    (("bench", "bath-strength", "1.074"), "write input=value, such as reading=..."),
    (("bench", "thin-acid", "nitric"), "write input=value, such as acid=nitric"),
    (("bench", "new-bath", "volume=900", "wanted=90 g/L"), "'900' has no unit; write a number and one of: mL, L"),
    (("bench", "new-bath", "volume=900 oz"), "which ounce?"),
    (("bench", "new-bath", "volume=90 g"), "g measures mass, but mL is wanted"),
    (("bench", "new-bath", "volume=1 L", "volume=2 L"), "volume is told twice"),
    (("bench", "new-bath", "volume=1 m3"), "1 m³ cannot be right; 10 mL to 200 L is accepted"),
    (("bench", "bellows-factor", "focal_length=5 m"), "5 m cannot be right; more than 0, up to 3 m, is accepted"),
    (("bench", "thin-acid", "acid=nitrik"), "no answer 'nitrik'; use one of: nitric, acetic; did you mean 'nitric'"),
    (("bench", "new-bath", "volume=1 L"), "new-bath wants wanted: How strong is it to be? Write wanted=..."),
    (("bench", "new-bath", "volume=1 L", "--json"), "new-bath wants wanted"),
    (("bench", "acid-for-bath", *ACID, "--json"), "tell how strong the acid is"),
    (("bench", "silver-to-add", "volume=1 L", "strength=95 g/L", "wanted=90 g/L"), "water-to-add makes it weaker"),
    (("bench", REFUSED), "Nothing here tells how to mix it"),
    (("bench", REFUSED, "volume=1 L"), "Nothing here tells how to mix it"),
    (("bench", "new-bath\x1b[2J"), "no sum or solution"),
    (("bench", "new-bath", "volume=1\x1b[2J L"), "volume: "),
    (("bench", "new-bath", "vol\x1b]0;me=1 L"), "asks nothing called"),
    (("bench", "thin-acid", "acid=\x1b[31mnitric"), "no answer"),
]


@pytest.mark.parametrize(("arguments", "words"), SLIPS, ids=lambda value: value if isinstance(value, str) else "")
def test_a_slip_is_one_line_and_nothing_else(arguments, words, run):
    code, out, err = run(*arguments)
    asked = "wants wanted" in words and "--json" not in arguments
    assert code == 1
    assert bool(out) == asked  # the question that the end of the pipe left open
    (line,) = err.splitlines()
    assert line.startswith("diagnose: ")
    assert line.isprintable()
    assert words in line
    assert len(line) < 400


def test_the_end_of_a_pipe_where_something_is_missing(run):
    code, out, err = run("bench", "wet-window", typed="28\n")
    assert code == 1
    assert err == "diagnose: wet-window wants humidity: How damp is the air (relative humidity)? Write humidity=...\n"
    assert "Traceback" not in out


def test_answers_through_a_pipe(run):
    code, out, err = run("bench", "wet-window", typed="28\n35\n")
    assert (code, err) == (0, "")
    assert "wet from the bath to the developer: 5.9 min" in out


INPUTS = [(name, asked.name) for name in NAMES if name in SUMS for asked in SUMS[name].asks]
TEXTS = st.one_of(
    st.text(max_size=40),
    st.text(alphabet="0123456789.,+-/ eE°CFgLm%xs\x1b\u202e", max_size=12),
    st.builds(
        "{}{}".format,
        st.one_of(st.integers(-(10**9), 10**9), st.floats(allow_nan=True, allow_infinity=True)),
        st.sampled_from(["", " mL", " L", " °C", "%", " g/L", " s", " mm", " g", " cm2", " gr/oz", " min", " m3"]),
    ),
)


@settings(max_examples=400)
@given(st.sampled_from(INPUTS), TEXTS)
def test_any_text_for_any_input_is_a_result_or_one_clear_line(bench, which, text):
    name, asked = which
    told = [word for word in ORDINARY[name] if not word.startswith(f"{asked}=")]
    done = bench(name, *told, f"{asked}={text}", width=50)
    if done.error:
        assert done.error.isprintable()
        assert 10 < len(done.error) < 400
        assert not done.screen or "Not enough" in done.screen
    else:
        assert "How well" in done.screen
        assert not re.search(r"\b(nan|inf|None)\b|\d[eE][+-]?\d", done.flowing)
    assert all(letter == "\n" or letter.isprintable() for letter in done.screen)


@given(st.sampled_from(NAMES), st.lists(st.text(max_size=30), max_size=3))
def test_any_words_after_the_name_are_a_result_or_one_clear_line(knowledge, name, words):
    said, told = "", {}
    try:
        told = read_given(find_sum(name, knowledge.solutions), words)
    except BenchError as error:
        said = str(error)
    assert bool(said) == (len(told) < len(words))
    assert said.isprintable()
    assert len(said) < 400


@given(st.sampled_from(NAMES), st.lists(TEXTS, max_size=12))
def test_whatever_is_typed_no_control_character_comes_through(bench, name, lines):
    done = bench(name, typed=lines, echo=False)
    assert all(letter == "\n" or letter.isprintable() for letter in done.screen + done.error)


# Looks ----------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("width", [30, 50, 80])
@pytest.mark.parametrize("name", NAMES)
def test_lines_fit(name, width, bench):
    for more in ({}, {"full": True}, {"measures": "us"}, {"plain": True}):
        for line in bench(name, *ORDINARY[name], width=width, **more).screen.splitlines():
            assert cell_len(line) <= width
            assert line == line.rstrip()


@pytest.mark.parametrize("name", NAMES)
def test_questions_fit_fifty_columns(name, bench, knowledge):
    done = bench(name, typed=answers_of(name, knowledge)[0], width=50)
    for line in done.screen.splitlines():
        assert cell_len(line) <= 50 or line.startswith("diagnose ")


@pytest.mark.parametrize("name", NAMES)
def test_plain_has_no_colour_and_no_symbols(name, bench, knowledge):
    for full in (False, True):
        done = bench(name, typed=answers_of(name, knowledge)[0], full=full, plain=True, **EVERY_LOOK)
        assert "\x1b" not in done.screen
        assert not LETTERS_OF_PLAIN.search(done.screen)


@pytest.mark.parametrize("name", ["acid-for-bath", "washing-time", "silver-bath", "ether-in-room"])
def test_safelight_is_red_and_amber_on_black(name, bench, knowledge):
    dark = {"safelight": True, "width": 60, **EVERY_LOOK}
    assert_dark(bench(name, *ORDINARY[name], full=True, **dark).screen, width=60)
    assert_dark(bench(name, typed=answers_of(name, knowledge)[0], **dark).screen)


def test_the_list_of_sums_in_every_look(knowledge, monkeypatch):
    monkeypatch.delenv("NO_COLOR", raising=False)
    monkeypatch.setenv("TERM", "xterm-256color")

    def listed(**look):
        out = io.StringIO()
        benching.list_sums(knowledge, make_look(file=out, **{"width": 50, **look}))
        return out.getvalue()

    for name in (*SUMS, *knowledge.solutions):
        assert len(re.findall(rf"^  {name}  \S", listed(), re.MULTILINE)) == 1
    assert_dark(listed(safelight=True, **EVERY_LOOK), width=50)
    coloured = listed(**EVERY_LOOK)
    assert COLOUR.search(coloured)
    assert ESCAPE.sub("", coloured) == listed()
    assert "\x1b" not in listed(plain=True, **EVERY_LOOK)
    monkeypatch.setenv("NO_COLOR", "1")
    assert not COLOUR.search(listed(**EVERY_LOOK))


# Units ----------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("measures", "words"),
    [
        ("metric", ("silver nitrate: 90 g", "distilled water, about: 980 mL")),
        ("us", ("silver nitrate: 1390 grains (90 g)", "33.2 US fl oz (980 mL)")),
        ("imperial", ("silver nitrate: 1390 grains (90 g)", "34.6 imperial fl oz (980 mL)")),
    ],
)
def test_amounts_in_grains_and_ounces(measures, words, bench):
    done = bench("new-bath", *ORDINARY["new-bath"], measures=measures)
    for word in words:
        assert word in done.flowing


def test_what_was_taken_is_shown_in_the_persons_own_units_and_can_be_typed(bench):
    american = bench("setting-time", "temperature=28 °C", measures="us").flowing
    assert "Taken unless told: known=30 s; known_temperature=60 °F" in american
    assert "known_temperature=15.6 °C" in bench("setting-time", "temperature=28 °C").flowing
    assert "18.8 °F (10.4 °C)" in bench("wet-bulb", "temperature=28 °C", "humidity=35 %", measures="us").flowing


@pytest.mark.parametrize("name", NAMES)
def test_what_is_taken_unless_told_may_be_told_as_it_stands(name, bench, knowledge):
    sum_ = find_sum(name, knowledge.solutions)
    for measures in ("metric", "us"):
        done = bench(name, *ORDINARY[name], measures=measures, width=96)
        said = re.search(r"Taken unless told: (.*?)(?: Rounded: | How well: )", done.flowing)
        for words in said[1].split("; ") if said else ():
            given_ = re.sub(r" \(.*|: .*", "", words)
            told = read_given(sum_, [given_])
            assert len(told) == 1


def test_how_it_was_rounded_is_said_once_and_with_full_beside_each(bench):
    short, full = (bench("hypo-for-fixer", "volume=1 L", full=full).flowing for full in (False, True))
    assert short.count("as on a darkroom balance") == full.count("as on a darkroom balance") == 1
    assert "Rounded: as on a darkroom balance (to 1 g); a measuring cylinder (to 10 mL)" in short
    assert "hypo crystals: 200 g (rounded to 1 g, as on a darkroom balance)" in full


def test_a_least_and_a_most_stand_behind_their_likely_amount(bench):
    assert "likely time: 9 s; between 7 and 12 s" in bench("development-time", "temperature=28 °C").flowing
    none = bench("fixer-left", "kind=hypo", "clearing_fresh=20 s", "clearing_now=1 min").flowing
    assert "plates it still clears, likely: 0 plates clearing" in none


def test_full_says_how_it_was_worked(bench):
    short, full = (bench("bath-spirit", *ORDINARY["bath-spirit"], full=full).flowing for full in (False, True))
    for label in ("How: ", "Holds: ", "How well: ", "From: ", "Told: "):
        assert label in full
    assert "From: " not in short
    assert "--full: formula and sources" in short


def test_a_solution_says_what_it_is_for_and_how_long_it_keeps(bench, knowledge):
    done = bench("developer-mild", "volume=500 mL").flowing
    assert knowledge.solutions["developer-mild"].use in done
    assert f"Keeps: {knowledge.solutions['developer-mild'].keeps}" in done
    assert "Holds: " not in bench("developer-mild", "volume=500 mL", full=True).flowing
