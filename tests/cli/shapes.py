"""The JSON that commands answer with, as schemas: a contract that scripts rely on."""

from __future__ import annotations

from typing import Any

from jsonschema import Draft202012Validator

Shape = dict[str, Any]

ID = {"type": "string", "pattern": "^[a-z0-9][a-z0-9-]*$"}
IDS = {"type": "array", "items": ID}
CHANCE = {"type": "number", "minimum": 0, "maximum": 1}
MINUTES = {"type": "number", "minimum": 0}
LEAD = {"type": "number", "minimum": 0}
PLACE = {"type": "integer", "minimum": 1}


def obj(**fields: Any) -> Shape:
    """Return the shape of a mapping with exactly these fields."""
    return {
        "type": "object",
        "properties": fields,
        "required": list(fields),
        "additionalProperties": False,
    }


def answer(**fields: Any) -> Shape:
    """Return the shape of a command's answer."""
    return obj(tailblock={"const": 1}, **fields)


def many(item: Shape) -> Shape:
    """Return the shape of a list."""
    return {"type": "array", "items": item}


TEXT = {"type": "string"}
NUMBER = {"type": "number"}
HELD_BACK = many(
    {
        "oneOf": [
            obj(setup={"type": "object"}, because=IDS, clear_with=IDS),
            obj(check=ID, because=IDS, clear_with=IDS),
        ]
    }
)
EXACTNESS = {
    "exact": {"type": "boolean"},
    "approximate": {"type": "boolean"},
    "error": {"oneOf": [NUMBER, {"type": "null"}]},
}
_CAUSES = {
    "visit": PLACE,
    "faults": many(
        obj(
            id=ID,
            name=TEXT,
            part=ID,
            probability=CHANCE,
            prior=CHANCE,
            decibans=NUMBER,
            lead=MINUTES,
        )
    ),
    **EXACTNESS,
}
CAUSES = answer(**_CAUSES)
BITS = {"type": "number", "minimum": 0}
NOTHING = {"type": "null"}
CAUSES_EXPLAINED = answer(
    **_CAUSES,
    explanations={
        "oneOf": [
            obj(
                in_question=IDS,
                sets=many(
                    obj(
                        faults=IDS,
                        probability=CHANCE,
                        readings=many(
                            obj(
                                check=ID,
                                visit=PLACE,
                                fault={"oneOf": [ID, NOTHING]},
                                bits=BITS,
                            )
                        ),
                    )
                ),
            ),
            NOTHING,
        ]
    },
    surprises={
        "oneOf": [many(obj(check=ID, visit=PLACE, bits=BITS, named={"type": "boolean"})), NOTHING]
    },
)
NEXT = answer(
    advice=many(
        obj(
            check=ID,
            gain_bits=NUMBER,
            minutes=MINUTES,
            setup_minutes=MINUTES,
            reason=TEXT,
            bundle={"type": "integer", "minimum": 0},
        )
    ),
    bundles=many(
        obj(
            setup={"type": "object"},
            checks=IDS,
            minutes=MINUTES,
            setup_minutes=MINUTES,
            gain_bits=NUMBER,
            worth_it={"type": "boolean"},
            reason=TEXT,
        )
    ),
    held_back=HELD_BACK,
    enough={"type": "boolean"},
    phase={"enum": [None, "slacken", "before-strings", "tension", "again", "must-read", "gain"]},
    signs=many(obj(check=ID, before=ID, now=ID, state=TEXT)),
    **EXACTNESS,
)
WEIGHED = many(obj(check=ID, visit=PLACE, decibans=NUMBER))
WHY = answer(
    **{
        "visit": PLACE,
        "fault": ID,
        "name": TEXT,
        "part": ID,
        "probability": CHANCE,
        "prior": CHANCE,
        "decibans": NUMBER,
        "for": WEIGHED,
        "against": WEIGHED,
        "trail": IDS,
        "settles": {"oneOf": [ID, {"type": "null"}]},
        "comes_back": {
            "oneOf": [
                many(
                    obj(
                        **{
                            "remedy": ID,
                            "with": IDS,
                            "chance": CHANCE,
                            "causes": many(obj(fault=ID, share=CHANCE)),
                        }
                    )
                ),
                {"type": "null"},
            ]
        },
        **EXACTNESS,
    }
)
MOVED = {
    "moved": many(obj(id=ID, name=TEXT, before=CHANCE, after=CHANCE)),
    "held_back": HELD_BACK,
    "slacken_now": IDS,
    **EXACTNESS,
}
RECORD = answer(check=ID, understood=TEXT, **MOVED)
ACCEPT = answer(accepted=ID, **MOVED)
_PROBLEMS = many(obj(file=TEXT, line=PLACE, column=PLACE, entry=TEXT, message=TEXT))
_COUNT = {"type": "integer", "minimum": 0}
_YES = {"type": "boolean"}
TEST = answer(
    checklist=ID,
    version=TEXT,
    vignettes=many(
        obj(
            file=TEXT,
            title=TEXT,
            written={"enum": ["blind", "bench"]},
            first=IDS,
            nothing_wrong=IDS,
            next={"oneOf": [ID, {"type": "null"}]},
            leads_right=_YES,
            first_three_right=_YES,
            next_right={"type": ["boolean", "null"]},
            unsafe=many(obj(after=_COUNT, move=TEXT, what=ID, because=IDS)),
            passed=_YES,
        )
    ),
    totals=obj(
        vignettes=_COUNT,
        passed=_COUNT,
        leads_right=_COUNT,
        first_three_right=_COUNT,
        next_asked=_COUNT,
        next_right=_COUNT,
        unsafe=_COUNT,
    ),
)
LINT = answer(errors=_PROBLEMS, warnings=_PROBLEMS)
_THREE = obj(low=MINUTES, likely=MINUTES, high=MINUTES)
DAY = {"type": "string", "format": "date"}
YES_OR_NO = {"type": "boolean"}
_COUNT = {"type": "integer", "minimum": 0}
BOOK = answer(
    total=_COUNT,
    overdue=_COUNT,
    broken=_COUNT,
    cases=many(
        obj(
            path=TEXT,
            job=TEXT,
            instrument=TEXT,
            checklist=TEXT,
            stage=TEXT,
            day={"oneOf": [DAY, {"type": "null"}]},
            visits={"type": "integer", "minimum": 0},
            overdue=YES_OR_NO,
            follow_ups=many(obj(due=DAY, check=ID, remedy=ID, overdue=YES_OR_NO)),
            error={"oneOf": [TEXT, {"type": "null"}]},
        )
    ),
)
LEARN = answer(
    cases=_COUNT,
    confirmations=_COUNT,
    table=many(obj(low=CHANCE, high=CHANCE, count=PLACE, said=CHANCE, seen=CHANCE, error=CHANCE)),
    brier={
        "oneOf": [
            {"type": "null"},
            obj(
                score=CHANCE,
                reliability=CHANCE,
                resolution=CHANCE,
                uncertainty=CHANCE,
                within=NUMBER,
            ),
        ]
    },
    log_loss={"oneOf": [NUMBER, {"type": "null"}]},
    learned=many(
        obj(
            checklist=TEXT,
            cases=_COUNT,
            word_worth_trials=NUMBER,
            least_trials=NUMBER,
            interval=CHANCE,
            chances=many(
                obj(
                    entry=TEXT,
                    says=TEXT,
                    before=CHANCE,
                    word_before=TEXT,
                    after=CHANCE,
                    word_after=TEXT,
                    low=CHANCE,
                    high=CHANCE,
                    trials=NUMBER,
                    met=NUMBER,
                    proposed=YES_OR_NO,
                )
            ),
        )
    ),
    left_out=many(TEXT),
)
_MONEY = obj(
    currency={"type": "string", "pattern": "^[A-Z]{3}$"},
    tax=TEXT,
    lines=many(
        obj(
            label=TEXT,
            hours=TEXT,
            labour=TEXT,
            minimum={"type": "boolean"},
            materials=TEXT,
            tax=TEXT,
            rounding=TEXT,
            total=TEXT,
        )
    ),
    notes=many(TEXT),
)
HOURS = answer(
    hours={
        "oneOf": [
            {"type": "null"},
            obj(
                id=ID,
                title=TEXT,
                mean=MINUTES,
                sd=MINUTES,
                enough=many(obj(share=CHANCE, hours=MINUTES, error=MINUTES)),
                edges=many(MINUTES),
                counts=many({"type": "integer", "minimum": 0}),
                drawn=PLACE,
                said=many(TEXT),
                lines=many(obj(name=TEXT, chance=CHANCE, hours=_THREE, adds=MINUTES, why=TEXT)),
                because=many(TEXT),
                narrows=many(TEXT),
                picture=TEXT,
                method=TEXT,
                money={"oneOf": [{"type": "null"}, _MONEY]},
            ),
        ]
    }
)


def fits(data: Any, shape: Shape) -> None:
    """Fail unless data has a shape."""
    Draft202012Validator(shape).validate(data)


_MAYBE = {"oneOf": [ID, {"type": "null"}]}
_FLIPS = many(obj(vignette=TEXT, before=_MAYBE, after=_MAYBE))
EXPLAIN = answer(
    entry=ID,
    checklist=ID,
    version=TEXT,
    dependents=many({**obj(**{"as": TEXT}, how=TEXT, kind=TEXT, id=ID)}),
    numbers=many(obj(number=TEXT, words=TEXT)),
    vignettes=_COUNT,
    moved=many(
        obj(
            number=TEXT,
            way={"enum": ["down", "up"]},
            words=TEXT,
            leads=_FLIPS,
            next={"oneOf": [_FLIPS, {"type": "null"}]},
            most=obj(change=NUMBER, fault=TEXT, vignette=TEXT),
        )
    ),
)
_RANK = {"oneOf": [obj(first=IDS, next_check=_MAYBE), {"type": "null"}]}
_SIDE = obj(id=ID, version=TEXT, digest=TEXT)
DIFF = answer(
    old=_SIDE,
    new=_SIDE,
    changes=many(
        obj(kind=TEXT, id=ID, what={"enum": ["added", "removed", "changed"]}, lines=many(TEXT))
    ),
    vignettes=many(obj(vignette=TEXT, old=_RANK, new=_RANK, because=TEXT, differs=_YES)),
)
