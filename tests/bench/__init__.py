"""Speed, as ratios against general-purpose libraries. Never part of pass or fail."""
