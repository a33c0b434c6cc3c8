"""What a drawing beside a step or below a page shows, from the amounts and facts of the house."""
