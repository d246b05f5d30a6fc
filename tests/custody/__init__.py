"""Custody, over real HTTP."""
