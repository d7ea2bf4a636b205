import type { Method } from '../src/core/produce/vocabulary.ts'
import type { RecipeDefinition } from '../src/core/recipes/recipe.ts'
import { starters } from '../src/core/recipes/starters/index.ts'

/**
 * The demonstration co-op's recipes: what its produce asks for from the library, taken over as it is, and two that the
 * families brought along. Nobody tested those two, and the service says so.
 */
export type SeedRecipe = { name: string; method: Method; definition: RecipeDefinition }

const taken = [
  'Peach slices in light syrup',
  'Peach pie filling',
  'Frozen peach slices in syrup',
  'Peaches to eat fresh',
  'Apple slices in light syrup',
  'Apple sauce',
  'Apple butter',
  'Apple pie filling',
  'Apple juice for jelly',
  'Apple jelly',
  'Apple juice for the shelf',
  'Bottled apple juice',
  'Frozen apple slices',
  'Dried apple slices',
  'Apple and blackberry leather',
  'Apples to eat fresh',
  'Plums in light syrup',
  'Damson jam',
  'Quick damson pickle',
  'Blackberry jam',
  'Blackberries in light syrup',
  'Frozen blackberries',
  'Crushed tomatoes',
  'Crushed tomatoes under pressure',
  'Tomato sauce, thin',
  'Frozen diced tomatoes',
  'Snap beans',
  'Vinegar from cores and peels',
  'Topping up the cider vinegar',
]

export const seedRecipes: SeedRecipe[] = [...taken.map(fromLibrary), chutneyOfTheOdells(), fillingOfTheMarshes()]

function fromLibrary(name: string): SeedRecipe {
  const found = starters.find((starter) => starter.name === name)
  if (found === undefined) throw new RangeError(`the library has no recipe "${name}"`)
  return { name, method: found.method, definition: found.definition }
}

/** The published apple chutney with damsons for half of the fruit: as good, and not what was tested. */
function chutneyOfTheOdells(): SeedRecipe {
  const { method, definition } = fromLibrary('Apple chutney')
  const inputs = definition.inputs.flatMap((input) => {
    if (!('crop' in input.from) || input.from.crop !== 'apple') return [input]
    const half = { min: input.share.min / 2, max: input.share.max / 2 }
    return [
      { ...input, share: half },
      { ...input, from: { crop: 'damson' }, share: half, trim: [{ kind: 'stones-stems' as const, share: 0.1 }] },
    ]
  })
  return { name: 'Damson and apple chutney', method, definition: { ...definition, inputs, source: 'The Odells’ own' } }
}

/** A filling that is thickened before it is canned, with flour: common practice, and never tested. */
function fillingOfTheMarshes(): SeedRecipe {
  const { method, definition } = fromLibrary('Peach pie filling')
  const ingredients = definition.ingredients.map((one) =>
    one.kind === 'modified-starch' ? { ...one, supply: 'flour', name: 'flour', kind: 'starch' as const } : one,
  )
  const own = { ...definition, ingredients, source: 'Old Mrs Marsh’s notebook' }
  return { name: 'Peach pie filling with flour', method, definition: own }
}
