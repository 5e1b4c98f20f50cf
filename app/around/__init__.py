"""Pictures of what stands around the bracket."""
