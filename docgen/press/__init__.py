"""HTML and CSS to finished PDF: archival, accessible, fillable, the same bytes everywhere. Knows no engine or job."""
