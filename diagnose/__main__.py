"""`python -m diagnose` is the same as `diagnose`."""

from diagnose.cli import run

if __name__ == "__main__":
    run()
