"""Write nnls.json anew: what scipy.optimize.nnls answers to invented tables. Needs scipy (1.17.1 was used)."""

import json
import random
from pathlib import Path

import numpy as np
import scipy
from scipy.optimize import nnls

SEED = 11


def cases() -> list[dict[str, object]]:
    """Return tables of many shapes: narrow, wide, with zeros, with a target that cannot be met."""
    chance = random.Random(SEED)
    made = []
    for rows, columns in [(1, 1), (3, 2), (2, 3), (5, 5), (6, 9), (9, 6), (11, 12), (12, 11), (14, 16)] * 3:
        table = [
            [round(chance.choice([0, 0, chance.random()]) * 10 ** chance.uniform(-1, 1), 4) for _ in range(rows)]
            for _ in range(columns)
        ]
        target = [round(chance.uniform(0, 10), 3) for _ in range(rows)]
        unique = bool(np.linalg.matrix_rank(np.array(table).T) == columns)
        answer, remainder = nnls(np.array(table).T, np.array(target))
        made.append(
            {
                "columns": table,
                "target": target,
                "answer": answer.tolist(),
                "remainder": float(remainder),
                "unique": unique,
            }
        )
    return made


if __name__ == "__main__":
    frozen = {"library": f"scipy {scipy.__version__}, scipy.optimize.nnls", "cases": cases()}
    Path(__file__).with_name("nnls.json").write_text(json.dumps(frozen) + "\n", encoding="utf-8")
