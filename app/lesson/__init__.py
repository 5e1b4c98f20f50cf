"""The lesson: figures, questions and pictures of motion, made from whatever bracket is open. No Qt."""
