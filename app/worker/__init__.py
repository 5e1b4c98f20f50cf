"""The analysis in a process of its own: it can be stopped, and can die, without the window. No Qt."""
