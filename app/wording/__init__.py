"""Words and figures that the window, the command line and paper share. No Qt."""
