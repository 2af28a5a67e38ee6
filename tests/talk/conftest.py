"""What the tests of the screens and of the dialog share: invented plates, every screen by name, a person who types."""

import io
import json
import sys
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from functools import cache
from typing import Any

import pytest

from diagnose import cli
from diagnose.answer import Diagnosis, diagnose
from diagnose.daybook.book import Book, Given, Moment, NoteEntry, PlateEntry, ValueEntry, WorkEntry
from diagnose.daybook.store import open_store
from diagnose.plate import Plate
from diagnose.talk import benching, clock, commands, folders, screens
from diagnose.talk import dialog as module
from diagnose.talk.book_in_hand import BookInHand
from diagnose.talk.clock import at_of
from diagnose.talk.dialog import Dialog
from diagnose.talk.folders import knowledge_of as folders_read
from diagnose.talk.theme import Look, make_look

# Every plate here is invented.
OYSTERS = {
    "symptoms": {"oyster-shell-marks": {"place": "lower-part", "colour": "silvery"}, "comets": "unsure", "fog": False},
    "conditions": {
        "room_temperature": "29 °C",
        "wait_before_developer": "5 min",
        "holder_wiped": "no",
        "fixer": "hypo",
    },
    "tried": [{"remedy": "blot-lowest-corner", "result": "no-change"}],
}
CYANIDE = {
    "symptoms": {"eaten-picture": True, "hard-picture": True},
    "conditions": {"fixer": "cyanide", "clearing_time": "8 s", "rinse_before_fixer": "no"},
}
CYANIDE_ELSEWHERE = {"symptoms": {"comets": True}, "conditions": {"fixer": "cyanide"}}
NO_CAUSE_OF_IT = {"symptoms": {"purple-rings": True}}
OVER_FULL = {"symptoms": {"fog": {"colour": "grey"}}, "conditions": {"room_temperature": "31 °C", "light": "daylight"}}
RIVAL = "silver-bath/dirt-in-bath"

SCREENS: dict[str, tuple[dict[str, Any], Callable[[Diagnosis, Look], None]]] = {
    "first": (OYSTERS, commands.show_answer),
    "full": (OYSTERS, lambda it, look: commands.show_answer(it, look, full=True)),
    "why": (OYSTERS, lambda it, look: look.show(screens.why_screen(it.ranking[0][0], it))),
    "why-not": (OYSTERS, lambda it, look: look.show(screens.why_not_screen(RIVAL, it))),
    "turn": (OVER_FULL, lambda it, look: look.show(screens.turn_screen(it))),
    "trace": (OYSTERS, lambda it, look: look.show(screens.trace_screen(it))),
    "cyanide-plan": (CYANIDE, lambda it, look: look.show(screens.plan_screen(it), screens.cautions_screen(it))),
    "cyanide-first": (CYANIDE_ELSEWHERE, commands.show_answer),
    "nothing-told": ({}, commands.show_answer),
    "nothing-explains": (NO_CAUSE_OF_IT, commands.show_answer),
}


# The bench: what is given, what is typed, and how it is asked for.
BENCH_SCREENS: dict[str, tuple[tuple[str, ...], tuple[str, ...], dict[str, Any]]] = {
    "bench-list": ((), (), {}),
    "bench-sum": (("silver-to-add", "volume=900 mL", "strength=38 gr/oz", "wanted=90 g/L"), (), {}),
    "bench-solution": (("developer-mild", "volume=500 mL", "acetic_acid_percent=28 %"), (), {}),
    "bench-full": (("wet-window", "temperature=28 °C", "humidity=35 %", "wait=4 min"), (), {"full": True}),
    "bench-asked": (
        ("acid-for-bath",),
        ("30", "warm", "5.6", "65", ""),
        {"measures": "us", "before": ("--units", "us")},
    ),
}


class Watched(Dialog):
    """A dialog that remembers what it put and what was taken in."""

    def __init__(self, *given: Any) -> None:
        super().__init__(*given)
        self.put_so_far: list[str] = []
        self.answers: list[str] = []
        self.rests = 0

    def put(self, question, diagnosis):
        self.put_so_far.append(question.id)
        super().put(question, diagnosis)

    def take(self, question, answer):
        taken = super().take(question, answer)
        if taken:
            self.answers.append(question.id)
        return taken

    def rest(self, diagnosis):
        self.rests += 1
        super().rest(diagnosis)


@dataclass(frozen=True)
class Talked:
    """A talk that is over."""

    dialog: Watched
    screen: str
    raised: BaseException | None
    heard_after_end: int

    @property
    def told(self) -> dict[str, Any]:
        return self.dialog.told

    @property
    def command(self) -> str:
        """The line that takes the plate up again, or ""."""
        lines = [line for line in self.screen.splitlines() if line.startswith("diagnose plate ")]
        return lines[-1] if lines else ""


@pytest.fixture(scope="session")
def reckoned(knowledge):
    """Diagnoses by plate: the talks of these tests begin alike, and the same plate is the same answer."""

    @cache
    def of(told: str, mode: str) -> Diagnosis:
        diagnosis = diagnose(Plate.read(json.loads(told)), knowledge, mode=mode)
        diagnosis.worth_asking = cache(diagnosis.worth_asking)
        return diagnosis

    return lambda plate, _knowledge, mode, measures="metric": of(json.dumps(plate.told()), mode)


@pytest.fixture(scope="session")
def talk(knowledge, reckoned):
    """Type these lines; after the last one the input ends, or the person presses ctrl-C."""

    def type_in(
        lines: Iterable[str],
        told: dict[str, Any] | None = None,
        mode: str = "sitter-waiting",
        end: type[BaseException] = EOFError,
        *,
        echo: bool = True,
        **look: Any,
    ) -> Talked:
        out = io.StringIO()
        typed = iter(lines)
        after = 0

        def listen(prompt: str) -> str:
            nonlocal after
            out.write(prompt)
            for line in typed:
                out.write(f"{line}\n" if echo else "\n")
                return line
            after += 1
            assert after < 5, "the dialog goes on although the input has ended"
            raise end

        looks = make_look(file=out, **{"width": 80, **look})
        dialog = Watched(knowledge, looks, listen, Plate.read(told or {}).told(), mode)
        raised = None
        with pytest.MonkeyPatch.context() as patch:
            if module.diagnose is diagnose:
                patch.setattr(module, "diagnose", reckoned)
            try:
                dialog.run()
            except (KeyboardInterrupt, SystemExit) as error:
                raised = error
        return Talked(dialog, out.getvalue(), raised, after)

    return type_in


@pytest.fixture(scope="session")
def all_screens():
    """The names of all screens."""
    return tuple(SCREENS)


@pytest.fixture(scope="session")
def draw(knowledge):
    """One screen as it is printed. One sign is added to the knowledge that nothing in it explains."""
    known: dict[str, Diagnosis] = {}

    rings = replace(
        knowledge.symptoms["fog"], title="Purple rings", look="Rings no book tells of", synonyms=(), period=()
    )
    wider = replace(knowledge, symptoms={**knowledge.symptoms, "purple-rings": rings}, version="one sign more")

    def drawn(name: str, **look: Any) -> str:
        plate, show = SCREENS[name]
        if repr(plate) not in known:
            known[repr(plate)] = diagnose(plate, wider if plate is NO_CAUSE_OF_IT else knowledge)
        diagnosis = known[repr(plate)]
        out = io.StringIO()
        show(diagnosis, make_look(file=out, **look))
        return out.getvalue()

    return drawn


@pytest.fixture(scope="session")
def all_bench_screens():
    """The names of all screens of the bench."""
    return tuple(BENCH_SCREENS)


@pytest.fixture(scope="session")
def draw_bench(knowledge):
    """One screen of the bench as it is printed, with what is typed."""

    def drawn(name: str, **look: Any) -> str:
        given, typed, how = BENCH_SCREENS[name]
        out = io.StringIO()
        lines = iter(typed)

        def listen(prompt: str) -> str:
            line = next(lines)
            out.write(f"{prompt}{line}\n".replace(" \n", "\n"))
            return line

        looks = make_look(file=out, **look)
        if given:
            options = {"measures": "metric", "full": False, **how}
            benching.work(given[0], given[1:], knowledge, looks, as_json=False, listen=listen, **options)
        else:
            benching.list_sums(knowledge, looks)
        return out.getvalue()

    return drawn


@pytest.fixture(scope="session")
def an_afternoon(tmp_path_factory) -> bytes:
    """The book of an invented afternoon at an invented fair, as a file."""

    def at(clock: str, day: str = "2026-05-21") -> Moment:
        return Moment(at_of(day, clock), day, clock)

    fog = Given(
        "invented",
        {"development/over-developed": 0.21, "development/warm-developer": 0.12},
        "stop-development-sooner",
        0.2,
    )
    shells = {
        "symptoms": {"oyster-shell-marks": {"answer": "present", "place": "lower-part"}},
        "conditions": {"holder_wiped": "no"},
    }
    made = {"collodion": "May", "holder": "A"}
    entries = [
        WorkEntry(moment=at("09:00", "2026-05-09"), work="new", thing="collodion", name="May", amount="250 mL"),
        WorkEntry(moment=at("18:00", "2026-05-18"), work="filtered", thing="bath"),
        ValueEntry(moment=at("18:05", "2026-05-18"), condition="bath_acid", value="nitric"),
        WorkEntry(moment=at("13:10"), work="new", thing="developer", amount="500 mL"),
        ValueEntry(moment=at("13:20"), condition="room_temperature", value="27 °C"),
        ValueEntry(moment=at("13:20"), condition="light", value="window"),
        PlateEntry(moment=at("14:05"), outcome="good", made_with=made, told={"conditions": {"exposure_time": "4 s"}}),
        PlateEntry(moment=at("14:20"), outcome="spoiled", made_with=made, told={"symptoms": {"fog": True}}, given=fog),
        PlateEntry(moment=at("14:40"), outcome="spoiled", made_with={**made, "holder": "B"}, told=shells, given=fog),
        NoteEntry(moment=at("14:50"), note="the tent was moved into the shade"),
        PlateEntry(
            moment=at("15:05"),
            outcome="spoiled",
            made_with={**made, "holder": "B"},
            told=shells,
            who="Ada",
            confirmed="holder-and-camera/dirty-holder",
            confirmed_by="person",
        ),
    ]
    place = tmp_path_factory.mktemp("afternoon") / "book.sqlite"
    with open_store(place) as store:
        store.add(*entries)
    return place.read_bytes()


# What is typed after `diagnose`, and what is typed into it.
DAY_SCREENS: dict[str, tuple[tuple[str, ...], str]] = {
    "day": (("day",), ""),
    "day-list": (("day", "list"), ""),
    "day-confirm": (("day", "confirm"), ""),
    "day-confirm-one": (("day", "confirm", "8"), ""),
    "day-learning": (("day", "learning"), ""),
    "day-enter": (("day", "enter"), "15:10 good\nxyzzy\n15:20 bad comets; holder B\nundo\n"),
}


class Clock:
    """A clock that stands until it is put forward."""

    def __init__(self) -> None:
        self.shows = datetime(2026, 5, 21, 15, 30).astimezone()

    def read(self) -> datetime:
        return self.shows

    def go(self, minutes: float) -> None:
        self.shows += timedelta(minutes=minutes)


@pytest.fixture
def stopped(monkeypatch):
    """The clock of the commands and of the talk: half past three on 21 May 2026, until it is put forward."""
    held = Clock()
    monkeypatch.setattr(clock, "reading", held.read)
    return held


@dataclass(frozen=True)
class Run:
    """A command that is over."""

    code: int
    out: str
    err: str

    @property
    def words(self) -> str:
        """What it said, without its line breaks."""
        return " ".join(self.out.split())

    @property
    def complaint(self) -> str:
        """The one line it failed with."""
        assert self.code == 1, (self.out, self.err)
        (line,) = self.err.splitlines()
        assert line.startswith("diagnose: ")
        assert line.isprintable()
        return line.removeprefix("diagnose: ")


@pytest.fixture
def run(monkeypatch, capsys, stopped, knowledge):
    """Run a command in this process, through the program's own door, with the clock stopped and the knowledge at hand."""
    monkeypatch.setattr(folders, "knowledge_of", lambda named: folders_read(named) if named else knowledge)
    for name in ("NO_COLOR", "FORCE_COLOR", "COLORTERM", "PYTHONIOENCODING"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setenv("COLUMNS", "80")
    monkeypatch.setenv("TERM", "xterm")

    class Typed(io.TextIOWrapper):
        def isatty(self):
            return False

    def runs(*arguments: str, typed: str = "") -> Run:
        monkeypatch.setattr(sys, "argv", ["diagnose", *arguments])
        monkeypatch.setattr(sys, "stdin", Typed(io.BytesIO(typed.encode()), encoding="utf-8"))
        capsys.readouterr()
        with pytest.raises(SystemExit) as left:
            cli.run()
        said = capsys.readouterr()
        return Run(left.value.code, said.out, said.err)

    return runs


@pytest.fixture
def day(run):
    """Run a command of the day."""
    return lambda *arguments, typed="": run("day", *arguments, typed=typed)


@pytest.fixture
def kept(private_book):
    """What is in the book now."""

    def read() -> Book:
        with open_store(private_book) as store:
            return store.read()

    return read


@pytest.fixture
def talk_with_book(knowledge, private_book, stopped):
    """Type these lines into a talk that keeps a book; after the last one the input ends, or the person presses ctrl-C."""

    def type_in(
        lines: Iterable[str],
        told: dict[str, Any] | None = None,
        number: int = 0,
        end: type[BaseException] = EOFError,
        **look: Any,
    ) -> Talked:
        out = io.StringIO()
        typed = iter(lines)

        def listen(prompt: str) -> str:
            out.write(prompt)
            for line in typed:
                out.write(f"{line}\n")
                stopped.go(1)
                return line
            raise end

        looks = make_look(file=out, **{"width": 80, **look})
        book = BookInHand(str(private_book), knowledge, number)
        dialog = Watched(knowledge, looks, listen, Plate.read(told or {}).told(), "sitter-waiting", (), "metric", book)
        raised = None
        try:
            dialog.run()
        except KeyboardInterrupt as error:
            raised = error
        return Talked(dialog, out.getvalue(), raised, 0)

    return type_in


@pytest.fixture(scope="session")
def all_day_screens():
    """The names of all screens of the day."""
    return (*DAY_SCREENS, "day-talk")


@pytest.fixture
def draw_day(run, talk_with_book, private_book, stopped, an_afternoon, monkeypatch):
    """One screen of the day as it is printed, over the book of an invented afternoon."""

    def drawn(name: str, width: int = 80, *, plain: bool = False) -> str:
        private_book.write_bytes(an_afternoon)
        stopped.shows = Clock().shows
        if name == "day-talk":
            lines = ["b", "1", "31", "x"]
            screen = talk_with_book(lines, OYSTERS | {"tried": []}, width=width, plain=plain).screen
            return screen.replace("> \n", ">\n")
        monkeypatch.setenv("COLUMNS", str(width))
        arguments, typed = DAY_SCREENS[name]
        done = run(*(("--plain",) if plain else ()), *arguments, typed=typed)
        return done.out

    return drawn
