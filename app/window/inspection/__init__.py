"""What lies on the Record page of the window."""
