"""The report: what was judged and why, as PDF and as HTML, from one list of blocks."""
