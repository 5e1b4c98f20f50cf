"""What is put on paper: pages and templates as PDF."""
