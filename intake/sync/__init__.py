"""Carrying operations and records between devices and the office."""
