"""Opening somebody's bracket file, and what a certifier writes down of it. No Qt."""
