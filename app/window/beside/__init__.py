"""What the page Side by side is made of: chosen layouts, their judge, their views, their figures."""
