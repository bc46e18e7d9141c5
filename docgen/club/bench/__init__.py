"""An engine at the bench: its members and how they lie, how each stands, what was done to it and what went wrong."""
