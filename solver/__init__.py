"""From a bracket to results: elasticity, condensation, connections, loads, stress, checks, verdict."""
