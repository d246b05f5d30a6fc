"""People and things come in: the day, its visits, and the items on the table."""
