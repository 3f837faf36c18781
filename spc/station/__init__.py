"""What people do, one verb a file; `fold.step` is the one pure judgement that everything runs."""
