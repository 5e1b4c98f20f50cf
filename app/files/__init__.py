"""What keeps the user's work safe on disk: autosave, recovery, recent files, locks. No Qt."""
