"""The door to the pages: the chain of a cause, and all there is to teach of a cause or a sign."""

from diagnose.teaching.mechanism import Chain, Chemistry, Step, chain_of
from diagnose.teaching.pages import cause_page, cited, neighbours_of, symptom_page

__all__ = ["Chain", "Chemistry", "Step", "cause_page", "chain_of", "cited", "neighbours_of", "symptom_page"]
