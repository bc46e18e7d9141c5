"""What goes on each page: a job becomes HTML, CSS and drawings. Pure functions; printing belongs to the press."""
