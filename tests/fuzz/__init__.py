"""Files that strangers might hand to the program: what becomes of them; `python3 tests fuzz`."""
