"""What one part of a typed line says, gathered word by word before it becomes an entry."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from diagnose.daybook.book import THINGS, Thing, Work
from diagnose.daybook.codes import codes
from diagnose.daybook.entering_names import condition_of, how_to_tell, name_at, not_understood, unit_of, value_at
from diagnose.daybook.entering_parts import Part, parts_of
from diagnose.daybook.entering_words import Meaning, without_conditions
from diagnose.daybook.works import TOUCHED
from diagnose.entries.knowledge import Knowledge
from diagnose.plate import shown


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
    fresh: bool = False
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
        self._unfold()
        parts = self.parts.copy()
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
            self.problems.append(not_understood(self.unknown, self.knowledge))

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
            case "clock":
                self.problems.append(f"{part.text} stands in the middle; write the time first, as in {part.text} good")
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
        if part.text == ",":
            self._hang_looks()
            self.fresh = False
        if part.text == "?" and self.sign:
            self.signs[self.sign]["answer"] = "unsure"
        elif part.text == "=":
            self.unknown.append(part.text)

    def _phrase(self, position: int, *, in_work: bool) -> int:
        part = self.parts[position]
        condition, thing = part.meaning("condition"), part.meaning("thing")
        if condition and not (thing and in_work):
            value, after = value_at(self.parts, position, condition.name, self.knowledge)
            if value:
                self.conditions[condition.name] = value
                return after
            if len(part.meanings) == 1:
                self.problems.append(how_to_tell(condition.name, self.knowledge))
                return after
        if in_work and (meaning := part.meaning("work", "remedy")):
            self._work(meaning)
            return self._after_remedy(position) if meaning.sort == "remedy" else position + 1
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
        before, self.sign, self.fresh = self.sign, name, True
        self.signs.setdefault(name, {})["answer"] = self.answer
        self.answer = "present"
        self._hang_looks(before)

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
        """How a sign looks: of the one named since the last comma, else of the next, else of the last."""
        self.looks.append(part)
        if self.fresh and self._offered(part, self.sign):
            self._hang_looks()

    def _hang_looks(self, before: str = "") -> None:
        """Give the words of looks that wait to the sign they are said of.

        Args:
            before: the sign named before the last one
        """
        for part in self.looks:
            sign = next((name for name in (self.sign, before) if name and self._offered(part, name)), "")
            meaning = self._offered(part, sign) if sign else None
            if meaning:
                self.signs[sign][meaning.more] = meaning.name
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
        unit = unit_of(part.text)
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
            condition = condition_of(thing, following, self.knowledge)
            if condition:
                self.conditions[condition] = following.text
                return here + 1
        name, after = name_at(self.parts, here, in_work=in_work)
        if in_work:
            self.things.append((thing, name))
        elif name is not None and not self._deliberate(name, here, after):
            self.problems.append(f'{shown(name)}: is this the name of the {thing}? Then write {thing} "{shown(name)}"')
        elif name is not None:
            self.made_with[thing] = name
        elif following is None or not following.meaning("sign"):  # "light fog" is a faint one
            self.problems.append(
                f'{thing}: which one? Write its name after it, as in {thing} B; names of two words in ""'
            )
        return after

    def _who(self, position: int) -> int:
        name, after = name_at(self.parts, position + 1, in_work=False)
        if name is None:
            self.problems.append("by whom? Write the name of the one who made the plate after it")
            return position + 1
        self.who = name
        return after

    def _deliberate(self, name: str, start: int, after: int) -> bool:
        """Whether words after a thing are its name, and not the rest of a sentence such as "developer ran out"."""
        ends = after >= len(self.parts) or self.parts[after].sort == "mark"
        marked = self.parts[start].sort == "quoted" or self.parts[start].text in {"=", ":"}
        return ends or marked or len(name) <= 2 or name != name.casefold() or any(map(str.isdigit, name))

    def _after_remedy(self, position: int) -> int:
        """The name of the thing that a remedy was done to, where one follows."""
        thing = TOUCHED.get(self.knowledge.remedies[self.remedy].touches)
        name, after = name_at(self.parts, position + 1, in_work=True)
        if thing and name:
            self.things.append((thing, name))
            return after
        return position + 1

    def _unfold(self) -> None:
        """Read "bath acid 2 drops" as a thing and a work, where it is not the answer to what acid the bath has."""
        for position in range(len(self.parts) - 1, -1, -1):
            part = self.parts[position]
            if not part.meanings or any(meaning.sort != "condition" for meaning in part.meanings):
                continue
            if not value_at(self.parts, position, part.meanings[0].name, self.knowledge)[0]:
                words = parts_of(part.text, without_conditions(self.knowledge))
                if {"thing", "work"} <= {meaning.sort for word in words for meaning in word.meanings}:
                    self.parts[position : position + 1] = words


def _done_to_something(parts: Sequence[Part]) -> str:
    """Words such as "new holder" or "bath filtered" in the middle of what is said of a plate; "" where there are none."""
    for one, other in pairwise(parts):
        pair = {part.meanings[0].sort if part.meanings else "" for part in (one, other)}
        if pair == {"work", "thing"}:
            return f"{one.text} {other.text}"
    return ""
