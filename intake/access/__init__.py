"""Which devices may talk to the office, and as whom."""
