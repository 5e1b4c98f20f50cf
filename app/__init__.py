"""The command line, the window and the paper of Holdsquare."""
