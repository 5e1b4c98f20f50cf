"""A test rig's log: read, judged, and held against what was computed. No Qt."""
