"""The invented day."""
