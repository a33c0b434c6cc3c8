"""Issues, revisions, copies on the wall, reviews.

Under control are pages, checklists and wall cards, each issued by its own key; a bench sheet and a record are their page on
paper. All an item prints is a list of lines with a place that stays and a kind (`manual/pages/printed_lines.py`). The
values code is made of these lines and of the shape of each formula behind them: an input that prints the same moves no code,
a formula does. `trayside issue` writes copies to `site_data/issued/` first, then the entries under `issued:` in one stroke.
`judge_change` compares a copy with what is printed now. A line is added or renamed with care: it moves the code of every house.
"""
