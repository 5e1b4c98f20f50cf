"""Paper for the workshop and the proof in the car. Content and layout know no Qt; `pdf` alone paints."""
