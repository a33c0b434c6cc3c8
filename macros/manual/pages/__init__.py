"""From planned steps to the finished page, its sheet, its form and its values code."""
