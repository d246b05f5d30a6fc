"""Copies: the office's log and photos in a second place, and an office made from one."""
