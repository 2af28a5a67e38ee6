"""What the rule engine can safely hold; measured, with room to spare (see DEVELOPERS.md)."""

MOST_CONDITIONS_A_RULE = 12  # the core fails at 17, and only when the rule matches
MOST_RULES = 2800  # the core refuses the 4097th
MOST_CONDITIONS_IN_ALL = 3000  # beyond this it slows sharply
MOST_LINES_A_FILE = {"causes": 250, "remedies": 45}
MOST_SYMPTOMS_A_CAUSE = 16
