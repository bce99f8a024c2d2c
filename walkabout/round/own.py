"""The room's own recipes, in the form in which reckonings take them."""

from collections.abc import Iterable

from walkabout.growing.recipes import Recipe
from walkabout.room.solution import OwnRecipe


def own_recipes(recipes: Iterable[OwnRecipe]) -> tuple[Recipe, ...]:
    """Return the recipes of room.toml; one whose contents are no elements is left out."""
    return tuple(
        Recipe(
            key="-".join(one.name.casefold().split()),
            name=one.name,
            target=one.mg,
            source=one.source,
            known="assumed",
        )
        for one in recipes
        if one.mg
    )
