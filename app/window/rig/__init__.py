"""The rig log in the window."""
