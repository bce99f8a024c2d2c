"""Today's questions, what an answer means, and the walk itself."""
