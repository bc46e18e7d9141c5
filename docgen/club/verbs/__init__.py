"""The verbs of a step, one file each: what may be written, what it names, what it does at the bench, how it is told."""
