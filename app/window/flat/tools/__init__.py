"""The tools of the flat pattern view, one file each."""
