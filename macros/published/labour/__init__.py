"""What is done when: jobs, week, calendar."""
