"""What is due on which engine, and why."""
