"""A job on the clock: the steps of its pages as a plan for one person or two.

What you may touch here: activities and waits, lives of batches, rests, the words of a plan. The search itself is in
`calculations/scheduler/`.

`activities_of_steps` makes activities and waits of the steps, `limits` adds lives of batches and the thirst of the crop,
`schedule` asks the solver and adds rests, `rows` and `day_plan` put it into words, `sheet` on paper. `check_house_times`
compares the house's `cleanout_tasks` with the steps (W11).
"""
