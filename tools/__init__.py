"""What makes the demo club; no part of the program."""
