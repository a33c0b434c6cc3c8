"""The ways in: command line, MkDocs, preview, issue, printing, publishing.

What you may touch here: a command, an option, a status. No logic of the job.

`trayside build` works the manual out once and hands it to the generator; the working goes once its texts are handed over, each
page once it is written (`on_files`, `on_post_page`): all of it at once was half the memory of a large house. With `--served` the
same `mkdocs.yml` goes without the plugin that packs the search for the disk, and the list of its files is added last. With
`--one-file` each page is made without the theme around it (`ThemedSite.bare_pages`). The preview hashes all files of the house at each
request, works one procedure page out by itself and the whole manual in another process meanwhile. Nothing the program writes
holds a time, a path of the machine or an order of hashes.
"""
