"""What each dose wants to be told, and an everyday answer; by hand from the files."""

# In the order it is asked, nothing else being told.
TOLD = {
    "dip-sooner": {"room_temperature": "30 °C"},
    "wait-for-the-set": {"room_temperature": "8 °C"},
    "thin-the-collodion": {"collodion_volume": "500 mL", "collodion_ether": "50 %"},
    "add-acid-to-developer": {
        "developer_volume": "500 mL",
        "developer_acid": "3 %",
        "developer_acid_wanted": "5 %",
        "acetic_percent": "80 %",
    },
    "develop-longer": {"developer_temperature": "12 °C"},
    "stop-development-sooner": {"developer_temperature": "25 °C"},
    "mix-fresh-developer": {"developer_volume": "500 mL"},
    "more-alcohol-in-developer": {"developer_volume": "500 mL", "bath_age": "used"},
    "give-less-exposure": {"exposure_time": "4 s"},
    "give-more-exposure": {"exposure_time": "4 s"},
    "change-the-fixer": {"fixer_volume": "1 L"},
    "damp-paper-behind-plate": {"room_temperature": "30 °C"},
    "shorten-the-wait": {"room_temperature": "30 °C"},
    "acidify-the-bath": {"bath_volume": "1 L", "bath_ph": "5", "nitric_percent": "65 %"},
    "dilute-filter-restore-bath": {"bath_volume": "1 L", "bath_strength": "80 g/L", "bath_water": "2 L"},
    "ease-acid-of-bath": {"bath_volume": "1 L", "bath_ph": "2.5"},
    "iodise-new-bath": {"bath_volume": "1 L", "bath_strength": "80 g/L"},
    "replace-the-bath": {"bath_full": "1.2 L"},
    "strengthen-the-bath": {"bath_volume": "1 L", "bath_strength": "60 g/L"},
    "thin-the-bath": {"bath_volume": "1 L", "bath_strength": "130 g/L"},
    "wash-longer-both-sides": {"fixer": "hypo", "support": "glass"},
}
ALSO = {"change-the-fixer": {"fixer": "hypo"}}  # what a dose waits for before it says anything


def told(remedy, **changes):
    """All that the dose of a remedy wants, with some of it changed."""
    return {**ALSO.get(remedy, {}), **TOLD[remedy], **changes}
