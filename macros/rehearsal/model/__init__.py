"""The room as a model: what a system is made of, how it stands, what a step does to it. It judges nothing.

What you may touch here: what is known of tank, trays, tubes, plugs, surfaces and batches, and how each act changes it.
"""
