"""The report: what was concluded, said so that a player and a repairer can use it.

In: `Examined` (a visit with everything that was concluded from it). Out: `Report`, content without
markup, and from there HTML, Markdown, JSON or PDF. May import everything below `pipeline`; knows no
clock, no file of the user and no terminal.

Begin at `build.build`, then `to_html`, `to_markdown`, `to_json`, `to_pdf`. Nothing is imported
here: the terminal needs the `wording` alone, and the renderers are slow to import.
"""
