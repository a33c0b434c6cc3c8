"""What a page writes down: the value of a step, the blank form, the page of the readings typed on a phone."""
