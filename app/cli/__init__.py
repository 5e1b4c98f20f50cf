"""The command line: bracket files in, verdicts out. No Qt."""
