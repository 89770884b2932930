"""What people bring instead of typing an outline, read into lines and arcs. Knows nothing of job files."""
