"""What is kept when the program itself is at fault: a log that can be pasted into a report."""

import platform
import sys
import traceback
from datetime import UTC, datetime
from importlib.metadata import version
from pathlib import Path


def keep_log(error: BaseException) -> list[str]:
    """Write the log and say where it is.

    Args:
        error: what went wrong

    Returns:
        lines for the screen
    """
    from platformdirs import user_log_dir

    lines = [
        f"diagnose {version('wetplate-diagnose')}",
        f"Python {platform.python_version()} on {platform.platform()}",
        f"durable-rules {version('durable-rules')}, pydantic {version('pydantic')}, rich {version('rich')}",
        f"command: {sys.argv[1:]!r}",
        "",
        *traceback.format_exception(error),
    ]
    said = [f"diagnose: this is a fault of the program, not of yours: {type(error).__name__}."]
    try:
        folder = Path(user_log_dir("wetplate-diagnose"))
        folder.mkdir(parents=True, exist_ok=True)
        path = folder / f"bug-{datetime.now(UTC):%Y%m%d-%H%M%S}.log"
        path.write_text("\n".join(lines), encoding="utf-8")
    except OSError:
        return [*said, "The log could not be written; please report these lines:", *lines]
    return [*said, f"Please report it with this file: {path}"]
