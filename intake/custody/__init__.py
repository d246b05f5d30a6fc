"""Who has what, and where: containers, moves, differences and the closing of the day."""
