"""What clay does: shrinkage with its cone, weight."""
