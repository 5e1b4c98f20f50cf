"""The bracket as mounted, in 3D: what is drawn, how it moves, and pictures of it. No Qt."""
