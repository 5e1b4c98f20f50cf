"""Small forms laid over the sheet for what cannot be drawn: a few fields, a sentence, done."""
