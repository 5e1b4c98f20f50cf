"""What is raised when the program cannot be set up."""


class SetUpError(RuntimeError):
    """Holdsquare cannot be set up here; the message is one sentence for the user."""
