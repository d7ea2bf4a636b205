import type { Question } from '../../../src/core/division/index.ts'
import type { Recipe } from '../../../src/core/recipes/recipe.ts'

/** A small invented kitchen: one day, two helpers, damsons for jam. Tests change what they are about. */
export function smallQuestion(changes: Partial<Question> = {}): Question {
  return {
    askedOn: '2026-09-17',
    lots: [
      {
        id: 'damsons',
        name: 'damsons',
        crop: 'damson',
        storage: 'cool',
        arrivedOn: '2026-09-17',
        sortedOn: '2026-09-17',
        grams: { firm: 0, ripe: 10_000, soft: 0, damaged: 0 },
        setAsideGrams: 500,
        lostGrams: 250,
      },
    ],
    days: [{ id: 'friday', date: '2026-09-18', opensMinute: 480, closesMinute: 1_020 }],
    equipment: [
      { id: 'c', kind: 'canner', name: 'canner', count: 1, roomMl: null, aroundTheClock: false, outOn: [] },
      { id: 'b', kind: 'burner', name: 'burners', count: 4, roomMl: null, aroundTheClock: false, outOn: [] },
    ],
    helpers: [
      {
        id: 'mara',
        name: 'Mara',
        ageBand: 'adult',
        skills: ['wash', 'cut', 'stove', 'fill', 'pack'],
        hours: [{ dayId: 'friday', fromMinute: 420, toMinute: 960 }],
      },
      {
        id: 'bea',
        name: 'Bea',
        ageBand: 'child',
        skills: ['wash', 'stove', 'pack'],
        hours: [{ dayId: 'friday', fromMinute: 600, toMinute: 660 }],
      },
    ],
    supplies: [
      {
        key: 'jar-half-pint',
        name: 'half-pint jars',
        unit: 'jar',
        onHand: 30,
        packSize: 12,
        packPriceMinor: 1_100,
        packsAtMost: 1,
      },
      { key: 'salt', name: 'salt', unit: 'g', onHand: 500, packSize: 500, packPriceMinor: 90, packsAtMost: 1 },
    ],
    outlets: [
      {
        id: 'pigs',
        kind: 'feed',
        name: 'pigs',
        capacityGrams: 4_000,
        worthPerKgMinor: 5,
        takesProduce: true,
        crops: ['damson'],
        classes: ['soft'],
        materials: ['peels-cores', 'apple-juice'],
      },
      {
        id: 'heap',
        kind: 'compost',
        name: 'heap',
        capacityGrams: null,
        worthPerKgMinor: 0,
        takesProduce: true,
        crops: [],
        classes: ['firm', 'ripe', 'soft', 'damaged'],
        materials: ['stones-stems'],
      },
    ],
    recipes: [damsonJam],
    wishes: [{ recipeId: 'jam', pack: 'half-pint', atLeast: 4, about: 12, atMost: 24, matters: 3 }],
    budgetMinor: 2_000,
    ...changes,
  }
}

export const damsonJam: Recipe = {
  id: 'jam',
  name: 'Damson jam',
  method: 'water-bath-canned',
  definition: {
    inputs: [
      {
        from: { crop: 'damson' },
        suits: { ripe: 1, soft: 0.7 },
        share: { min: 1, max: 1 },
        trim: [{ kind: 'stones-stems', share: 0.1, shareByClass: { damaged: 0.2 } }],
      },
    ],
    packs: [
      {
        key: 'half-pint',
        unit: 'half-pint',
        units: 'half-pints',
        jar: null,
        gramsPerUnit: 200,
        worthMinor: 300,
        runs: [
          {
            name: 'pot',
            unitsPerRun: 8,
            fillAtLeast: 0.5,
            machineMinutes: { burner: 45 },
            work: { stove: 35 },
            process: false,
          },
          {
            name: 'canner load',
            unitsPerRun: 12,
            fillAtLeast: 0.5,
            process: false,
            machineMinutes: { canner: 40, burner: 40 },
            work: { stove: 8 },
          },
        ],
        workPerUnit: { fill: 2 },
        machineMinutesPerUnit: {},
        supplies: { 'jar-half-pint': 1, lid: 1 },
        freezerMl: 0,
        makes: null,
      },
    ],
    workPerKg: { wash: 1, pack: 5 },
    ingredients: [],
    process: null,
    steps: [],
    cautions: [],
    source: 'invented for tests',
  },
}
