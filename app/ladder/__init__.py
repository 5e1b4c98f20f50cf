"""The ladder: which plate, bolt, bend or bar is the least that passes, step by step, on all cores. No Qt."""
