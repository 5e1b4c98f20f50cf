"""What stands around the bracket, by closed form: shaft joints, cable and fuse, collapse travel, room."""
