"""What one part of a typed line says, gathered word by word before it becomes an entry."""

import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from typing import Any

from diagnose.daybook.book import THINGS, USUAL, Thing, Work
from diagnose.daybook.codes import codes
from diagnose.daybook.entering_parts import Part, parts_of
from diagnose.daybook.entering_words import USUAL_WORDS, Meaning, phrases, split
from diagnose.entries.knowledge import Knowledge
from diagnose.errors import near
from diagnose.plate import shown
from diagnose.units import UNITS

_UNIT = re.compile(r"[^\d.,/\s+-].*$", re.DOTALL)
_NUMBERED = frozenset({"no", "no.", "nr", "nr.", "number", "#"})
_TIMES = {"developer": "development_time", "bath": "sensitising_time", "fixer": "clearing_time", "water": "wash_time"}
_SHORT_TIMES = frozenset({"s", "min"})


@dataclass
class Draft:
    """What was said between two semicolons.

    Args:
        knowledge: the craft
    """

    knowledge: Knowledge
    outcome: str = ""
    signs: dict[str, dict[str, str]] = field(default_factory=dict)
    conditions: dict[str, str] = field(default_factory=dict)
    made_with: dict[Thing, str] = field(default_factory=dict)
    things: list[tuple[Thing, str | None]] = field(default_factory=list)
    work: Work | None = None
    remedy: str = ""
    size: str = ""
    amount: str = ""
    stop: str = ""
    who: str = ""
    problems: list[str] = field(default_factory=list)
    unknown: list[str] = field(default_factory=list)
    answer: str = "present"
    sign: str = ""
    looks: list[Part] = field(default_factory=list)
    parts: list[Part] = field(default_factory=list)

    @property
    def is_plate(self) -> bool:
        """Whether it tells of a plate."""
        return bool(self.outcome or self.signs)

    def read(self, parts: Sequence[Part]) -> None:
        """Take in every part.

        Args:
            parts: of one statement
        """
        self.parts = list(parts)
        plate_too = any(
            part.meaning("outcome") or (part.meanings and part.meanings[0].sort == "sign") for part in parts
        )
        works = [part for part in parts if part.meaning("work", "remedy") and not part.meaning("sign", "outcome")]
        in_work = bool(works) and not plate_too
        if plate_too and (done := _done_to_something(parts)):
            self.problems.append(
                f"{shown(done)!r} is something you did: write it on a line of its own, or after a semicolon"
            )
            return
        position = 0
        while position < len(self.parts):
            position = self._take(position, in_work=in_work)
        self._hang_looks()
        if self.unknown:
            self.problems.append(_unknown(self.unknown, self.knowledge))

    def _take(self, position: int, *, in_work: bool) -> int:
        """Take in the part at a position.

        Returns:
            the position of the next one
        """
        part = self.parts[position]
        match part.sort:
            case "mark":
                self._mark(part)
            case "number":
                self._code(part, in_work=in_work)
            case "amount":
                self._amount(part, in_work=in_work)
            case "size":
                self.size = part.text
            case "stop":
                self.stop = part.text.replace(" ", "")
            case "phrase":
                return self._phrase(position, in_work=in_work)
            case _:
                self.unknown.append(part.text)
        return position + 1

    def _mark(self, part: Part) -> None:
        if part.text == "," and self.looks:
            self._hang_looks()
        if part.text == "?" and self.sign:
            self.signs[self.sign]["answer"] = "unsure"
        elif part.text == "=":
            self.unknown.append(part.text)

    def _phrase(self, position: int, *, in_work: bool) -> int:
        part = self.parts[position]
        condition, thing = part.meaning("condition"), part.meaning("thing")
        if condition and not (thing and in_work):
            after = self._condition(condition.name, position, alone=len(part.meanings) == 1, in_work=in_work)
            if after is not None:
                return after
        if in_work and (meaning := part.meaning("work", "remedy")):
            self._work(meaning)
            return position + 1
        if thing and not part.meaning("sign"):
            return self._thing(thing.name, position, in_work=in_work)
        meaning = next((m for m in part.meanings if m.sort != "condition"), part.meanings[0])
        match meaning.sort:
            case "outcome":
                self._outcome(meaning.name)
            case "sign":
                self._sign(part)
            case "look":
                self._look(part)
            case "answer":
                self.answer = meaning.name
            case "value" if not in_work:  # "cleaned glass plates" tells nothing of the plate in hand
                self.conditions[meaning.name] = meaning.more
            case "size":
                self.size = meaning.name
            case "who":
                return self._who(position)
            case _:
                pass
        return position + 1

    def _outcome(self, outcome: str) -> None:
        if self.answer == "absent":  # "not good"
            outcome, self.answer = ("spoiled" if outcome == "good" else "good"), "present"
        if self.outcome and self.outcome != outcome:
            self.problems.append("both good and bad are said of this plate; keep one")
        self.outcome = outcome

    def _sign(self, part: Part) -> None:
        names = [meaning.name for meaning in part.meanings if meaning.sort == "sign"]
        if len(names) > 1:
            self.problems.append(f"{shown(part.text)!r} may mean {' or '.join(names)}; write one of these")
            return
        self._has(names[0])

    def _has(self, name: str) -> None:
        self.sign = name
        self.signs.setdefault(name, {})["answer"] = self.answer
        self.answer = "present"
        self._hang_looks()

    def _code(self, part: Part, *, in_work: bool) -> None:
        known = codes(self.knowledge)
        if in_work:
            self.problems.append(f"{part.text} of what? Write the amount with its unit, such as {part.text} mL")
        elif name := known.get(int(part.text)):
            self._has(name)
        else:
            self.problems.append(
                f"no sign has the number {part.text}: the sheet goes from 1 to {len(known)}; an amount wants its unit, as in 4 s"
            )

    def _look(self, part: Part) -> None:
        """How a sign looks: of the one just named, else of the next."""
        self.looks.append(part)
        if self.sign and self._offered(part, self.sign):
            self._hang_looks()

    def _hang_looks(self) -> None:
        """Give the words of looks that wait to the sign they are said of."""
        for part in self.looks:
            meaning = self._offered(part, self.sign) if self.sign else None
            if meaning:
                self.signs[self.sign][meaning.more] = meaning.name
            elif self.sign:
                self.problems.append(self._not_offered(part))
            else:
                self.problems.append(
                    f"{shown(part.text)!r}: of which sign? Write it after the sign, as in fog lower-part"
                )
        self.looks = []

    def _offered(self, part: Part, sign: str) -> Meaning | None:
        offered = self.knowledge.symptoms[sign].attributes
        return next((m for m in part.meanings if m.sort == "look" and m.name in offered.get(m.more, ())), None)

    def _not_offered(self, part: Part) -> str:
        symptom = self.knowledge.symptoms[self.sign]
        asked = [f"{name} {', '.join(values)}" for name, values in symptom.attributes.items()]
        may = f"it may be told: {'; '.join(asked)}" if asked else "nothing more is asked of it; leave it out"
        return f"{shown(part.text)!r} is not told of {self.sign}; {may}"

    def _amount(self, part: Part, *, in_work: bool) -> None:
        unit = _unit_of(part.text)
        kind = unit.kind if unit else "an ounce"
        if in_work or (self.work and kind in {"volume", "mass", "drops", "an ounce"}):
            self.amount = part.text
        elif kind == "time" and "exposure_time" in self.knowledge.conditions:
            self.conditions["exposure_time"] = part.text
        else:
            self.problems.append(
                f"{shown(part.text)}: of what? Write what it is before it, such as room temperature 28 °C"
            )

    def _work(self, meaning: Meaning) -> None:
        if meaning.sort == "remedy":
            self.work, self.remedy = "mended", meaning.name
        elif self.work and self.work != meaning.name and {self.work, meaning.name} != {"new", "acid-added"}:
            second = meaning.name
            if {self.work, second} <= {
                "new",
                "filtered",
            }:  # "filtered into a new bottle" says little; what was done first counts
                return
            self.problems.append(f"two things were done here, {self.work} and {second}; write a line for each")
        elif self.work != "acid-added":
            self.work = meaning.name  # type: ignore[assignment]  # the names of works come from the book's own list

    def _thing(self, thing: str, position: int, *, in_work: bool) -> int:
        """A thing with its name, or with an amount that tells something of it."""
        assert thing in THINGS
        here = position + 1
        following = self.parts[here] if here < len(self.parts) else None
        if following and following.sort == "amount" and not in_work:
            condition = self._told_of(thing, following)
            if condition:
                self.conditions[condition] = following.text
                return here + 1
        name, after = self._name(here, in_work=in_work)
        if in_work:
            self.things.append((thing, name))
        elif name is not None:
            self.made_with[thing] = name
        elif following is None or not following.meaning("sign"):  # "light fog" is a faint one
            self.problems.append(
                f'{thing}: which one? Write its name after it, as in {thing} B; names of two words in ""'
            )
        return after

    def _told_of(self, thing: str, part: Part) -> str:
        """The condition that an amount after a thing tells; "" for none."""
        unit = _unit_of(part.text)
        if unit is None:
            return ""
        if unit.kind == "time" and unit.name in _SHORT_TIMES and thing in _TIMES:
            condition = _TIMES[thing]
        else:
            condition = {"temperature": f"{thing}_temperature", "time": f"{thing}_age"}.get(unit.kind, "")
        entry = self.knowledge.conditions.get(condition)
        return condition if entry and entry.kind == "quantity" else ""

    def _name(self, position: int, *, in_work: bool) -> tuple[str | None, int]:
        """The name that begins at a position, and what comes after it; None where there is none."""
        parts, here = self.parts, position
        if here < len(parts) and parts[here].text in {"=", ":"}:
            here += 1
        if here >= len(parts):
            return None, position
        first = parts[here]
        if first.sort == "quoted":
            return " ".join(first.text[1:-1].split()), here + 1
        if first.text.casefold() in USUAL_WORDS:
            return USUAL, here + 1
        if first.text.casefold() in _NUMBERED and here + 1 < len(parts) and parts[here + 1].sort == "number":
            return f"{first.text} {parts[here + 1].text}", here + 2
        last = here + 1 == len(parts) or parts[here + 1].sort == "mark"
        takes = first.sort in {"word", "stop", "date"} or (first.sort == "number" and not in_work)
        letter = first.sort == "phrase" and len(first.text) == 1
        plain_words = (
            first.sort == "phrase" and last and not in_work and first.meanings[0].sort in {"look", "filler", "value"}
        )
        if not (takes or letter or plain_words):
            return None, position
        words = [first.text]
        here += 1
        while here < len(parts):
            if parts[here].sort == "word":
                words.append(parts[here].text)
            elif parts[here].meaning("filler") and here + 1 < len(parts) and parts[here + 1].sort == "word":
                words += [parts[here].text, parts[here + 1].text]
                here += 1
            else:
                break
            here += 1
        return " ".join(words), here

    def _who(self, position: int) -> int:
        name, after = self._name(position + 1, in_work=False)
        if name is None:
            self.problems.append("by whom? Write the name of the one who made the plate after it")
            return position + 1
        self.who = name
        return after

    def _condition(self, name: str, position: int, *, alone: bool, in_work: bool) -> int | None:
        """A condition with its value; None where the words mean something else."""
        entry = self.knowledge.conditions[name]
        here = position + 1
        while here < len(self.parts) and (
            self.parts[here].text in {"=", ":"} or self.parts[here].text in {"is", "was"}
        ):
            here += 1
        told = self.parts[here : here + 4]
        if told and told[0].text == "?":
            self.conditions[name] = "?"
            return here + 1
        if entry.kind == "quantity":
            if told and (
                told[0].sort in {"amount", "number", "date", "size", "stop", "quoted"} or told[0].meaning("size")
            ):
                self.conditions[name] = told[0].text.strip('"“”„')
                return here + 1
            said = f"{name.replace('_', ' ')}: how much? Write it with its unit, as in room temperature 28 °C"
        else:
            for count in range(len(told), 0, -1):
                words = split(" ".join(part.text for part in told[:count]))
                for answer, meaning in entry.answers.items():
                    if words in {split(answer), split(meaning)}:
                        self.conditions[name] = answer
                        return here + count
            said = f"{name.replace('_', ' ')}: write one of {', '.join(entry.answers)} after it"
        if not alone:
            return None
        text = self.parts[position].text
        others = parts_of(text, _without_conditions(self.knowledge))
        if all(part.sort == "phrase" for part in others):
            self.parts[position : position + 1] = others
            return self._take(position, in_work=in_work)
        self.problems.append(said)
        return position + 1


def _done_to_something(parts: Sequence[Part]) -> str:
    """Words such as "new holder" or "bath filtered" in the middle of what is said of a plate; "" where there are none."""
    for one, other in pairwise(parts):
        pair = {part.meanings[0].sort if part.meanings else "" for part in (one, other)}
        if pair == {"work", "thing"}:
            return f"{one.text} {other.text}"
    return ""


def _unit_of(text: str) -> Any:
    found = _UNIT.search(text)
    return UNITS.get(found[0].casefold()) if found else None


def _without_conditions(knowledge: Knowledge) -> Any:
    return {
        words: kept
        for words, meanings in phrases(knowledge).items()
        if (kept := tuple(meaning for meaning in meanings if meaning.sort != "condition"))
    }


def _unknown(words: Sequence[str], knowledge: Knowledge) -> str:
    """Words that nothing is known by, with near ones."""
    known = [" ".join(phrase) for phrase in phrases(knowledge)]
    said = []
    for word in words[:3]:
        hint = near(" ".join(split(word[:40])), known)
        said.append(f"{shown(word)!r} is not understood" + (f"; {hint}" if hint else ""))
    more = f", and {len(words) - 3} words more are not" if len(words) > 3 else ""
    return "; ".join(said) + more + "; what is for you alone goes behind the word note"
