"""The band trial: whether the stated bands hold what far finer meshes answer; `python3 tests band-trial`."""
