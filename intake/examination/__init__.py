"""Looking an item over: plans, zone states, findings and photos."""
