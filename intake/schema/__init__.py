"""Numbered schema steps; a merged step is never edited, the next change is a new step."""
