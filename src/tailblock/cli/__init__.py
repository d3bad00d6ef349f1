"""The edge: commands that parse what a person wrote, call the stages below and print.

In: a command line, and for `begin` and `walk` lines from a person. Out: text or JSON and an exit
code: 0 fine, 1 lint found errors, 2 bad usage or bad input. No rule of the trade, no arithmetic and
no wording of a report stands here. Commands import what they need when they run, so that `--help`
starts light.
"""
