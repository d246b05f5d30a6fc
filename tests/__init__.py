"""Every check of the project; `python3 -m tests` runs them all."""
