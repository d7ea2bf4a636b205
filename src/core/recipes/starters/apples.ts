import { follows, type Starter, starter } from './build.ts'
import { boilingPot, boilingSugar, notForShelf } from './cautions.ts'
import { ascorbicAcid, ciderVinegar, lemonJuice, lightSyrup, modifiedStarch, sugar } from './ingredients.ts'
import { bag, cannerLoad, freezerBag, jar, material, of, peels, pomace, pot, pounds, step } from './parts.ts'
import * as steps from './steps.ts'

const cored = peels(0.24, 0.38)
const peelAndSlice = 'Peel, core and slice; keep the slices in water with ascorbic acid until they are cooked.'

const pressed = [
  steps.wash(1),
  steps.cut(1, 'Cut up, mill and press.'),
  step('press', null, 'Let the juice stand cold for 24 hours and pour it off its sediment.', { wait: 1440 }, ['press']),
]

/** Apples in jars, as juice and in the freezer. */
export const apples: readonly Starter[] = [
  starter({
    name: 'Apple slices in light syrup',
    method: 'water-bath-canned',
    inputs: [of('apple', { firm: 1, ripe: 0.7 }, cored)],
    ingredients: [lightSyrup, ascorbicAcid],
    process: follows('apples', 'sliced', 'hot'),
    steps: [
      steps.wash(1),
      steps.cut(6, peelAndSlice),
      steps.cook('Boil the drained slices in the syrup for 5 minutes, stirring now and then.', 0.5),
      ...steps.intoTheCanner(2, 'Fill hot jars with hot slices and boiling syrup.'),
    ],
    packs: [jar('quart', 1247, 520, [cannerLoad('quart')])],
    source: 'USDA Complete Guide to Home Canning 2015, Guide 2 p. 2-7: 2 3/4 lb a quart; light syrup p. 2-5',
  }),
  starter({
    name: 'Apple sauce',
    method: 'water-bath-canned',
    inputs: [of('apple', { firm: 0.8, ripe: 1, soft: 0.9, damaged: 0.8 }, cored)],
    process: follows('applesauce', 'sauce', 'hot'),
    steps: [
      steps.wash(1),
      steps.cut(4, 'Peel, core and slice; trim away every bruise.'),
      steps.cook('Cook soft with half a cup of water to the pot, 5 to 20 minutes; press or mash, and boil again.', 2),
      ...steps.intoTheCanner(2, 'Fill hot jars with boiling sauce.'),
    ],
    packs: [
      jar('quart', pounds(21, 7), 560, [cannerLoad('quart')]),
      jar('pint', pounds(13.5, 9), 300, [cannerLoad('pint')]),
    ],
    cautions: [boilingPot],
    source: 'USDA Complete Guide to Home Canning 2015, Guide 2 p. 2-7: 3 lb a quart, 13 1/2 lb for 9 pints',
  }),
  starter({
    name: 'Apple butter',
    method: 'water-bath-canned',
    inputs: [of('apple', { ripe: 1, soft: 1, damaged: 0.8 }, cored)],
    // for 8 lb of apples: 2 cups of vinegar, 2 of cider, 4 1/2 of white and brown sugar
    ingredients: [sugar(261), ciderVinegar(130.5)],
    process: follows('apple butter', 'puree with sugar, cider and vinegar', 'hot'),
    steps: [
      steps.wash(1),
      steps.cut(3, 'Quarter and core; the peel may stay on.'),
      steps.sterilise(),
      steps.cook(
        'Cook soft in cider and vinegar, press through a mill, then cook with the sugar and spices (cinnamon and cloves), stirring often, until a spoonful keeps its shape for 2 minutes.',
        0,
        40,
      ),
      ...steps.intoTheCanner(1.5, 'Fill hot jars with the boiling butter.'),
    ],
    packs: [jar('pint', 427, 600, [pot(8, 150), cannerLoad('pint')])],
    cautions: [boilingSugar],
    source:
      'USDA Complete Guide to Home Canning 2015, Guide 2 p. 2-6: 8 lb of apples, with 2 cups of cider, for 8 to 9 pints',
  }),
  starter({
    name: 'Apple pie filling',
    method: 'water-bath-canned',
    inputs: [of('apple', { firm: 1, ripe: 0.8 }, cored)],
    // a quart takes 7/8 cup of sugar, 1/4 cup of starch, 2 tablespoons of bottled lemon juice
    ingredients: [sugar(153), modifiedStarch(25.5), lemonJuice(32), ascorbicAcid],
    process: follows('apple pie filling', 'slices in modified-starch sauce', 'hot'),
    steps: [
      steps.wash(1),
      steps.cut(6, 'Peel, core and cut half-inch slices; keep them in water with ascorbic acid.'),
      steps.cook(
        'Scald the slices for 1 minute and keep them hot. Boil sugar, starch, cinnamon, water and apple juice until thick, stir in the lemon juice, boil 1 minute more and fold in the slices.',
        2,
      ),
      ...steps.intoTheCanner(2, 'Fill hot jars at once.'),
    ],
    packs: [jar('quart', 1150, 780, [cannerLoad('quart')])],
    cautions: [boilingSugar],
    source:
      'USDA Complete Guide to Home Canning 2015, Guide 2 p. 2-25, 2-26 for starch, sugar and acid. Raw weight is our own: 3 1/2 cups of slices at the 2 3/4 lb that fill a quart (p. 2-7), and a twentieth for what is lost',
  }),
  starter({
    name: 'Apple juice for jelly',
    method: 'juiced',
    inputs: [of('apple', { firm: 0.9, ripe: 1, soft: 0.7, damaged: 0.9 }, pomace(0.45))],
    steps: [
      steps.wash(1),
      steps.cut(1.5, 'Cut up without peeling or coring.'),
      steps.cookAndRest(
        'Simmer 20 to 25 minutes in a cup of water for each pound, then let it drip through a jelly bag overnight.',
        0,
        15,
        720,
      ),
      step('fill', 'fill', 'Fill clean bottles and keep them cold.', { perUnit: 2 }),
    ],
    packs: [
      bag('litre', 'litre', 'litres', {
        gramsPerUnit: 1900,
        worthMinor: 0,
        runs: [pot(4, 50)],
        makes: { material: 'apple-juice', name: 'apple juice', gramsPerUnit: 1045, readyAfterDays: 1, keepsDays: 2 },
      }),
    ],
    cautions: [boilingPot],
    source:
      'USDA Complete Guide to Home Canning 2015, Guide 7 p. 7-5: at least 1 cup of juice for each pound; it drips overnight',
  }),
  starter({
    name: 'Apple jelly',
    method: 'water-bath-canned',
    inputs: [material('apple-juice')],
    // 3/4 cup of sugar and 1 1/2 teaspoons of lemon juice for each cup of juice, 248 g
    ingredients: [sugar(637), lemonJuice(30)],
    process: follows('jelly, no added pectin', 'jelly', 'hot'),
    steps: [
      steps.sterilise(),
      steps.cook('Boil juice, sugar and lemon juice fast to the jelly point; skim.', 0, 30),
      ...steps.intoTheCanner(1.5, 'Fill the hot jars at once.'),
    ],
    packs: [jar('half-pint', 220, 340, [pot(5, 35), cannerLoad('half-pint')])],
    cautions: [boilingSugar],
    source: 'USDA Complete Guide to Home Canning 2015, Guide 7 p. 7-5: 4 cups of juice make 4 to 5 half-pints',
  }),
  starter({
    name: 'Bottled apple juice',
    method: 'juiced',
    inputs: [of('apple', { firm: 0.8, ripe: 1, soft: 0.6, damaged: 0.9 }, pomace(0.4))],
    steps: [
      ...pressed,
      steps.cook('Strain and bring the juice to a boil.', 0.3),
      steps.fillJars(2, 'Fill hot jars with boiling juice.'),
      step(
        'canner',
        'stove',
        'Keep the jars in simmering water for ten minutes, cool and put them in the cold.',
        { perRun: 8 },
        ['canner', 'burner'],
      ),
      step('label', 'pack', 'Wipe, label with the date and keep cold.', { perUnit: 0.5 }),
    ],
    packs: [
      {
        ...jar('quart', 1980, 420, [
          { ...cannerLoad('quart'), machineMinutes: { canner: 45, burner: 45 }, process: false },
        ]),
        machineMinutesPerUnit: { press: 5 },
      },
    ],
    cautions: [
      boilingPot,
      notForShelf,
      'For the shelf take “Apple juice for the shelf”, which follows a tested process.',
    ],
    source: 'University of Georgia Extension, weights and yields for fruits: 10 to 12 quarts from a 48 lb bushel',
  }),
  starter({
    name: 'Apple juice for the shelf',
    method: 'water-bath-canned',
    inputs: [of('apple', { firm: 0.8, ripe: 1, soft: 0.6, damaged: 0.9 }, pomace(0.4))],
    process: follows('apple juice', 'juice', 'hot'),
    steps: [
      ...pressed,
      steps.sterilise(),
      steps.cook('Strain and bring the juice quickly to a boil, stirring.', 0.3),
      ...steps.intoTheCanner(2, 'Fill hot jars with boiling juice.'),
    ],
    packs: [{ ...jar('quart', 1980, 420, [cannerLoad('quart')]), machineMinutesPerUnit: { press: 5 } }],
    source:
      'University of Georgia Extension, weights and yields for fruits: 10 to 12 quarts from a 48 lb bushel; process USDA Complete Guide to Home Canning 2015, Guide 2 p. 2-6',
  }),
  starter({
    name: 'Frozen apple slices',
    method: 'frozen',
    inputs: [of('apple', { firm: 1, ripe: 0.8 }, cored)],
    ingredients: [ascorbicAcid],
    steps: [
      steps.wash(1),
      steps.cut(6, 'Peel, core and slice into water with ascorbic acid; drain.'),
      steps.freeze('Freeze on trays, then bag, press out the air and label with the date.'),
    ],
    packs: [freezerBag(1000, 1316, 380, 1900)],
    source: 'Edible portion of pared and cored apples 76 %: 1 kg of slices from 1.316 kg',
  }),
  starter({
    name: 'Frozen apple puree',
    method: 'frozen',
    inputs: [of('apple', { ripe: 1, soft: 1, damaged: 0.8 }, cored)],
    steps: [
      steps.wash(1),
      steps.cut(3, 'Quarter and core; trim away every bruise.'),
      steps.cookAndRest('Cook soft in a little water, press through a mill and cool quickly.', 2, 0, 60),
      steps.freeze('Fill bags flat with half an inch to spare, label and freeze in a single layer.'),
    ],
    packs: [freezerBag(1000, 1400, 330, 1100)],
    cautions: [boilingPot],
    source:
      'Michigan State University Extension, Apple facts: 30 to 36 pints of frozen sauce from a 48 lb bushel, about 1.4 kg for 1 kg',
  }),
]
