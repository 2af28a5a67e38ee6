"""Where a daybook is kept when nobody says otherwise."""

from pathlib import Path


def usual_place() -> Path:
    """The file in the folder that the person's system sets aside for such things."""
    from platformdirs import user_data_dir

    return Path(user_data_dir("wetplate-diagnose")) / "daybook.sqlite"
