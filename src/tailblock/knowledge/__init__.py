"""Checklists: the knowledge for one family of instruments, from YAML to frozen values.

In: folders of YAML files. Out: `Checklist`s, and `Problem`s with their places. May import
`measures` and `errors`; knows no instrument and no reading.

`ready.open_checklist` finds and reads one that can be relied on; `loader.load` and `lint.lint` tell
everything that is wrong with one.
"""
