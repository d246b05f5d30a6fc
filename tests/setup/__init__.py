"""Getting any machine ready, from nothing but Python."""
