"""Records as a batch of operations works on them: read once, changed in memory, written once.

A record is what never changes of it, its fields, and the disagreements about them. Each statement to the database
lets other threads take the interpreter, which costs more than the statement; so a batch of twenty operations on one
item reads that item once and writes it once. What follows from the fields is registered by the step that owns it:
values with `derives`, pages that show a record with `shows`, which record stands behind which with `stands_behind`.
"""
