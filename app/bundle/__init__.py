"""A folder with the program and all that it needs, for a machine without Python."""
