"""Writing so that nothing is ever half done: locks, flushes, exchange of two folders, signals.

What is written for people goes through `swap_folder.replaced` (a folder: site, export) or `scratch_folder` with
`safe_write.replace_file` (a file: pack): filled beside under a lock, flushed, then exchanged in one step or by two renames
with `put_back`, which every command with `--house` calls. An exception carries a note that says how the folder stands now.
Names that begin with a dot and what `own_files` does not list are carried over, a folder that is no site of ours is refused.
Tests refuse and kill at each call.
"""
