"""What records and trials show: trends, control limits, comparisons."""
