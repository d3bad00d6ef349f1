"""The pictures of a report: from its data to SVG, the same on the page and on paper.

In: parts of a `Report`. Out: a `Picture` each: shapes, what it is called, and the same in words. A
picture is derived from the model by the renderers and never stored in it: the JSON stays data. It
tells nothing by colour alone, asks for nothing from elsewhere and carries no style sheet, no script
and no reference, so that the page may forbid all of them.
"""
