"""The record of one instrument: from a file and a person's answers to findings.

In: an inspection file, answers as people write them, a `Checklist`. Out: `record.Inspection`
(`store.read`), the file changed in place (`edit` by way of `write.change`), and for each visit the
findings that speak (`speaks.hear`) with their likelihoods (`likelihood.likelihood`). Nothing here
knows a probability of a fault. May import: `knowledge`, `measures`, `errors`.
"""
