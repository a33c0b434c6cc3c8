"""Pages, sheets and drawings from what the manual room worked out."""
