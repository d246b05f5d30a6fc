"""Every screen as a picture, for a person to look through."""
