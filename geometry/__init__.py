"""The bracket, its file, flat pattern, folds, findings and mesh."""
