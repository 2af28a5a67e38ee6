"""Does it run on every Python that is declared? Run by hand: `python tests/versions.py [interpreter ...]`.

Each interpreter (python3.11, 3.12 and 3.13 of PATH, unless some are given) gets an environment of its own in a temporary
folder, the checkout is installed into it, and one plate is diagnosed with every warning an error. 3.13 is tried twice:
durable-rules builds there as it is but cannot be loaded, and with the flag of the README it can.
"""

import json
import os
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path

CHECKOUT = Path(__file__).resolve().parents[1]
NAMES = ("python3.11", "python3.12", "python3.13")
FLAG = "-DPyEval_CallObject=PyObject_CallObject"
NEEDS_FLAG = (3, 13)
DIAGNOSE = """
import json
from diagnose import Plate, read_knowledge
from diagnose.facts import understand
from diagnose.reasoning.craft import craft_of
from diagnose.reasoning.weighing import fire, gather, weigh

craft = craft_of(read_knowledge())
plate = Plate.read({
    "symptoms": {"thin-blue-film": True, "dark-picture": True},
    "conditions": {"bath_strength": "42 g/L", "sensitising_time": "4 min", "bath_smells_of_spirit": "no"},
})
facts = understand(plate, craft.knowledge)
firing = fire(facts, craft)
posterior = weigh(gather(facts, firing, craft), craft)
first = max(posterior.causes, key=posterior.causes.get)
print(json.dumps([firing.engine, len(firing.trace), first, posterior.causes[first], craft.notice]))
"""


def main(given: list[str]) -> int:
    rows, failed = [("python", "built", "engine", "result")], 0
    for interpreter in given or NAMES:
        version = version_of(interpreter)
        if version is None:
            rows.append((interpreter, "-", "-", "not found"))
            failed += bool(given)
            continue
        for flag in ("", FLAG) if version >= NEEDS_FLAG else ("",):
            row, good = try_one(interpreter, version, flag)
            rows.append(row)
            failed += not good
    widths = [max(len(row[column]) for row in rows) for column in range(3)]
    for row in rows:
        print("  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=False)), row[3], sep="  ")
    return 1 if failed else 0


def version_of(interpreter: str) -> tuple[int, ...] | None:
    """Its version, or nothing where it is missing or does not start (a shim without an interpreter behind it)."""
    if not shutil.which(interpreter):
        return None
    code = "import sys; print(*sys.version_info[:3])"
    done = subprocess.run([interpreter, "-c", code], capture_output=True, text=True, check=False)
    return tuple(map(int, done.stdout.split())) if done.returncode == 0 else None


def try_one(interpreter: str, version: tuple[int, ...], flag: str) -> tuple[tuple[str, str, str, str], bool]:
    """Install and diagnose: a row of the table, and whether all went as it should."""
    name, built = ".".join(map(str, version)), "with the flag" if flag else "as it is"
    with tempfile.TemporaryDirectory(prefix="versions-") as folder:
        place = Path(folder)
        env = {**os.environ, "PYTHONUTF8": "1", "XDG_CACHE_HOME": str(place / "cache")}
        if flag:
            env["CPPFLAGS"] = flag
        started = time.perf_counter()
        # no cache of built wheels: a build with the flag and one without bear the same name
        steps = (
            [interpreter, "-m", "venv", str(place / "env")],
            [str(python_of(place / "env")), "-m", "pip", "install", "--quiet", "--no-cache-dir", str(CHECKOUT)],
        )
        for step in steps:
            done = subprocess.run(step, capture_output=True, text=True, env=env, cwd=place, check=False)
            if done.returncode:
                return (name, built, "-", f"{step[2]} failed: {last_line(done.stderr)}"), False
        seconds = time.perf_counter() - started
        done = subprocess.run(
            [str(python_of(place / "env")), "-W", "error", "-c", DIAGNOSE],
            capture_output=True,
            text=True,
            env=env,
            cwd=place,
            check=False,
        )
    if done.returncode or done.stderr:
        return (name, built, "-", f"ended with {done.returncode}: {last_line(done.stderr)}"), False
    engine, rules, first, chance, notice = json.loads(done.stdout)
    expected = "plain Python" if version >= NEEDS_FLAG and not flag else "durable-rules"
    result = f"{first} {chance:.3f}, {rules} rules fired, installed in {seconds:.0f} s"
    good = engine == expected and first == "silver-bath/weak-bath" and bool(notice) == (engine == "plain Python")
    return (name, built, engine, result if good else f"{result}; expected {expected}"), good


def python_of(environment: Path) -> Path:
    return environment / ("Scripts/python.exe" if os.name == "nt" else "bin/python")


def last_line(text: str) -> str:
    lines = [line for line in text.splitlines() if line.strip() and not line.startswith("[notice]")]
    return lines[-1].strip()[:160] if lines else "no reason given"


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
