"""Whole ways through the job, in a real browser."""
