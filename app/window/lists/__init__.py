"""What stands under the drawing: parts list, notes, title block with its stamp, checks, trial strip."""
