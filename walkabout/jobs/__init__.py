"""From verdicts and findings to jobs, and their life until they are clear."""
