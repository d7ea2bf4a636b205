import type { Ingredient, RecipeInput, Step } from '../recipe.ts'
import { follows, type Starter, starter } from './build.ts'
import { boilingPot, boilingSugar, notForShelf } from './cautions.ts'
import { lemonJuice, sugar } from './ingredients.ts'
import { bag, batch, cannerLoad, jar, material, of, pomace, pot, step } from './parts.ts'
import { boiledJam, jamOf } from './spreads.ts'
import * as steps from './steps.ts'

const perPound =
  'USDA Complete Guide to Home Canning 2015, Guide 7 p. 7-5: at least 1 cup of juice for each pound; it drips overnight'

/** Juice for jelly, the jellies of it, and plum jam. */
export const jellies: readonly Starter[] = [
  juiceForJelly('Blackberry juice for jelly', 'blackberry', { ripe: 1, firm: 0.7, soft: 0.7 }, [
    steps.wash(2, 'Rinse gently, pick over and crush.'),
    drip(
      'Simmer 5 to 10 minutes with a quarter cup of water to the pound, then let it drip through a jelly bag overnight.',
    ),
  ]),
  jelly(
    'Blackberry jelly',
    'blackberry-juice',
    [sugar(637)],
    220,
    'USDA Complete Guide to Home Canning 2015, Guide 7 p. 7-5: 3/4 to 1 cup of sugar for each cup of juice. Half-pints are counted as for apples: the 7 to 8 printed there do not fit the volume',
  ),
  juiceForJelly('Quince juice for jelly', 'quince', { firm: 1, ripe: 1, damaged: 0.7 }, [
    steps.wash(1, 'Rub off the down and wash.'),
    steps.cut(3, 'Cut up small without peeling; take out stem and blossom ends.'),
    drip('Simmer 25 to 45 minutes in water to cover until soft, then let it drip through a jelly bag overnight.'),
  ]),
  jelly(
    'Quince jelly',
    'quince-juice',
    [sugar(645), lemonJuice(85)],
    232,
    'So Easy to Preserve, University of Georgia (from memory): 3 3/4 cups of juice, 1/3 cup of lemon juice and 3 cups of sugar give about 4 half-pints',
  ),
  starter({
    name: 'Plum jam',
    method: 'water-bath-canned',
    // 4 lb of tart plums, 6 cups of sugar, 1/4 cup of lemon juice
    ...jamOf(batch(['plum', { firm: 0.7, ripe: 1, soft: 0.7 }, 1814]), 1200, 59, 8, 330),
    process: follows('jam, no added pectin', 'jam', 'hot'),
    steps: [steps.wash(1), steps.cut(3, 'Pit and chop.'), ...boiledJam()],
    cautions: [boilingSugar],
    source:
      'National Center for Home Food Preservation, plum jam without added pectin (from memory): 4 lb of tart plums and 6 cups of sugar give about 8 half-pints',
  }),
]

function drip(says: string): Step {
  return steps.cookAndRest(says, 0, 15, 720)
}

/** A litre of juice from 1.9 kg: a little more than a cup for each pound. */
function juiceForJelly(name: string, crop: string, suits: RecipeInput['suits'], making: Step[]): Starter {
  return starter({
    name,
    method: 'juiced',
    inputs: [of(crop, suits, pomace(0.45))],
    steps: [...making, step('fill', 'fill', 'Fill clean bottles and keep them cold.', { perUnit: 2 })],
    packs: [
      bag('litre', 'litre', 'litres', {
        gramsPerUnit: 1900,
        worthMinor: 0,
        runs: [pot(4, 50)],
        makes: {
          material: `${crop}-juice`,
          name: `${crop} juice`,
          gramsPerUnit: 1045,
          readyAfterDays: 1,
          keepsDays: 2,
        },
      }),
    ],
    cautions: [boilingPot, notForShelf],
    source: perPound,
  })
}

function jelly(name: string, juice: string, ingredients: Ingredient[], grams: number, source: string): Starter {
  return starter({
    name,
    method: 'water-bath-canned',
    inputs: [material(juice)],
    ingredients,
    process: follows('jelly, no added pectin', 'jelly', 'hot'),
    steps: [
      steps.sterilise(),
      steps.cook('Boil juice and sugar fast to the jelly point; skim.', 0, 30),
      ...steps.intoTheCanner(1.5, 'Fill the hot jars at once.'),
    ],
    packs: [jar('half-pint', grams, 340, [pot(5, 35), cannerLoad('half-pint')])],
    cautions: [boilingSugar],
    source,
  })
}
