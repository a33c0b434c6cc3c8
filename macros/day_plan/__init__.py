"""A job on the clock: the steps of its pages as a plan for one person or two.

What you may touch here: activities and waits, lives of batches, rests, the words of a plan. The search itself is in
`calculations/scheduler/`.

`activities_of_steps` makes activities and waits of the steps, `limits` adds lives of batches and the thirst of the crop,
`who` says what A alone may do, `schedule` asks the solver and adds rests, `earlier` tries an earlier start. `rows`,
`persons`, `day_lines` and `day_plan` put it into words, `fit` joins rows to a page, `sheet` lays it. `check_house_times`
compares the house's `cleanout_tasks` with the steps (W11).
"""
