"""Random sound brackets: every shape the model allows goes the whole way; `python3 tests sound`."""
